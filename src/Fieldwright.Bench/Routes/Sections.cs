using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes.Travel;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Routes;

/// <summary>Parts and windings as outlines in the plane of the apparatus: (r, z) when round, (x, y) when long; m.</summary>
public sealed class Sections
{
    private const double FullTurn = 2 * Math.PI;

    // A short piece of a cut core beside the gap, so that the pull on its face can be asked for.
    private const double PoleDegrees = 8;

    private readonly List<Outline> outlines = [];
    private readonly Dictionary<string, List<int>> partRegions = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, List<WindingSection>> windingSections = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, int> poles = new(StringComparer.OrdinalIgnoreCase);
    private int next = 1;

    private Sections()
    {
    }

    /// <summary>All outlines; each carries the number of its region, and an inner one wins over the one round it.</summary>
    public IReadOnlyList<Outline> Outlines => outlines;

    /// <summary>The sections of an apparatus.</summary>
    /// <param name="apparatus">The apparatus; a free one has no common plane.</param>
    /// <exception cref="ArgumentException">The apparatus is free, or a shape does not exist in its layout.</exception>
    public static Sections Of(Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        if (apparatus.Layout == Layout.Free)
            throw new ArgumentException("A free apparatus has no common section.", nameof(apparatus));
        var sections = new Sections();
        foreach (var part in apparatus.Parts)
            sections.Add(part);
        foreach (var winding in apparatus.Windings)
            sections.Add(apparatus, winding);
        if (apparatus.Layout == Layout.Long && Teeth.Of(apparatus) is { Winding: var slotted })
            sections.AddEmptySlots(slotted);
        return sections;
    }

    /// <summary>Numbers of the regions a part is made of.</summary>
    public IReadOnlyList<int> RegionsOf(string part) => partRegions[part];

    /// <summary>Sections of a winding, with the share of its turns that run out of the page there (negative: into it).</summary>
    public IReadOnlyList<WindingSection> SectionsOf(string winding) => windingSections[winding];

    /// <summary>The short piece of a cut core on the far side of its gap, going counter-clockwise; null when the core is closed.</summary>
    public int? PoleOf(string core) => poles.TryGetValue(core, out int region) ? region : null;

    private void Add(Part part)
    {
        var regions = partRegions[part.Name] = [];
        int Region()
        {
            regions.Add(next);
            return next++;
        }

        double z = part.Place.Z, x = part.Place.X, y = part.Place.Y;
        switch (part.Shape)
        {
            case DiscShape d:
                outlines.Add(Rectangle(Region(), 0, z, d.Radius, z + d.Thickness));
                break;
            case RingShape r:
                outlines.Add(Rectangle(Region(), r.InnerRadius, z, r.OuterRadius, z + r.Height));
                break;
            case BallShape b:
                outlines.Add(HalfDisc(Region(), z + b.Radius, b.Radius));
                if (b.Wall is { } wall)
                    outlines.Add(HalfDisc(next++, z + b.Radius, b.Radius - wall));
                break;
            case RectangleShape r:
                outlines.Add(Rectangle(Region(), x - 0.5 * r.Width, y - 0.5 * r.Height, x + 0.5 * r.Width, y + 0.5 * r.Height));
                break;
            case CylinderShape { Bore: 0 } c:
                outlines.Add(Circle(Region(), x, y, c.Radius));
                break;
            case CylinderShape c:
                // Two halves of one region, so that the bore may hold another part.
                int both = Region();
                outlines.Add(Sector(both, new Point(x, y), c.Bore, c.Radius, 0, Math.PI));
                outlines.Add(Sector(both, new Point(x, y), c.Bore, c.Radius, Math.PI, FullTurn));
                break;
            case CoreShape { Gap: 0 } c:
                outlines.Add(Circle(Region(), x, y, c.OuterRadius));
                outlines.Add(Circle(next++, x, y, c.InnerRadius));
                break;
            case CoreShape c:
                AddCut(part, c, Region);
                break;
            case OutlineShape o:
                outlines.Add(new Outline(Region(), [.. o.Corners.Select((corner, i) => EdgeTo(corner, o.Corners[(i + 1) % o.Corners.Count], x, y + z))]));
                break;
            default:
                throw new ArgumentException($"A {part.Shape.Word} has no section in this layout.", nameof(part));
        }
    }

