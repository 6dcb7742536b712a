using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>A line of flux: the flux function has one value all along it.</summary>
/// <param name="Level">That value, Wb.</param>
/// <param name="Points">Points along it, m.</param>
/// <param name="IsClosed">Whether it closes on itself within the view.</param>
internal sealed record FluxLine(double Level, IReadOnlyList<Point> Points, bool IsClosed);

/// <summary>Lines of flux with equal flux between neighbours, traced through the triangles of a <see cref="FieldPlane"/>.</summary>
internal static class FluxLines
{
    private const int MostLines = 400;

    /// <summary>A round figure near a given flux between neighbours: 1, 1.5, 2, 3, 5 or 7 times a power of ten.</summary>
    public static double RoundStep(double about)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(about)));
        double[] steps = [1, 1.5, 2, 3, 5, 7, 10];
        return power * steps.MinBy(s => Math.Abs(Math.Log(about / power / s)));
    }

    /// <summary>All lines at (k + offset)·step.</summary>
    /// <param name="plane">The field.</param>
    /// <param name="step">Flux between neighbours, Wb; positive.</param>
    /// <param name="offset">0 to draw the line of no flux too, ½ to straddle it.</param>
    /// <param name="skipsZero">Whether the line of no flux is left out.</param>
    public static IReadOnlyList<FluxLine> Of(FieldPlane plane, double step, double offset, bool skipsZero)
    {
        var crossings = new SortedDictionary<int, Dictionary<(int, int), ((int, int) First, (int, int)? Second)>>();
        for (int t = 0; t < plane.Regions.Count; t++)
        {
            int a = plane.Triangles[3 * t], b = plane.Triangles[3 * t + 1], c = plane.Triangles[3 * t + 2];
            double low = Math.Min(plane.Flux[a], Math.Min(plane.Flux[b], plane.Flux[c])), high = Math.Max(plane.Flux[a], Math.Max(plane.Flux[b], plane.Flux[c]));
            int from = (int)Math.Ceiling(low / step - offset), to = (int)Math.Floor(high / step - offset);
            for (int k = from; k <= to && k - from < MostLines; k++)
                if (!(skipsZero && k == 0 && offset == 0))
                    Cross(plane, a, b, c, (k + offset) * step, Chains(crossings, k));
        }

        return [.. crossings.SelectMany(level => Join(plane, (level.Key + offset) * step, level.Value))];
    }

    private static Dictionary<(int, int), ((int, int), (int, int)?)> Chains(SortedDictionary<int, Dictionary<(int, int), ((int, int), (int, int)?)>> crossings, int k)
    {
        if (!crossings.TryGetValue(k, out var chains))
            crossings[k] = chains = [];
        return chains;
    }

    // A corner at the level itself counts as above, so that exactly two sides of a triangle are crossed, or none.
    private static void Cross(FieldPlane plane, int a, int b, int c, double level, Dictionary<(int, int), ((int, int), (int, int)?)> chains)
    {
        bool up = plane.Flux[a] >= level, upB = plane.Flux[b] >= level, upC = plane.Flux[c] >= level;
        if (up == upB && upB == upC)
            return;
        var (first, second) = up == upB ? (Side(b, c), Side(c, a)) : upB == upC ? (Side(a, b), Side(c, a)) : (Side(a, b), Side(b, c));
        Link(chains, first, second);
        Link(chains, second, first);
    }

    private static (int, int) Side(int a, int b) => a < b ? (a, b) : (b, a);

    private static void Link(Dictionary<(int, int), ((int, int) First, (int, int)? Second)> chains, (int, int) side, (int, int) next) =>
        chains[side] = chains.TryGetValue(side, out var known) ? (known.First, next) : (next, null);

    private static IEnumerable<FluxLine> Join(FieldPlane plane, double level, Dictionary<(int, int), ((int, int) First, (int, int)? Second)> chains)
    {
        var used = new HashSet<(int, int)>();
        // Open lines first, from their ends; what is left is closed.
        foreach (var side in chains.Where(c => c.Value.Second is null).Select(c => c.Key).Concat(chains.Keys))
        {
            if (!used.Add(side))
                continue;
            var points = new List<Point> { On(plane, side, level) };
            var at = side;
            while (Next(chains[at], used) is { } next)
            {
                used.Add(next);
                points.Add(On(plane, next, level));
                at = next;
            }

            if (points.Count > 1)
                yield return new FluxLine(level, points, chains[side].Second is not null && points.Count > 2);
        }
    }

    private static (int, int)? Next(((int, int) First, (int, int)? Second) links, HashSet<(int, int)> used) =>
        !used.Contains(links.First) ? links.First : links.Second is { } second && !used.Contains(second) ? second : null;

    private static Point On(FieldPlane plane, (int A, int B) side, double level)
    {
        double a = plane.Flux[side.A], b = plane.Flux[side.B];
        return plane.Points[side.A] + (level - a) / (b - a) * (plane.Points[side.B] - plane.Points[side.A]);
    }
}
