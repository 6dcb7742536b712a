using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Marks moved about, or made larger or smaller, so that one drawing can stand inside another.</summary>
public static class Marks
{
    /// <summary>Marks moved by a distance.</summary>
    /// <param name="marks">The marks.</param>
    /// <param name="x">Distance to the right, px.</param>
    /// <param name="y">Distance down, px.</param>
    public static IReadOnlyList<Mark> Moved(IReadOnlyList<Mark> marks, double x, double y)
    {
        ArgumentNullException.ThrowIfNull(marks);
        var by = new Point(x, y);
        IReadOnlyList<Point> All(IReadOnlyList<Point> points) => [.. points.Select(p => p + by)];
        return [.. marks.Select(mark => (Mark)(mark switch
        {
            LineMark line => line with { Points = All(line.Points) },
            StrokesMark strokes => strokes with { Lines = [.. strokes.Lines.Select(s => (s.From + by, s.To + by))] },
            AreaMark area => area with { Loops = [.. area.Loops.Select(All)] },
            CircleMark circle => circle with { Centre = circle.Centre + by },
            LitMark lit => lit with { Corner = lit.Corner + by, Light = lit.Light + by },
            GridMark grid => grid with { Corner = grid.Corner + by },
            TextMark text => text with { At = text.At + by },
            ClippedMarks clipped => clipped with { Corner = clipped.Corner + by, Marks = Moved(clipped.Marks, x, y) },
            _ => throw new ArgumentException($"A {mark.GetType().Name} cannot be moved.", nameof(marks)),
        }))];
    }

    /// <summary>Marks made larger or smaller from the upper left corner, type and pens with them.</summary>
    /// <param name="marks">The marks.</param>
    /// <param name="by">The factor.</param>
    public static IReadOnlyList<Mark> Scaled(IReadOnlyList<Mark> marks, double by)
    {
        ArgumentNullException.ThrowIfNull(marks);
        IReadOnlyList<Point> All(IReadOnlyList<Point> points) => [.. points.Select(p => by * p)];
        Pen Drawn(Pen pen) => pen with { Width = by * pen.Width, Dash = pen.Dash is { } dash ? [.. dash.Select(d => by * d)] : null };
        return [.. marks.Select(mark => (Mark)(mark switch
        {
            LineMark line => line with { Points = All(line.Points), Pen = Drawn(line.Pen) },
            StrokesMark strokes => strokes with { Lines = [.. strokes.Lines.Select(s => (by * s.From, by * s.To))], Pen = Drawn(strokes.Pen) },
            AreaMark area => area with { Loops = [.. area.Loops.Select(All)] },
            CircleMark circle => circle with { Centre = by * circle.Centre, Radius = by * circle.Radius, Pen = circle.Pen is { } pen ? Drawn(pen) : null },
            LitMark lit => lit with { Corner = by * lit.Corner, Width = by * lit.Width, Height = by * lit.Height, Light = by * lit.Light, Reach = by * lit.Reach },
            GridMark grid => grid with { Corner = by * grid.Corner, Width = by * grid.Width, Height = by * grid.Height },
            TextMark text => text with { At = by * text.At, Size = by * text.Size, Width = by * text.Width },
            ClippedMarks clipped => clipped with { Corner = by * clipped.Corner, Width = by * clipped.Width, Height = by * clipped.Height, Marks = Scaled(clipped.Marks, by) },
            _ => throw new ArgumentException($"A {mark.GetType().Name} cannot be scaled.", nameof(marks)),
        }))];
    }
}
