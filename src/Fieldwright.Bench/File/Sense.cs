using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes.Travel;
using Fieldwright.Bench.Routes;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.File;

/// <summary>Something that cannot be built as described.</summary>
/// <param name="Owner">Name of the part or winding at fault.</param>
/// <param name="Finding">What is wrong, in words that follow "with this" as well as stand alone.</param>
/// <param name="Expectation">What was expected.</param>
/// <param name="Across">Name of what it lies across; null where it lies across nothing.</param>
internal sealed record Slip(string Owner, string Finding, string Expectation, string? Across = null);

/// <summary>Whether an apparatus could stand on a bench: shapes that exist, wire that fits, matter that does not overlap.</summary>
internal static class Sense
{
    // Round wire nested as tightly as it can be fills π/(2√3) of its space: each takes (√3/2) d².
    private static readonly double TightestNesting = 0.5 * Math.Sqrt(3);

    /// <summary>All that makes no sense, in file order.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="before">One that makes sense and from which the other was made; bodies that both hold alike are not laid over one another again. Null when there is none.</param>
    public static IReadOnlyList<Slip> Of(Apparatus apparatus, Apparatus? before = null)
    {
        var slips = new List<Slip>();
        foreach (var part in apparatus.Parts)
            slips.AddRange(OfShape(part, apparatus.Layout));
        foreach (var winding in apparatus.Windings)
            slips.AddRange(OfSpace(winding, apparatus));
        slips.AddRange(TravelSense.Of(apparatus));
        if (apparatus.Layout != Layout.Free)
        {
            var faulty = slips.Select(s => s.Owner).ToHashSet(StringComparer.OrdinalIgnoreCase);
            foreach (var winding in apparatus.Windings)
                if ((winding.Space is LimbSpace limb && faulty.Contains(limb.Core)) || (winding.Space is PhaseSpace phase && faulty.Contains(phase.Of.NameOf(0))))
                    faulty.Add(winding.Name);
            slips.AddRange(Overlaps(apparatus, faulty, Alike(apparatus, before)));
        }
        else if (slips.Count == 0)
            slips.AddRange(FreeSpace.Overlaps(apparatus));

        return slips;
    }

    private static IEnumerable<Slip> OfShape(Part part, Layout layout)
    {
        switch (part.Shape)
        {
            case RingShape r when r.InnerRadius >= r.OuterRadius:
                yield return new Slip(part.Name, $"the inner radius of '{part.Name}', {Mm(r.InnerRadius)}, is not below its outer radius, {Mm(r.OuterRadius)}", "an inner radius below the outer radius");
                break;
            case CoreShape c when c.InnerRadius >= c.OuterRadius:
                yield return new Slip(part.Name, $"the inner radius of '{part.Name}', {Mm(c.InnerRadius)}, is not below its outer radius, {Mm(c.OuterRadius)}", "an inner radius below the outer radius");
                break;
            case CoreShape c when c.Gap >= c.InnerRadius:
                yield return new Slip(part.Name, $"the gap of '{part.Name}', {Mm(c.Gap)}, is as wide as its inner radius, {Mm(c.InnerRadius)}", "a gap narrower than the inner radius");
                break;
            case CylinderShape { Bore: > 0 } c when c.Bore >= c.Radius:
                yield return new Slip(part.Name, $"the bore of '{part.Name}', {Mm(c.Bore)}, is not below its radius, {Mm(c.Radius)}", "a bore below the radius, or none for a solid cylinder");
                break;
            case BallShape { Wall: { } wall } b when wall >= b.Radius:
                yield return new Slip(part.Name, $"the wall of '{part.Name}', {Mm(wall)}, is as thick as its radius, {Mm(b.Radius)}", "a wall thinner than the radius, or no wall for a solid ball");
                break;
            case FoilLoopShape f when f.Span >= f.Length:
                yield return new Slip(part.Name, $"the strip of '{part.Name}', {Mm(f.Length)}, is not longer than the distance of its supports, {Mm(f.Span)}", "a length above the span");
                break;
            case OutlineShape o when Outline.Flaws(Edges(o)) is { Count: > 0 } flaws:
                yield return new Slip(part.Name, $"the outline of '{part.Name}' does not close round an area: {flaws[0].Message}", "corners in order round the part, edges that do not cross");
                break;
            case OutlineShape o when layout == Layout.Round && new SolidSection([new Outline(0, Edges(o))], []).Left < -1e-9:
                yield return new Slip(part.Name, $"'{part.Name}' lies across the axis", "radii of zero or more in a round apparatus");
                break;
        }
    }

