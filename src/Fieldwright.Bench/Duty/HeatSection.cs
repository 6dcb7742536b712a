using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Fields;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Duty;

/// <summary>An apparatus in section as a field of heat: which regions conduct, which of their sides still air cools, and where they warm one another.</summary>
/// <remarks>
/// <para>A winding is even matter that conducts across its wires as <see cref="HeatBodies.AcrossWires"/> says; a long one is as long as half a turn, so that the ends of its turns stand as warm as its sides. Free are the
/// sides that the lumped network takes as free: outside and upper end of a winding, since it sits on a former and stands on a bench; all of a part, the ends of a long one too.</para>
/// <para>Left out: the heat of insulation and formers, what bodies further apart than <see cref="Widest"/> radiate to one another, iron loss, draughts.</para>
/// <para>A metal of which only the electric conductivity is known conducts heat by the law of Wiedemann and Franz.</para>
/// </remarks>
/// <source key="WiedemannFranz1853"/>
internal sealed class HeatSection
{
    /// <summary>Gaps wider than this are open air, m. To 10 mm air stands still under a difference of some 20 K, to 6 mm of 100 K (Rayleigh number 1708).</summary>
    public const double Widest = 10e-3;

    private readonly Apparatus apparatus;
    private readonly Sections sections;
    private readonly Dictionary<int, Part> parts = [];
    private readonly Dictionary<int, Winding> windings = [];

    /// <summary>The section of an apparatus as it stands.</summary>
    public HeatSection(Apparatus apparatus)
    {
        this.apparatus = apparatus;
        sections = Sections.Of(apparatus);
        foreach (var part in apparatus.Parts.Where(TakesPart))
            foreach (int region in sections.RegionsOf(part.Name))
                parts[region] = part;
        foreach (var winding in apparatus.Windings)
            foreach (var section in sections.SectionsOf(winding.Name))
                windings[section.Outline.Region] = winding;
    }

    /// <summary>Names of all bodies whose temperature is followed.</summary>
    public IEnumerable<string> Bodies => parts.Values.Select(p => p.Name).Concat(windings.Values.Select(w => w.Name)).Distinct(StringComparer.OrdinalIgnoreCase);

    /// <summary>Whether heat is followed in a part: what it conducts and stores is known, and it stands still.</summary>
    public static bool TakesPart(Part part) => Conductivity(part) is not null && part.Material is { Density: not null, SpecificHeat: not null } && part.Channel is null && part.Speed == 0 && part.Shape is not FoilLoopShape;

    /// <summary>Whether a body is a winding.</summary>
    public bool IsWinding(string body) => windings.Values.Any(w => Apparatus.Same(w.Name, body));

    /// <summary>The regions of a body.</summary>
    public IReadOnlyList<int> RegionsOf(string body) =>
        [.. parts.Where(p => Apparatus.Same(p.Value.Name, body)).Select(p => p.Key), .. windings.Where(w => Apparatus.Same(w.Value.Name, body)).Select(w => w.Key)];

    /// <summary>The mesh; skins of currents need not be resolved.</summary>
    public MeshedModel Mesh(double fineness, CancellationToken cancellation) => MeshedModel.Create(
        new FieldModel { Symmetry = Round ? Symmetry.Round : Symmetry.Long, Depth = apparatus.Depth ?? 1, Parts = sections.Outlines, Matter = new Dictionary<int, RegionMatter>() }, fineness, cancellation);

