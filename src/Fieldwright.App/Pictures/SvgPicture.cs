using System.Globalization;
using System.Security;
using System.Text;
using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;

namespace Fieldwright.App.Pictures;

/// <summary>A scene as SVG 1.1: lines stay lines, text stays text, and widths of text are pinned so that another face does not spoil the layout.</summary>
internal sealed class SvgPicture
{
    private readonly StringBuilder svg = new();
    private int names;

    private readonly string prefix;

    private SvgPicture(string prefix = "") => this.prefix = prefix;

    /// <summary>The scene as the text of an SVG file.</summary>
    public static string Of(Scene scene)
    {
        var picture = new SvgPicture();
        picture.Write(scene, 0, 0, scene.Width, scene.Height);
        return picture.svg.ToString();
    }

    /// <summary>The scene as an element of a page that may hold others.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="prefix">What its inner names start with, another for each on the page.</param>
    public static string WithinPage(Scene scene, string prefix)
    {
        var picture = new SvgPicture(prefix);
        picture.Write(scene, 0, 0, scene.Width, scene.Height);
        return picture.svg.ToString();
    }

    /// <summary>The stage of a scene alone, without labels and caption; the whole of a scene that has no stage of its own.</summary>
    public static string OfStage(Scene scene)
    {
        var picture = new SvgPicture();
        if (scene.Marks.OfType<ClippedMarks>().FirstOrDefault() is not { } stage)
            return Of(scene);
        picture.Write(scene, stage.Corner.X, stage.Corner.Y, stage.Width, stage.Height);
        return picture.svg.ToString();
    }

    private void Write(Scene scene, double left, double top, double width, double height)
    {
        svg.Append(CultureInfo.InvariantCulture, $"""
            <svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{N(width)}" height="{N(height)}" viewBox="{N(left)} {N(top)} {N(width)} {N(height)}" role="img" font-family="Lato, 'Source Sans 3', 'Helvetica Neue', Arial, sans-serif" stroke-linejoin="round" stroke-linecap="round">
            <title>{Escaped(scene.Title)}</title>
            <desc>{Escaped(scene.About)}</desc>

            """);
        foreach (var mark in scene.Marks)
            Write(mark);
        svg.Append("</svg>\n");
    }

