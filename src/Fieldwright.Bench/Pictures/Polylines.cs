using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Small geometry on polylines and loops of points.</summary>
internal static class Polylines
{
    /// <summary>Drops points that lie within a distance of the line through the rest.</summary>
    /// <param name="points">The points.</param>
    /// <param name="tolerance">The distance.</param>
    /// <source key="DouglasPeucker1973" />
    public static List<Point> Thinned(IReadOnlyList<Point> points, double tolerance)
    {
        if (points.Count < 3)
            return [.. points];
        bool[] keep = new bool[points.Count];
        keep[0] = keep[^1] = true;
        var spans = new Stack<(int From, int To)>();
        spans.Push((0, points.Count - 1));
        while (spans.TryPop(out var span))
        {
            int worst = -1;
            double most = tolerance;
            for (int i = span.From + 1; i < span.To; i++)
            {
                double distance = FromLine(points[i], points[span.From], points[span.To]);
                if (distance > most)
                    (most, worst) = (distance, i);
            }

            if (worst < 0)
                continue;
            keep[worst] = true;
            spans.Push((span.From, worst));
            spans.Push((worst, span.To));
        }

        return [.. points.Where((_, i) => keep[i])];
    }

    /// <summary>Distance of a point from the stretch between two others.</summary>
    public static double FromLine(Point point, Point from, Point to)
    {
        var along = to - from;
        double square = along.X * along.X + along.Y * along.Y;
        double t = square == 0 ? 0 : Math.Clamp(((point.X - from.X) * along.X + (point.Y - from.Y) * along.Y) / square, 0, 1);
        return point.DistanceTo(from + t * along);
    }

    /// <summary>Whether a point lies inside loops, every second one being a hole.</summary>
    public static bool Contains(IReadOnlyList<IReadOnlyList<Point>> loops, Point point)
    {
        bool inside = false;
        foreach (var loop in loops)
            for (int i = 0, j = loop.Count - 1; i < loop.Count; j = i++)
                if (loop[i].Y > point.Y != loop[j].Y > point.Y
                    && point.X < loop[i].X + (point.Y - loop[i].Y) / (loop[j].Y - loop[i].Y) * (loop[j].X - loop[i].X))
                    inside = !inside;
        return inside;
    }

    /// <summary>Where a level line crosses loops, in ascending order.</summary>
    public static List<double> Crossings(IReadOnlyList<IReadOnlyList<Point>> loops, double y)
    {
        var found = new List<double>();
        foreach (var loop in loops)
            for (int i = 0, j = loop.Count - 1; i < loop.Count; j = i++)
                if (loop[i].Y > y != loop[j].Y > y)
                    found.Add(loop[i].X + (y - loop[i].Y) / (loop[j].Y - loop[i].Y) * (loop[j].X - loop[i].X));
        found.Sort();
        return found;
    }

    /// <summary>A point well inside loops: the middle of the widest stretch at half their height.</summary>
    public static Point Inside(IReadOnlyList<IReadOnlyList<Point>> loops)
    {
        double top = loops.Min(l => l.Min(p => p.Y)), bottom = loops.Max(l => l.Max(p => p.Y));
        // Off the exact middle, where a corner may lie.
        double y = top + 0.5003 * (bottom - top);
        var ends = Crossings(loops, y);
        int widest = Enumerable.Range(0, ends.Count / 2).MaxBy(i => ends[2 * i + 1] - ends[2 * i]);
        return new Point(0.5 * (ends[2 * widest] + ends[2 * widest + 1]), y);
    }

    /// <summary>Parallel lines that fill loops.</summary>
    /// <param name="loops">The loops.</param>
    /// <param name="degrees">Slope of the lines against the level, in the loops' own axes.</param>
    /// <param name="spacing">Distance between lines; they lie on one grid for all loops.</param>
    public static List<(Point From, Point To)> Hatching(IReadOnlyList<IReadOnlyList<Point>> loops, double degrees, double spacing)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        Point Turn(Point p) => new(cos * p.X + sin * p.Y, cos * p.Y - sin * p.X);
        Point Back(double x, double y) => new(cos * x - sin * y, sin * x + cos * y);
        var turned = loops.Select(l => (IReadOnlyList<Point>)[.. l.Select(Turn)]).ToList();
        var lines = new List<(Point, Point)>();
        if (turned.Count == 0)
            return lines;
        double low = turned.Min(l => l.Min(p => p.Y)), high = turned.Max(l => l.Max(p => p.Y));
        for (double k = Math.Ceiling(low / spacing); k * spacing < high; k++)
        {
            var ends = Crossings(turned, k * spacing);
            for (int i = 0; i + 1 < ends.Count; i += 2)
                lines.Add((Back(ends[i], k * spacing), Back(ends[i + 1], k * spacing)));
        }

        return lines;
    }
}
