using System.Text;
using Fieldwright.Bench.Pictures;

namespace Fieldwright.App.Pictures;

/// <summary>Scenes written as files, the ending of the name telling what they are.</summary>
internal static class PictureFile
{
    /// <summary>The endings that can be written.</summary>
    public static readonly string[] Kinds = [".svg", ".png", ".pdf"];

    /// <summary>Writes a scene, whole or not at all.</summary>
    /// <param name="path">Where to; ends in one of <see cref="Kinds"/>.</param>
    /// <param name="scene">The scene.</param>
    public static void Write(string path, Scene scene) => WholeFile.Write(path, stream =>
    {
        switch (Path.GetExtension(path).ToLowerInvariant())
        {
            case ".svg":
                stream.Write(Encoding.UTF8.GetBytes(SvgPicture.Of(scene)));
                break;
            case ".png":
                SkiaPicture.WritePng(scene, stream);
                break;
            default:
                SkiaPicture.WritePdf([scene], stream);
                break;
        }
    });
}