    /// <summary>The model of an input of heat under a cooling.</summary>
    public HeatModel Model(MeshedModel mesh, HeatInput input, Cooling cooling)
    {
        var matter = new Dictionary<int, HeatMatter>();
        var even = new Dictionary<int, EvenHeat>();
        var deposits = new List<HeatDeposits>();
        foreach (var (region, part) in parts)
            matter[region] = HeatMatter.Constant(part.Name, part.StackingFactor * Conductivity(part)!.Value, part.StackingFactor * part.Material.Density!.Value * part.Material.SpecificHeat!.Value)
                with { Emissivity = Math.Min(1, cooling.Glow * HeatBodies.Emissivity(part)), Length = part.Across };
        foreach (var (region, winding) in windings)
            matter[region] = HeatMatter.Constant(winding.Name, cooling.Inner * HeatBodies.AcrossWires(winding, apparatus), HeatBodies.Capacity(winding, apparatus) / Volume(winding))
                with { Emissivity = Math.Min(1, cooling.Glow * HeatBodies.Emissivity(winding)), Length = HalfTurn(winding), SurfaceLength = OuterHalfTurn(winding) };
        foreach (string name in parts.Values.Select(p => p.Name).Distinct(StringComparer.OrdinalIgnoreCase))
            if (input.Points.TryGetValue(name, out var points))
                deposits.Add(new HeatDeposits(RegionsOf(name), points, input.Coefficients.GetValueOrDefault(name), apparatus.Ambient));
        foreach (var winding in apparatus.Windings.Where(w => input.Currents.GetValueOrDefault(w.Name) > 0))
            foreach (int region in RegionsOf(winding.Name))
                even[region] = new EvenHeat(input.Currents[winding.Name] * input.Currents[winding.Name] * Warming.Resistance(winding, apparatus) / Volume(winding), input.CoefficientOf(winding, apparatus), apparatus.Ambient);
        var lost = new Dictionary<int, IReadOnlyList<SurfaceCooling>>();
        IReadOnlyList<SurfaceCooling> Lost(int region) => lost.TryGetValue(region, out var known) ? known : lost[region] = CoolingOf(region, cooling);
        return new HeatModel
        {
            Mesh = mesh, Matter = matter, Even = even, Deposits = deposits,
            CoolingAt = place => IsFree(place) ? Lost(place.Region) : [],
            EndCooling = (region, x, y) => parts.TryGetValue(region, out var part) && !Covered(part, x, y) ? Lost(region) : [],
            Gaps = new ThinGaps(Widest, cooling.Air, (a, b) => Former(a, b) * cooling.Inner),
        };
    }

    private bool Round => apparatus.Layout == Layout.Round;

    // Stated, or of a metal by the law of Wiedemann and Franz: k = L σ T with L = 2.44e-8 W Ω/K² (from memory; alloys lie up to a quarter above). Steel of which only the magnetism is known
    // conducts 30 W/(m K) in sheets (from memory, 20 to 50), ferrite 4; through either heat spreads far better than it leaves by air.
    private static double? Conductivity(Part part) => part.Material switch
    {
        { ThermalConductivity: { } stated } => stated,
        { Conductivity: > 1e5 and var sigma } => 2.44e-8 * 293 * sigma,
        { Curve: not null } or { RelativePermeability: > 10 } => part.Laminated ? 30 : 4,
        _ => null,
    };

    // The section of a coil turned round the axis about its middle, or as long as half a turn on either side.
    private double Volume(Winding winding) => sections.SectionsOf(winding.Name).Sum(s => s.Outline.Area * (HalfTurn(winding) ?? Warming.MeanTurn(winding, apparatus)));

    private double? HalfTurn(Winding winding) => Round ? null : 0.5 * Warming.MeanTurn(winding, apparatus);

    private double? OuterHalfTurn(Winding winding) => winding.Space is LimbSpace limb ? 0.5 * HeatBodies.Outside(limb, apparatus) : HalfTurn(winding);

