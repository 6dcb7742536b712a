using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>A part or a winding as it lies on the sheet.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Loops">Its outline, px, both halves when round; one entry a connected piece.</param>
/// <param name="Details">What is said of it under its name.</param>
/// <param name="IsWinding">Whether it is a winding.</param>
/// <param name="IsMagnetic">Whether it is steel or a magnet.</param>
/// <param name="MagnetisedDegrees">Direction of a magnet's remanence in its own half of the section, degrees from the x or r axis; null for no magnet.</param>
internal sealed record Body(string Name, IReadOnlyList<IReadOnlyList<Point>> Loops, IReadOnlyList<string> Details, bool IsWinding, bool IsMagnetic, double? MagnetisedDegrees = null)
{
    /// <summary>Left, upper, right and lower edge of a loop.</summary>
    public static (double Left, double Top, double Right, double Bottom) Box(IReadOnlyList<Point> loop) =>
        (loop.Min(p => p.X), loop.Min(p => p.Y), loop.Max(p => p.X), loop.Max(p => p.Y));

    /// <summary>The whole of it.</summary>
    public (double Left, double Top, double Right, double Bottom) Whole =>
        (Loops.Min(l => Box(l).Left), Loops.Min(l => Box(l).Top), Loops.Max(l => Box(l).Right), Loops.Max(l => Box(l).Bottom));

    /// <summary>Points just inside, at which a label may point: at the side towards it, at the top and at the bottom.</summary>
    /// <param name="left">Whether the label stands to the left.</param>
    public IEnumerable<Point> Feet(bool left)
    {
        var outermost = left ? Loops.MinBy(l => Box(l).Left)! : Loops.MaxBy(l => Box(l).Right)!;
        var (_, top, _, bottom) = Box(outermost);
        IReadOnlyList<IReadOnlyList<Point>> loops = [outermost];
        double depth = Math.Min(5, 0.5 * (bottom - top));
        foreach (double y in (double[])[0.5 * (top + bottom) + 1e-3, top + depth, bottom - depth])
        {
            var ends = Polylines.Crossings(loops, y);
            if (ends.Count >= 2)
                yield return new Point(left ? ends[0] + Math.Min(7, 0.5 * (ends[1] - ends[0])) : ends[^1] - Math.Min(7, 0.5 * (ends[^1] - ends[^2])), y);
        }
    }
}