    private void Write(Mark mark)
    {
        switch (mark)
        {
            case LineMark line:
                svg.Append(CultureInfo.InvariantCulture, $"<path d=\"{Path(line.Points, line.IsClosed)}\" fill=\"none\"{Stroke(line.Pen)}/>\n");
                break;
            case StrokesMark { Lines.Count: > 0 } strokes:
                svg.Append("<path d=\"");
                foreach (var (from, to) in strokes.Lines)
                    svg.Append(CultureInfo.InvariantCulture, $"M{P(from)}L{P(to)}");
                svg.Append(CultureInfo.InvariantCulture, $"\" fill=\"none\"{Stroke(strokes.Pen)}/>\n");
                break;
            case AreaMark area:
                svg.Append(CultureInfo.InvariantCulture, $"<path d=\"{string.Concat(area.Loops.Select(l => Path(l, true)))}\" fill-rule=\"evenodd\"{Fill(area.Fill)}/>\n");
                break;
            case CircleMark circle:
                svg.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{N(circle.Centre.X)}\" cy=\"{N(circle.Centre.Y)}\" r=\"{N(circle.Radius)}\"{(circle.Fill is { } fill ? Fill(fill) : " fill=\"none\"")}{(circle.Pen is { } pen ? Stroke(pen) : "")}/>\n");
                break;
            case LitMark lit:
                string light = Name();
                svg.Append(CultureInfo.InvariantCulture, $"<radialGradient id=\"{light}\" gradientUnits=\"userSpaceOnUse\" cx=\"{N(lit.Light.X)}\" cy=\"{N(lit.Light.Y)}\" r=\"{N(lit.Reach)}\"><stop offset=\"0\"{Stop(lit.Inner)}/><stop offset=\"1\"{Stop(lit.Outer)}/></radialGradient>\n");
                svg.Append(CultureInfo.InvariantCulture, $"<rect{Box(lit.Corner, lit.Width, lit.Height)} fill=\"url(#{light})\"/>\n");
                break;
            case GridMark grid:
                svg.Append(CultureInfo.InvariantCulture, $"<image{Box(grid.Corner, grid.Width, grid.Height)} preserveAspectRatio=\"none\" xlink:href=\"data:image/png;base64,{Convert.ToBase64String(PngFile.Of(grid.Columns, grid.Rows, grid.Pixels))}\"/>\n");
                break;
            case TextMark text:
                Write(text);
                break;
            case ClippedMarks clipped:
                string clip = Name();
                svg.Append(CultureInfo.InvariantCulture, $"<clipPath id=\"{clip}\"><rect{Box(clipped.Corner, clipped.Width, clipped.Height)}/></clipPath>\n<g clip-path=\"url(#{clip})\">\n");
                foreach (var inner in clipped.Marks)
                    Write(inner);
                svg.Append("</g>\n");
                break;
        }
    }

    private void Write(TextMark text)
    {
        string anchor = text.Anchor switch
        {
            Anchor.Middle => " text-anchor=\"middle\"",
            Anchor.End => " text-anchor=\"end\"",
            _ => "",
        };
        string face = text.Face switch
        {
            Face.Bold => " font-weight=\"700\"",
            Face.Italic => " font-style=\"italic\"",
            _ => "",
        };
        string halo = text.Halo is { } rim ? Stroke(new Pen(rim, 3)) + " paint-order=\"stroke\"" : "";
        svg.Append(CultureInfo.InvariantCulture, $"<text x=\"{N(text.At.X)}\" y=\"{N(text.At.Y)}\" font-size=\"{N(text.Size)}\"{face}{anchor} textLength=\"{N(text.Width)}\" lengthAdjust=\"spacingAndGlyphs\"{Fill(text.Ink)}{halo}>{Escaped(text.Text)}</text>\n");
    }

    private string Name() => string.Create(CultureInfo.InvariantCulture, $"{prefix}d{++names}");

    private static string Path(IReadOnlyList<Point> points, bool closed)
    {
        var path = new StringBuilder();
        for (int i = 0; i < points.Count; i++)
            path.Append(i == 0 ? 'M' : i == 1 ? 'L' : ' ').Append(P(points[i]));
        return path.Append(closed ? "Z" : "").ToString();
    }

    private static string Stroke(Pen pen) => string.Create(
        CultureInfo.InvariantCulture,
        $" stroke=\"{Rgb(pen.Ink)}\" stroke-width=\"{N(pen.Width)}\"{(pen.Ink.Opacity < 1 ? $" stroke-opacity=\"{N(pen.Ink.Opacity)}\"" : "")}{(pen.Dash is { } dash ? $" stroke-dasharray=\"{string.Join(' ', dash.Select(N))}\" stroke-linecap=\"butt\"" : "")}");

    private static string Fill(Ink ink) => $" fill=\"{Rgb(ink)}\"" + (ink.Opacity < 1 ? $" fill-opacity=\"{N(ink.Opacity)}\"" : "");

    private static string Stop(Ink ink) => $" stop-color=\"{Rgb(ink)}\"" + (ink.Opacity < 1 ? $" stop-opacity=\"{N(ink.Opacity)}\"" : "");

    private static string Box(Point corner, double width, double height) => $" x=\"{N(corner.X)}\" y=\"{N(corner.Y)}\" width=\"{N(width)}\" height=\"{N(height)}\"";

    private static string Rgb(Ink ink) => $"#{ink.Red:x2}{ink.Green:x2}{ink.Blue:x2}";

    private static string P(Point p) => N(p.X) + "," + N(p.Y);

    private static string N(double value) => Math.Round(value, 2).ToString("0.##", CultureInfo.InvariantCulture);

    private static string Escaped(string text) => SecurityElement.Escape(text);
}
