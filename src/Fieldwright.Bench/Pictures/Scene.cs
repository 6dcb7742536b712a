using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>A picture as marks on a sheet, ready for any writer. Lengths are px (1/96 inch), x to the right, y down. Immutable.</summary>
/// <param name="Width">Width of the sheet.</param>
/// <param name="Height">Height of the sheet.</param>
/// <param name="Title">What the picture shows, for readers who do not see it.</param>
/// <param name="About">The same at more length.</param>
/// <param name="Marks">The marks, the undermost first.</param>
public sealed record Scene(double Width, double Height, string Title, string About, IReadOnlyList<Mark> Marks);

/// <summary>A colour with its opacity.</summary>
/// <param name="Red">Red of sRGB, 0 to 255.</param>
/// <param name="Green">Green of sRGB, 0 to 255.</param>
/// <param name="Blue">Blue of sRGB, 0 to 255.</param>
/// <param name="Opacity">0 (nothing) to 1 (solid).</param>
public readonly record struct Ink(byte Red, byte Green, byte Blue, double Opacity = 1)
{
    /// <summary>The same colour at another opacity.</summary>
    /// <param name="opacity">0 to 1.</param>
    public Ink At(double opacity) => this with { Opacity = opacity };
}

/// <summary>How a line is drawn: round joins and caps.</summary>
/// <param name="Ink">Its colour.</param>
/// <param name="Width">Its width.</param>
/// <param name="Dash">Length of dashes and gaps in turn; null for a continuous line.</param>
public sealed record Pen(Ink Ink, double Width, IReadOnlyList<double>? Dash = null);

/// <summary>Something drawn.</summary>
public abstract record Mark;

/// <summary>A line through points.</summary>
/// <param name="Points">The points.</param>
/// <param name="Pen">How it is drawn.</param>
/// <param name="IsClosed">Whether the last point joins the first.</param>
public sealed record LineMark(IReadOnlyList<Point> Points, Pen Pen, bool IsClosed = false) : Mark;

/// <summary>Many separate straight lines in one pen.</summary>
/// <param name="Lines">Their ends.</param>
/// <param name="Pen">How they are drawn.</param>
public sealed record StrokesMark(IReadOnlyList<(Point From, Point To)> Lines, Pen Pen) : Mark;

/// <summary>An area bounded by loops; where loops lie inside one another every second one is a hole.</summary>
/// <param name="Loops">The loops.</param>
/// <param name="Fill">What it is filled with.</param>
public sealed record AreaMark(IReadOnlyList<IReadOnlyList<Point>> Loops, Ink Fill) : Mark;

/// <summary>A circle.</summary>
/// <param name="Centre">Its centre.</param>
/// <param name="Radius">Its radius.</param>
/// <param name="Fill">What it is filled with; null for nothing.</param>
/// <param name="Pen">How its edge is drawn; null for not at all.</param>
public sealed record CircleMark(Point Centre, double Radius, Ink? Fill, Pen? Pen) : Mark;

/// <summary>A rectangle lit from a point: one colour there, another at a distance and beyond.</summary>
/// <param name="Corner">Upper left corner.</param>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
/// <param name="Light">Where it is lit.</param>
/// <param name="Reach">Distance at which the outer colour is reached.</param>
/// <param name="Inner">Colour at the light.</param>
/// <param name="Outer">Colour at and beyond the reach.</param>
public sealed record LitMark(Point Corner, double Width, double Height, Point Light, double Reach, Ink Inner, Ink Outer) : Mark;

/// <summary>A grid of colours stretched over a rectangle, smoothly.</summary>
/// <param name="Corner">Upper left corner.</param>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
/// <param name="Columns">Columns of the grid.</param>
/// <param name="Rows">Rows of the grid.</param>
/// <param name="Pixels">4·Columns·Rows bytes, red green blue opacity (not premultiplied), row by row from the top.</param>
public sealed record GridMark(Point Corner, double Width, double Height, int Columns, int Rows, byte[] Pixels) : Mark;

/// <summary>A face of the type the picture is set in.</summary>
public enum Face
{
    /// <summary>Upright.</summary>
    Regular,

    /// <summary>Slanted.</summary>
    Italic,

    /// <summary>Heavy.</summary>
    Bold,
}

/// <summary>Which point of a line of text is given.</summary>
public enum Anchor
{
    /// <summary>Its start.</summary>
    Start,

    /// <summary>Its middle.</summary>
    Middle,

    /// <summary>Its end.</summary>
    End,
}

/// <summary>A line of text.</summary>
/// <param name="Text">The text.</param>
/// <param name="At">The anchored point on the base line.</param>
/// <param name="Size">Size of the type.</param>
/// <param name="Face">Face of the type.</param>
/// <param name="Ink">Its colour.</param>
/// <param name="Anchor">Which point is given.</param>
/// <param name="Width">Width of the line as it was laid out.</param>
/// <param name="Halo">A rim that keeps it readable over lines; null for none.</param>
public sealed record TextMark(string Text, Point At, double Size, Face Face, Ink Ink, Anchor Anchor, double Width, Ink? Halo = null) : Mark;

/// <summary>Marks that show inside a rectangle only.</summary>
/// <param name="Corner">Upper left corner.</param>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
/// <param name="Marks">The marks.</param>
public sealed record ClippedMarks(Point Corner, double Width, double Height, IReadOnlyList<Mark> Marks) : Mark;

/// <summary>Width of a line of text in the type the picture is set in.</summary>
/// <param name="text">The text.</param>
/// <param name="size">Size of the type.</param>
/// <param name="face">Face of the type.</param>
public delegate double TextWidth(string text, double size, Face face);
