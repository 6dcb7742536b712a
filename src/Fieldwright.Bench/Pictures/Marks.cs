using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Marks moved about, so that one drawing can stand inside another.</summary>
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
}