    // The cut has parallel faces, so the angle it takes differs between the inner and the outer radius.
    private void AddCut(Part part, CoreShape c, Func<int> region)
    {
        var centre = new Point(part.Place.X, part.Place.Y);
        double at = c.GapAt * Math.PI / 180, pole = PoleDegrees * Math.PI / 180;
        double outer = Math.Asin(0.5 * c.Gap / c.OuterRadius), inner = Math.Asin(0.5 * c.Gap / c.InnerRadius);
        Point On(double radius, double angle) => new(centre.X + radius * Math.Cos(angle), centre.Y + radius * Math.Sin(angle));
        double split = at + Math.Max(outer, inner) + pole;
        poles[part.Name] = region();
        outlines.Add(Band(poles[part.Name], centre, On(c.InnerRadius, at + inner), On(c.OuterRadius, at + outer), On(c.OuterRadius, split), On(c.InnerRadius, split)));
        outlines.Add(Band(region(), centre, On(c.InnerRadius, split), On(c.OuterRadius, split), On(c.OuterRadius, at + FullTurn - outer), On(c.InnerRadius, at + FullTurn - inner)));
    }

    private void Add(Apparatus apparatus, Winding winding)
    {
        var sections = windingSections[winding.Name] = [];
        void Section(Outline outline, double share)
        {
            outlines.Add(outline);
            sections.Add(new WindingSection(outline, share));
            next++;
        }

        switch (winding.Space)
        {
            case RoundSpace r:
                Section(Rectangle(next, r.InnerRadius, r.FromZ, r.OuterRadius, r.ToZ), 1);
                break;
            case LimbSpace limb:
                var part = apparatus.Part(limb.Core)!;
                var core = (CoreShape)part.Shape;
                var centre = new Point(part.Place.X, part.Place.Y);
                double half = 0.5 * limb.Length / (0.5 * (core.InnerRadius + core.OuterRadius)), at = limb.CentredAt * Math.PI / 180;
                // A positive current drives flux counter-clockwise round the ring: out of the page inside it, into the page outside.
                double within = core.InnerRadius - limb.Clearance, without = core.OuterRadius + limb.Clearance;
                Section(Sector(next, centre, within - limb.Build, within, at - half, at + half), 1);
                Section(Sector(next, centre, without, without + limb.Build, at - half, at + half), -1);
                break;
            case PhaseSpace phase:
                foreach (var side in phase.Of.Sides)
                    if (side.Phase == phase.Phase)
                        Section(InSlot(next, phase.Of, side), side.Sign);
                break;
            case TwoSides sides:
                Section(Rectangle(next, sides.Out), 1);
                Section(Rectangle(next, sides.Into), -1);
                break;
        }
    }

    // Parts of the slots of a toothed core that hold no coil side are air, not iron.
    private void AddEmptySlots(Polyphase winding)
    {
        var filled = winding.Sides.Select(s => (s.Slot, s.Part)).ToHashSet();
        SlotPart[] each = winding.DoubleLayer ? [SlotPart.Lower, SlotPart.Upper] : [SlotPart.Whole];
        for (int slot = 0; slot < winding.Slots; slot++)
            foreach (var part in each.Where(p => !filled.Contains((slot, p))))
                outlines.Add(InSlot(next++, winding, new SlotSide(slot, 0, 0, 0, part)));
    }

    // A coil side in its slot; the lower half is the one of smaller y or radius.
    private static Outline InSlot(int region, Polyphase winding, SlotSide side)
    {
        double low = side.Part == SlotPart.Upper ? 0.5 : 0, high = side.Part == SlotPart.Lower ? 0.5 : 1;
        switch (winding.Row)
        {
            case FlatRow row:
                double x = row.X + (side.Slot - 0.5 * (winding.Slots - 1)) * row.SlotPitch, y = row.Y - 0.5 * row.SlotHeight;
                return Rectangle(region, x - 0.5 * row.SlotWidth, y + low * row.SlotHeight, x + 0.5 * row.SlotWidth, y + high * row.SlotHeight);
            case TubeRow row:
                double z = row.FromZ + side.Slot * row.CoilPitch;
                return Rectangle(region, row.InnerRadius, z, row.InnerRadius + row.Build, z + row.CoilLength);
            default:
                var ring = (RingRow)winding.Row;
                double at = (ring.FirstAt + 360.0 * side.Slot / winding.Slots) * Math.PI / 180, half = 0.5 * ring.SectorAngle * Math.PI / 180, build = ring.OuterRadius - ring.InnerRadius;
                return Sector(region, new Point(ring.X, ring.Y), ring.InnerRadius + low * build, ring.InnerRadius + high * build, at - half, at + half);
        }
    }

