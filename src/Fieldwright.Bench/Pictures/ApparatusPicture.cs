using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Pictures;

/// <summary>The picture of an apparatus, whatever its layout: a section, a view into space, a box of discs, or a board of elements.</summary>
public static class ApparatusPicture
{
    /// <summary>Finds what there is to see and draws it.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="options">What is wanted.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The field could not be found.</exception>
    public static Scene Of(Apparatus apparatus, PictureOptions options, TextWidth textWidth, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return apparatus.Layout switch
        {
            Layout.Flat => BoxPicture.Of(apparatus, options, textWidth, cancellation),
            Layout.Board => BoardPicture.Of(apparatus, options, textWidth),
            Layout.Free => SpacePicture.Of(apparatus, options, textWidth, cancellation),
            _ => SectionPicture.Of(apparatus, options, textWidth, cancellation),
        };
    }
}
