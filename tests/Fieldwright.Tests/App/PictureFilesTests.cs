using System.Xml.Linq;
using Fieldwright.App;
using Fieldwright.App.Pictures;
using Fieldwright.Bench.Pictures;
using SkiaSharp;
using Xunit;

namespace Fieldwright.Tests.App;

public class PictureFilesTests
{
    [Fact]
    public void Svg_OfAnApparatus_IsWellFormedAndKeepsTextAsText()
    {
        using var folder = new Folder();
        string file = folder.File("plate.yaml", Small.Plate), output = Path.Combine(folder.Path, "plate.svg");
        Assert.Equal(ExitCode.Good, Spoken.Call("picture", file, "-o", output).Code);
        var svg = XDocument.Load(output);
        XNamespace ns = "http://www.w3.org/2000/svg";
        var texts = svg.Descendants(ns + "text").Select(t => t.Value).ToList();
        Assert.Contains("Plate & coil", texts);
        Assert.Contains("plate", texts);
        Assert.Contains(texts, t => t.StartsWith("lift ", StringComparison.Ordinal));
        Assert.Contains("Between neighbouring lines", svg.Root!.Element(ns + "desc")!.Value);
        Assert.True(svg.Descendants(ns + "path").Count() > 20);
        Assert.Equal(2, Directory.GetFiles(folder.Path).Length);
    }

    /// <summary>A board has no stage within its drawing, so a card of it shows the whole.</summary>
    [Fact]
    public void Svg_OfTheStageOfABoard_IsItsWholeDrawing()
    {
        var board = Fieldwright.Tests.Bench.File.Bench.Example("heat-board");
        var scene = ApparatusPicture.Of(board, new PictureOptions(), TypeFace.Width, TestContext.Current.CancellationToken);
        Assert.Equal(SvgPicture.Of(scene), SvgPicture.OfStage(scene));
    }

    [Fact]
    public void Png_OfAnApparatus_IsThePictureAndTheSameEachTime()
    {
        using var folder = new Folder();
        string file = folder.File("plate.yaml", Small.Plate), first = Path.Combine(folder.Path, "a.png"), second = Path.Combine(folder.Path, "b.png");
        Assert.Equal(ExitCode.Good, Spoken.Call("picture", file, "-o", first, "--light").Code);
        Assert.Equal(ExitCode.Good, Spoken.Call("picture", file, "-o", second, "--light").Code);
        Assert.Equal(File.ReadAllBytes(first), File.ReadAllBytes(second));
        using var image = SKBitmap.Decode(first);
        Assert.InRange(image.Width, 1800, 2600);
        Assert.Equal(new SKColor(255, 255, 255), image.GetPixel(2, 2));
        var colours = new HashSet<SKColor>();
        for (int y = 0; y < image.Height; y += 7)
            for (int x = 0; x < image.Width; x += 7)
                colours.Add(image.GetPixel(x, y));
        Assert.True(colours.Count > 200);
    }

    [Fact]
    public void Pdf_OfAScene_CarriesItsTypeAndTitle()
    {
        using var stream = new MemoryStream();
        SkiaPicture.WritePdf([Drawn()], stream);
        string pdf = System.Text.Encoding.Latin1.GetString(stream.ToArray());
        Assert.StartsWith("%PDF-", pdf);
        Assert.Contains("Lato", pdf);
        Assert.Contains("/Title (Plate & coil)", pdf);
        Assert.True(pdf.Length > 20_000);
    }

    [Theory]
    [InlineData("The floating disc", 19, Face.Bold)]
    [InlineData("Between neighbouring lines flow 150 µWb − 3.2 Ω ± 0.1 °C, 2·10⁻³ × 4", 12.5, Face.Regular)]
    [InlineData("in italics", 13, Face.Italic)]
    public void Width_OfText_IsThatOfTheDrawingLibrary(string text, double size, Face face)
    {
        using var typeface = SKTypeface.FromStream(new MemoryStream(TypeFace.Of(face).File));
        using var font = new SKFont(typeface, (float)size) { Subpixel = true, Hinting = SKFontHinting.None };
        Assert.Equal(font.MeasureText(text), TypeFace.Width(text, size, face), 0.02 * size);
        Assert.True(font.ContainsGlyphs(text));
    }

    [Fact]
    public void PngFile_Decoded_GivesThePixelsBack()
    {
        const int Columns = 13, Rows = 7;
        byte[] pixels = new byte[4 * Columns * Rows];
        new Random(3).NextBytes(pixels);
        using var image = SKBitmap.Decode(PngFile.Of(Columns, Rows, pixels), new SKImageInfo(Columns, Rows, SKColorType.Rgba8888, SKAlphaType.Unpremul));
        Assert.Equal(pixels, image.Bytes);
    }

    [Fact]
    public void Picture_OfAFreeApparatus_IsAViewIntoSpace()
    {
        using var folder = new Folder();
        string file = folder.File("free.yaml", Small.Plate.Replace("symmetry: round", "symmetry: free").Replace("shape: disc, radius: 30 mm, thickness: 3 mm, at: {z: 14 mm}", "shape: ball, radius: 10 mm, at: {x: 0 mm, y: 0 mm, z: 14 mm}"));
        string output = Path.Combine(folder.Path, "free.svg");
        Assert.Equal(ExitCode.Good, Spoken.Call("picture", file, "-o", output).Code);
        Assert.True(XDocument.Load(output).Descendants(XName.Get("path", "http://www.w3.org/2000/svg")).Count() > 200);
    }

    [Fact]
    public void State_Unknown_NamesTheStatesThereAre()
    {
        var said = Spoken.Call("picture", Path.Combine(Repository.Root, "examples/ring-and-lamp.yaml"), "-o", "x.svg", "--state", "ring with gap");
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.Contains("closed ring, ring with a gap, no iron", said.Error);
        Assert.Contains("nearest: ring with a gap", said.Error);
    }

    private static Scene Drawn() => Bench.Pictures.Drawn.Plate.Scene();
}
