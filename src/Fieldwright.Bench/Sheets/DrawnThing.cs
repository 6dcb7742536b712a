using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>A part or winding as loops in the plane of the drawing, m, with y up, and the sizes that matter of it.</summary>
/// <param name="Position">Its number in the tables.</param>
/// <param name="IsWinding">Whether it is a winding.</param>
/// <param name="Loops">Its loops; where they lie inside one another every second one is a hole.</param>
/// <param name="Across">Sizes along x: from, to, and whether it is a diameter.</param>
/// <param name="Along">Sizes along y: from, to.</param>
internal sealed record DrawnThing(
    int Position, bool IsWinding, IReadOnlyList<IReadOnlyList<Point>> Loops, IReadOnlyList<(double From, double To, bool IsDiameter)> Across, IReadOnlyList<(double From, double To)> Along)
{
    private const int ArcPieces = 48;

    /// <summary>Extent.</summary>
    public double Left { get; } = Loops.Min(l => l.Min(p => p.X));

    /// <summary>Extent.</summary>
    public double Right { get; } = Loops.Max(l => l.Max(p => p.X));

    /// <summary>Extent.</summary>
    public double Bottom { get; } = Loops.Min(l => l.Min(p => p.Y));

    /// <summary>Extent.</summary>
    public double Top { get; } = Loops.Max(l => l.Max(p => p.Y));

    /// <summary>Everything of an apparatus that can be drawn, parts first, in file order.</summary>
    public static List<DrawnThing> Of(Apparatus apparatus)
    {
        var things = new List<DrawnThing>();
        var sections = apparatus.Layout == Layout.Free ? null : Sections.Of(apparatus);
        for (int i = 0; i < apparatus.Parts.Count; i++)
        {
            var part = apparatus.Parts[i];
            var loops = sections is null ? SideView(part) : InSection(sections, sections.RegionsOf(part.Name), apparatus.Layout == Layout.Round, part.Shape);
            if (loops.Count > 0)
                things.Add(Sized(i, false, loops, part, apparatus.Layout));
        }

        for (int i = 0; i < apparatus.Windings.Count; i++)
        {
            var winding = apparatus.Windings[i];
            var loops = sections is null
                ? winding.Space is RoundSpace r ? Mirrored([Box(r.InnerRadius, r.FromZ, r.OuterRadius, r.ToZ)]) : []
                : InSection(sections, winding.Name, apparatus.Layout == Layout.Round);
            if (loops.Count > 0)
                things.Add(Sized(apparatus.Parts.Count + i, true, loops, winding.Space));
        }

        return things;
    }

    private static DrawnThing Sized(int position, bool isWinding, List<IReadOnlyList<Point>> loops, Part part, Layout layout)
    {
        double left = loops.Min(l => l.Min(p => p.X)), right = loops.Max(l => l.Max(p => p.X)), low = loops.Min(l => l.Min(p => p.Y)), high = loops.Max(l => l.Max(p => p.Y));
        // A cut lies where it may: the ring's own sizes count, not what is left of it.
        if (part.Shape is CoreShape ring)
            (left, right) = (part.Place.X - ring.OuterRadius, part.Place.X + ring.OuterRadius);
        double middle = 0.5 * (left + right);
        bool round = layout != Layout.Long || part.Shape is CoreShape;
        var across = new List<(double, double, bool)> { (left, right, round) };
        double hole = part.Shape switch { RingShape r => r.InnerRadius, CoreShape c => c.InnerRadius, _ => 0 };
        if (hole > 0)
            across.Add((middle - hole, middle + hole, true));
        // A circle needs no height beside its diameter.
        IReadOnlyList<(double, double)> along = part.Shape is BallShape or CoreShape ? [] : [(low, high)];
        return new DrawnThing(position, isWinding, loops, across, along);
    }

    private static DrawnThing Sized(int position, bool isWinding, List<IReadOnlyList<Point>> loops, WindingSpace space) => space switch
    {
        RoundSpace r => new(position, isWinding, loops, [(-r.OuterRadius, r.OuterRadius, true), (-r.InnerRadius, r.InnerRadius, true)], [(r.FromZ, r.ToZ)]),
        TwoSides t => new(position, isWinding, loops,
            [(t.Out.X - 0.5 * t.Out.Width, t.Out.X + 0.5 * t.Out.Width, false), (Math.Min(t.Out.X, t.Into.X), Math.Max(t.Out.X, t.Into.X), false)],
            [(t.Out.Y - 0.5 * t.Out.Height, t.Out.Y + 0.5 * t.Out.Height)]),
        _ => new(position, isWinding, loops, [], []),
    };

    private static List<IReadOnlyList<Point>> InSection(Sections sections, IReadOnlyList<int> regions, bool round, Shape shape)
    {
        var own = sections.Outlines.Where(o => regions.Contains(o.Region)).Select(Polygon).ToList();
        var loops = round ? Mirrored(own) : own;
        // What was cut out of a shape stands as a region of its own: drawn as its hole.
        if (shape is BallShape { Wall: { } wall } b)
            loops.Add(Circle(0, own[0].Min(p => p.Y) + b.Radius, b.Radius - wall));
        if (shape is CoreShape { Gap: 0 } c)
            loops.Add(Circle(0.5 * (own[0].Min(p => p.X) + own[0].Max(p => p.X)), 0.5 * (own[0].Min(p => p.Y) + own[0].Max(p => p.Y)), c.InnerRadius));
        return loops;
    }

    private static List<IReadOnlyList<Point>> InSection(Sections sections, string winding, bool round)
    {
        var own = sections.SectionsOf(winding).Select(s => Polygon(s.Outline)).ToList();
        return round ? Mirrored(own) : own;
    }

    private static List<IReadOnlyList<Point>> SideView(Part part)
    {
        double x = part.Place.X, z = part.Place.Z;
        return part.Shape switch
        {
            DiscShape d => [Box(x - d.Radius, z, x + d.Radius, z + d.Thickness)],
            RingShape r => [Box(x - r.OuterRadius, z, x - r.InnerRadius, z + r.Height), Box(x + r.InnerRadius, z, x + r.OuterRadius, z + r.Height)],
            BallShape { Wall: { } wall } b => [Circle(x, z + b.Radius, b.Radius), Circle(x, z + b.Radius, b.Radius - wall)],
            BallShape b => [Circle(x, z + b.Radius, b.Radius)],
            _ => [],
        };
    }

    // The other half of a round section; what touches the axis becomes one loop.
    private static List<IReadOnlyList<Point>> Mirrored(IReadOnlyList<IReadOnlyList<Point>> loops)
    {
        var both = new List<IReadOnlyList<Point>>();
        foreach (var loop in loops)
        {
            var other = loop.Reverse().Select(p => new Point(-p.X, p.Y)).ToList();
            double reach = 1e-9 + 1e-6 * loop.Max(p => p.X);
            int onAxis = Enumerable.Range(0, loop.Count).FirstOrDefault(i => loop[i].X <= reach && loop[(i + 1) % loop.Count].X > reach, -1);
            if (onAxis < 0)
                both.AddRange([loop, other]);
            else
            {
                var right = Enumerable.Range(0, loop.Count).Select(k => loop[(onAxis + k) % loop.Count]).Where(p => p.X > reach).ToList();
                both.Add([.. right, .. right.AsEnumerable().Reverse().Select(p => new Point(-p.X, p.Y))]);
            }
        }

        return both;
    }

    private static IReadOnlyList<Point> Polygon(Outline outline) =>
        [.. outline.Edges.SelectMany(e => e is LineEdge ? [e.PointAt(0)] : Enumerable.Range(0, ArcPieces).Select(k => e.PointAt((double)k / ArcPieces)))];

    private static IReadOnlyList<Point> Box(double left, double low, double right, double high) => [new(left, low), new(right, low), new(right, high), new(left, high)];

    private static IReadOnlyList<Point> Circle(double x, double y, double radius) =>
        [.. Enumerable.Range(0, 2 * ArcPieces).Select(k => new Point(x + radius * Math.Cos(Math.PI * k / ArcPieces), y + radius * Math.Sin(Math.PI * k / ArcPieces)))];
}