    private static IEnumerable<Slip> OfSpace(Winding winding, Apparatus apparatus)
    {
        string name = winding.Name;
        double? room = null;
        switch (winding.Space)
        {
            case RoundSpace r when r.InnerRadius >= r.OuterRadius:
                yield return new Slip(name, $"the inner radius of '{name}', {Mm(r.InnerRadius)}, is not below its outer radius, {Mm(r.OuterRadius)}", "the inner radius first, the outer radius second");
                break;
            case RoundSpace r when r.FromZ >= r.ToZ:
                yield return new Slip(name, $"'{name}' begins at {Mm(r.FromZ)}, which is not below its end at {Mm(r.ToZ)}", "'from z' below 'to z'");
                break;
            case RoundSpace r:
                room = (r.OuterRadius - r.InnerRadius) * (r.ToZ - r.FromZ);
                break;
            case FrameSpace f when f.FromZ >= f.ToZ:
                yield return new Slip(name, $"'{name}' begins at {Mm(f.FromZ)}, which is not below its end at {Mm(f.ToZ)}", "'from z' below 'to z'");
                break;
            case FrameSpace f when f.CornerRadius > 0.5 * Math.Min(f.Length, f.Width) + 1e-12:
                yield return new Slip(name, $"the corners of '{name}', of radius {Mm(f.CornerRadius)}, do not fit into its opening", $"a corner radius of at most {Mm(0.5 * Math.Min(f.Length, f.Width))}");
                break;
            case FrameSpace f:
                room = f.Build * (f.ToZ - f.FromZ);
                break;
            case LimbSpace limb when apparatus.Part(limb.Core)?.Shape is not CoreShape:
                yield return new Slip(name, $"'{name}' is wound on '{limb.Core}', which is no core", "the name of a part whose shape is core");
                break;
            case LimbSpace limb:
                var core = (CoreShape)apparatus.Part(limb.Core)!.Shape;
                double inside = core.InnerRadius - limb.Clearance, angle = limb.Length / (0.5 * (core.InnerRadius + core.OuterRadius));
                if (limb.Build >= inside)
                    yield return new Slip(name, $"'{name}' does not fit through the window of '{limb.Core}': {Mm(limb.Clearance + limb.Build)} in a radius of {Mm(core.InnerRadius)}", "clearance and build that leave the middle of the window free");
                else if (angle >= 2 * Math.PI)
                    yield return new Slip(name, $"'{name}' is longer than the way round '{limb.Core}'", $"a length below {Mm(2 * Math.PI * limb.Length / angle)}");
                else if (core.Gap > 0 && Math.Abs(Math.IEEERemainder(limb.CentredAt - core.GapAt, 360)) * Math.PI / 180 < 0.5 * angle + Math.Asin(0.5 * core.Gap / core.InnerRadius))
                    yield return new Slip(name, $"'{name}' lies over the gap of '{limb.Core}'", "a coil that is clear of the gap");
                room = 0.5 * angle * (inside * inside - Math.Pow(inside - limb.Build, 2));
                break;
            case TwoSides { Out: var o, Into: var i } when Math.Abs(o.X - i.X) < 0.5 * (o.Width + i.Width) - 1e-9 && Math.Abs(o.Y - i.Y) < 0.5 * (o.Height + i.Height) - 1e-9:
                yield return new Slip(name, $"the two sides of '{name}' overlap", "sides that touch at most");
                break;
            case PhaseSpace phase:
                room = TravelSense.RoomForACoilSide(phase.Of);
                break;
            case TwoSides sides:
                room = Math.Min(sides.Out.Width * sides.Out.Height, sides.Into.Width * sides.Into.Height);
                break;
        }

        double each = TightestNesting * winding.Wire.OverallDiameter * winding.Wire.OverallDiameter * winding.Wire.Strands;
        if (room is { } area && winding.Turns * each > area)
            yield return new Slip(name,
                string.Create(CultureInfo.InvariantCulture, $"the {winding.Turns:0.##} turns of '{name}' do not fit: {Mm(winding.Wire.OverallDiameter)} over the enamel, nested as tightly as round wire can be, lets {Math.Floor(area / each):0} in"),
                "fewer turns, thinner wire or more room");
    }