    private IReadOnlyList<SurfaceCooling> CoolingOf(int region, Cooling cooling)
    {
        double ambient = apparatus.Ambient;
        SurfaceCooling Faces(double height, double level) => new NaturalConvection(height, level, ambient) { Factor = cooling.Air };
        if (windings.TryGetValue(region, out var winding))
        {
            SurfaceCooling rising = winding.Space switch
            {
                RoundSpace r => Faces(r.ToZ - r.FromZ, 0.5 * (r.OuterRadius - r.InnerRadius)),
                LimbSpace l => Faces(l.Length, l.Length),
                TwoSides s => SideFaces(s),
                PhaseSpace { Of: { Row: TubeRow tube } } => Faces(tube.CoilLength, 0.5 * tube.Build),
                PhaseSpace p => Faces(p.Of.CoilSide.Across, 0.5 * p.Of.CoilSide.Along * HalfTurn(winding)!.Value / (p.Of.CoilSide.Along + HalfTurn(winding)!.Value)),
                _ => throw new RouteFailedException($"The space of winding '{winding.Name}' is not known."),
            };
            return [rising, new Radiation(Math.Min(1, cooling.Glow * HeatBodies.Emissivity(winding)), ambient)];

            SurfaceCooling SideFaces(TwoSides s)
            {
                var box = region == sections.SectionsOf(winding.Name)[0].Outline.Region ? s.Out : s.Into;
                return Faces(box.Height, 0.5 * box.Width * HalfTurn(winding)!.Value / (box.Width + HalfTurn(winding)!.Value));
            }
        }

        var part = parts[region];
        double depth = part.Across ?? apparatus.Depth ?? 0;
        SurfaceCooling air = part.Shape switch
        {
            DiscShape d => Faces(d.Thickness, 0.5 * d.Radius),
            RingShape r => Faces(r.Height, 0.5 * (r.OuterRadius - r.InnerRadius)),
            BallShape b => new BallConvection(2 * b.Radius, ambient, cooling.Air),
            CylinderShape c => new CylinderConvection(2 * c.Radius, ambient, cooling.Air),
            RectangleShape r => Faces(r.Height, 0.5 * r.Width * depth / (r.Width + depth)),
            CoreShape c => Faces(2 * c.OuterRadius, 2 * c.OuterRadius),
            OutlineShape o => Extent(o) is var (wide, high) && Round ? Faces(high, 0.5 * wide) : Faces(high, 0.5 * wide * depth / (wide + depth)),
            _ => throw new RouteFailedException($"The surface of '{part.Name}' is not known."),
        };
        return [air, new Radiation(Math.Min(1, cooling.Glow * HeatBodies.Emissivity(part)), ambient)];
    }

    private static (double Wide, double High) Extent(OutlineShape o) => (o.Corners.Max(c => c.X) - o.Corners.Min(c => c.X), o.Corners.Max(c => c.Y) - o.Corners.Min(c => c.Y));

    // Which sides of a body see the hall.
    private bool IsFree(SurfacePlace place)
    {
        const double Clearly = 0.7;
        if (parts.TryGetValue(place.Region, out var part))
        {
            // What faces a closed hollow, or a bore seen end on, faces itself.
            double fromCentre = part.Shape switch
            {
                BallShape ball => place.X * place.OutwardX + (place.Y - part.Place.Z - ball.Radius) * place.OutwardY,
                CylinderShape => (place.X - part.Place.X) * place.OutwardX + (place.Y - part.Place.Y) * place.OutwardY,
                _ => 1,
            };
            return fromCentre > 0;
        }

        switch (windings[place.Region].Space)
        {
            case RoundSpace:
                return place.OutwardX > Clearly || place.OutwardY > Clearly;
            case LimbSpace limb:
                var core = apparatus.Part(limb.Core)!;
                double x = place.X - core.Place.X, y = place.Y - core.Place.Y, radius = double.Hypot(x, y), outward = (x * place.OutwardX + y * place.OutwardY) / radius;
                // The outer side of a coil faces away from the limb on both sides of it.
                return (radius > ((CoreShape)core.Shape).OuterRadius ? outward : -outward) > Clearly;
            case TwoSides:
                return Math.Abs(place.OutwardX) > Clearly || place.OutwardY > Clearly;
            case PhaseSpace { Of.Row: TubeRow }:
                return place.OutwardX > Clearly;
            default:
                return place.OutwardY > Clearly;
        }
    }

    // The cut faces of a core under a coil on it are covered by the coil.
    private bool Covered(Part part, double x, double y)
    {
        if (part.Shape is not CoreShape core)
            return false;
        double at = Math.Atan2(y - part.Place.Y, x - part.Place.X), mean = 0.5 * (core.InnerRadius + core.OuterRadius);
        return apparatus.Windings.Any(w => w.Space is LimbSpace l && Apparatus.Same(l.Core, part.Name)
            && Math.Abs(Math.IEEERemainder(at - l.CentredAt * Math.PI / 180, 2 * Math.PI)) < 0.5 * l.Length / mean);
    }

    // Between a coil and the limb it is wound on lies its former, as long as the way round the limb.
    private double? Former(int a, int b)
    {
        var (winding, part) = windings.TryGetValue(a, out var first) ? (first, parts.GetValueOrDefault(b)) : (windings.GetValueOrDefault(b), parts.GetValueOrDefault(a));
        return winding?.Space is LimbSpace limb && part is not null && Apparatus.Same(limb.Core, part.Name) ? HeatBodies.Former * HeatBodies.Inside(limb, apparatus) / Warming.MeanTurn(winding, apparatus) : null;
    }
}