    private static Outline Rectangle(int region, Box box) =>
        Rectangle(region, box.X - 0.5 * box.Width, box.Y - 0.5 * box.Height, box.X + 0.5 * box.Width, box.Y + 0.5 * box.Height);

    private static Outline Rectangle(int region, double left, double bottom, double right, double top)
    {
        Point a = new(left, bottom), b = new(right, bottom), c = new(right, top), d = new(left, top);
        return new Outline(region, [new LineEdge(a, b), new LineEdge(b, c), new LineEdge(c, d), new LineEdge(d, a)]);
    }

    private static Outline HalfDisc(int region, double middle, double radius)
    {
        Point bottom = new(0, middle - radius), side = new(radius, middle), top = new(0, middle + radius), centre = new(0, middle);
        return new Outline(region, [new ArcEdge(bottom, side, centre, true), new ArcEdge(side, top, centre, true), new LineEdge(top, bottom)]);
    }

    private static Outline Circle(int region, double x, double y, double radius)
    {
        var centre = new Point(x, y);
        Point[] p = [new(x + radius, y), new(x, y + radius), new(x - radius, y), new(x, y - radius)];
        return new Outline(region, [.. Enumerable.Range(0, 4).Select(i => new ArcEdge(p[i], p[(i + 1) % 4], centre, true))]);
    }

    private static Outline Sector(int region, Point centre, double inner, double outer, double from, double to)
    {
        Point On(double radius, double angle) => new(centre.X + radius * Math.Cos(angle), centre.Y + radius * Math.Sin(angle));
        return Band(region, centre, On(inner, from), On(outer, from), On(outer, to), On(inner, to));
    }

    // Inner corner, outer corner, along the outer arc, inner corner, back along the inner arc. Arcs beyond half a turn are halved.
    private static Outline Band(int region, Point centre, Point innerFrom, Point outerFrom, Point outerTo, Point innerTo) => new(region,
    [
        new LineEdge(innerFrom, outerFrom),
        .. Arc(outerFrom, outerTo, centre, true),
        new LineEdge(outerTo, innerTo),
        .. Arc(innerTo, innerFrom, centre, false),
    ]);

    private static IEnumerable<Edge> Arc(Point from, Point to, Point centre, bool counterClockwise)
    {
        double start = Math.Atan2(from.Y - centre.Y, from.X - centre.X), sweep = Math.Atan2(to.Y - centre.Y, to.X - centre.X) - start;
        sweep = counterClockwise ? (sweep <= 0 ? sweep + FullTurn : sweep) : (sweep >= 0 ? sweep - FullTurn : sweep);
        double radius = double.Hypot(from.X - centre.X, from.Y - centre.Y);
        int pieces = (int)Math.Ceiling(Math.Abs(sweep) / (0.5 * Math.PI) - 1e-9);
        var last = from;
        for (int i = 1; i <= pieces; i++)
        {
            double angle = start + sweep * i / pieces;
            var point = i == pieces ? to : new Point(centre.X + radius * Math.Cos(angle), centre.Y + radius * Math.Sin(angle));
            yield return new ArcEdge(last, point, centre, counterClockwise);
            last = point;
        }
    }

    private static Edge EdgeTo(Corner corner, Corner next, double x, double y)
    {
        Point from = new(corner.X + x, corner.Y + y), to = new(next.X + x, next.Y + y);
        return corner.ArcCentre is { } c ? new ArcEdge(from, to, new Point(c.X + x, c.Y + y), corner.ArcCounterClockwise) : new LineEdge(from, to);
    }
}

/// <summary>One section of a winding.</summary>
/// <param name="Outline">Its outline, with the number of its region.</param>
/// <param name="Share">Turns through it over the winding's turns: +1 out of the page (round: along +φ), −1 into it.</param>
public sealed record WindingSection(Outline Outline, double Share);