    // Names of the bodies that stand where they stood and are shaped as they were.
    private static HashSet<string> Alike(Apparatus apparatus, Apparatus? before)
    {
        if (before is null || apparatus with { Parts = before.Parts, Windings = before.Windings, Supplies = before.Supplies, Loads = before.Loads } != before)
            return [];
        var same = apparatus.Parts.Where(p => before.Part(p.Name) is { } q && p with { Material = q.Material, Mass = q.Mass, Speed = q.Speed, TurningSpeed = q.TurningSpeed, Drag = q.Drag } == q).Select(p => p.Name);
        return [.. same, .. apparatus.Windings.Where(w => before.Windings.Contains(w)).Select(w => w.Name)];
    }

    private static IEnumerable<Slip> Overlaps(Apparatus apparatus, HashSet<string> faulty, HashSet<string> alike)
    {
        // Windings on a limb go where their core goes.
        if (apparatus.Windings.Any(w => w.Space is LimbSpace limb && !alike.Contains(limb.Core)))
            alike = [];
        if (apparatus.Parts.All(p => alike.Contains(p.Name)) && apparatus.Windings.All(w => alike.Contains(w.Name)))
            yield break;
        var bare = apparatus with { Parts = [], Windings = [] };
        var bodies = new List<(string Name, SolidSection Section)>();
        foreach (var part in apparatus.Parts.Where(p => !faulty.Contains(p.Name)))
        {
            var sections = Sections.Of(bare with { Parts = [part] });
            var own = sections.RegionsOf(part.Name);
            bodies.Add((part.Name, new SolidSection([.. sections.Outlines.Where(o => own.Contains(o.Region))], [.. sections.Outlines.Where(o => !own.Contains(o.Region))])));
        }

        foreach (var winding in apparatus.Windings.Where(w => !faulty.Contains(w.Name)))
            bodies.Add((winding.Name, new SolidSection([.. Sections.Of(apparatus with { Parts = [.. apparatus.Parts.Where(p => winding.Space is LimbSpace l && Apparatus.Same(l.Core, p.Name))], Windings = [winding] })
                .SectionsOf(winding.Name).Select(s => s.Outline)], [])));
        // Each body is blamed once: the first one it overlaps is enough to put it right.
        for (int i = 0; i < bodies.Count; i++)
        {
            var first = bodies.Take(i).Where(b => (!alike.Contains(b.Name) || !alike.Contains(bodies[i].Name)) && !InSlots(apparatus, b.Name, bodies[i].Name))
                .Select(b => (b.Name, At: bodies[i].Section.Overlap(b.Section))).FirstOrDefault(b => b.At is not null);
            if (first.At is { } at)
                yield return new Slip(bodies[i].Name, $"'{bodies[i].Name}' and '{first.Name}' overlap near {At(at)}", "bodies that touch at most", first.Name);
        }
    }

    // Sides of a track winding in the slots of their core.
    private static bool InSlots(Apparatus apparatus, string part, string winding) =>
        apparatus.Part(part) is { Shape: RectangleShape { Called: Teeth.Word } } core && apparatus.Winding(winding)?.Space is PhaseSpace space && Teeth.Slots(apparatus, core)?.Winding.Name == space.Of.Name;

    private static IReadOnlyList<Edge> Edges(OutlineShape shape) => [.. shape.Corners.Select((corner, i) => EdgeTo(corner, shape.Corners[(i + 1) % shape.Corners.Count]))];

    private static Edge EdgeTo(Corner corner, Corner next)
    {
        Point from = new(corner.X, corner.Y), to = new(next.X, next.Y);
        return corner.ArcCentre is { } centre ? new ArcEdge(from, to, new Point(centre.X, centre.Y), corner.ArcCounterClockwise) : new LineEdge(from, to);
    }

    private static string At(Point point) => string.Create(CultureInfo.InvariantCulture, $"({point.X * 1e3:G3}, {point.Y * 1e3:G3}) mm");

    private static string Mm(double metres) => Units.WriteSi(metres, "mm");
}
