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
/// <param name="Labels">Words on it, and where.</param>
/// <param name="IsBroken">Whether its ends are broken off in the drawing.</param>
internal sealed record DrawnThing(
    int Position, bool IsWinding, IReadOnlyList<IReadOnlyList<Point>> Loops, IReadOnlyList<(double From, double To, bool IsDiameter)> Across, IReadOnlyList<(double From, double To)> Along,
    IReadOnlyList<(Point At, string Text)>? Labels = null, bool IsBroken = false)
{
    private const int ArcPieces = 48;

    /// <summary>Extent.</summary>
    public double Left { get; init; } = Loops.Min(l => l.Min(p => p.X));

    /// <summary>Extent.</summary>
    public double Right { get; init; } = Loops.Max(l => l.Max(p => p.X));

    /// <summary>Extent.</summary>
    public double Bottom { get; } = Loops.Min(l => l.Min(p => p.Y));

    /// <summary>Extent.</summary>
    public double Top { get; } = Loops.Max(l => l.Max(p => p.Y));

    /// <summary>Everything of a round or long apparatus that can be drawn, parts first, in file order.</summary>
    public static List<DrawnThing> Of(Apparatus apparatus)
    {
        var things = new List<DrawnThing>();
        var sections = Sections.Of(apparatus);
        for (int i = 0; i < apparatus.Parts.Count; i++)
        {
            var part = apparatus.Parts[i];
            var loops = part.Shape is CoreShape core ? Core(core, part.Place) : InSection(sections, sections.RegionsOf(part.Name), apparatus.Layout == Layout.Round, part.Shape);
            if (loops.Count > 0)
                things.Add(Sized(i, false, loops, part, apparatus.Layout));
        }

        for (int i = 0; i < apparatus.Windings.Count; i++)
        {
            var winding = apparatus.Windings[i];
            var loops = InSection(sections, winding.Name, apparatus.Layout == Layout.Round);
            if (loops.Count > 0)
                things.Add(Sized(apparatus.Parts.Count + i, true, loops, winding.Space) with { Labels = OfPhase(sections, winding) });
        }

        return apparatus.Layout == Layout.Long ? Broken(things) : things;
    }

    // Bars that run on far beyond the windings are broken off, so that the rest is not drawn too small.
    private static List<DrawnThing> Broken(List<DrawnThing> things)
    {
        var windings = things.Where(t => t.IsWinding).ToList();
        if (windings.Count == 0)
            return things;
        double left = windings.Min(t => t.Left), right = windings.Max(t => t.Right), aside = 0.12 * (right - left);
        (left, right) = (left - aside, right + aside);
        return [.. things.Select(t => t.IsWinding || t.Loops is not [{ Count: 4 }] || t.Right - t.Left < 2 * (right - left) ? t
            : t with { Loops = [Torn(left, right, t.Bottom, t.Top)], Across = [], IsBroken = true, Left = left, Right = right })];
    }

    // A bar with both ends torn.
    private static IReadOnlyList<Point> Torn(double left, double right, double low, double high)
    {
        double tear = 0.012 * (right - left);
        return [new(left, low), new(right, low), new(right + tear, low + 0.35 * (high - low)), new(right - tear, low + 0.65 * (high - low)), new(right, high), new(left, high), new(left + tear, low + 0.65 * (high - low)), new(left - tear, low + 0.35 * (high - low))];
    }

    internal static DrawnThing Sized(int position, bool isWinding, List<IReadOnlyList<Point>> loops, Part part, Layout layout)
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
        // The first slot or coil stands for all.
        PhaseSpace { Phase: 0, Of: { Row: FlatRow row } of } => new(position, isWinding, loops, [SlotAt(of, row, 0, 0), (SlotAt(of, row, 0, 0.5).From, SlotAt(of, row, 1, 0.5).From, false), (SlotAt(of, row, 0, 0).From, SlotAt(of, row, of.Slots - 1, 0).To, false)],
            [(row.Y - 0.5 * row.SlotHeight, row.Y + 0.5 * row.SlotHeight)]),
        PhaseSpace { Phase: 0, Of: { Row: TubeRow row } of } => new(position, isWinding, loops, [(-row.InnerRadius, row.InnerRadius, true), (-row.InnerRadius - row.Build, row.InnerRadius + row.Build, true)],
            [(row.FromZ, row.FromZ + row.CoilLength), (row.FromZ, row.FromZ + (of.Slots - 1) * row.CoilPitch + row.CoilLength)]),
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
        return loops;
    }

    private static (double From, double To, bool IsDiameter) SlotAt(Polyphase of, FlatRow row, int slot, double share)
    {
        double middle = row.X + (slot - 0.5 * (of.Slots - 1)) * row.SlotPitch;
        return (middle - (0.5 - share) * row.SlotWidth, middle + (0.5 - share) * row.SlotWidth, false);
    }

    // The phase by its letter, with a minus where its positive current goes into the page.
    private static List<(Point At, string Text)>? OfPhase(Sections sections, Winding winding)
    {
        if (winding.Space is not PhaseSpace { Of.Phases: > 1 } row)
            return null;
        string letter = ((char)('a' + row.Phase)).ToString();
        return [.. sections.SectionsOf(winding.Name).Select(s => (Middle(Polygon(s.Outline)), (s.Share < 0 ? "−" : "") + letter))];
    }

    private static Point Middle(IReadOnlyList<Point> loop) => new(0.5 * (loop.Min(p => p.X) + loop.Max(p => p.X)), 0.5 * (loop.Min(p => p.Y) + loop.Max(p => p.Y)));

    // A ring, or a ring cut with parallel faces.
    private static List<IReadOnlyList<Point>> Core(CoreShape core, Place at)
    {
        if (core.Gap == 0)
            return [Circle(at.X, at.Y, core.OuterRadius), Circle(at.X, at.Y, core.InnerRadius)];
        IEnumerable<Point> Arc(double radius)
        {
            double half = Math.Asin(0.5 * core.Gap / radius), start = core.GapAt * Math.PI / 180 + half, sweep = 2 * (Math.PI - half);
            return Enumerable.Range(0, 2 * ArcPieces + 1).Select(k => start + sweep * k / (2 * ArcPieces)).Select(a => new Point(at.X + radius * Math.Cos(a), at.Y + radius * Math.Sin(a)));
        }

        return [[.. Arc(core.OuterRadius), .. Arc(core.InnerRadius).Reverse()]];
    }

    private static List<IReadOnlyList<Point>> InSection(Sections sections, string winding, bool round)
    {
        var own = sections.SectionsOf(winding).Select(s => Polygon(s.Outline)).ToList();
        return round ? Mirrored(own) : own;
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

    internal static IReadOnlyList<Point> Circle(double x, double y, double radius) =>
        [.. Enumerable.Range(0, 2 * ArcPieces).Select(k => new Point(x + radius * Math.Cos(Math.PI * k / ArcPieces), y + radius * Math.Sin(Math.PI * k / ArcPieces)))];
}
