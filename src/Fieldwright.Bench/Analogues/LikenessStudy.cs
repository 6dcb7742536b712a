using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Analogues;

/// <summary>Redraws a circuit of an apparatus in another domain: scales, counterparts that can be bought or cut, and where the likeness breaks.</summary>
/// <remarks>The counterparts obey their own laws, a pipe that of Churchill, so that what is printed of them is what they would do and not what the likeness wishes.</remarks>
public static class LikenessStudy
{
    // What a board on a bench bears: 2 kPa is 20 cm of water and keeps thin tubes laminar; the flows are slow to suit.
    private static readonly Dictionary<BoardDomain, (double Potential, double Flow)> Comfortable = new()
    {
        [BoardDomain.Water] = (2000, 1e-6),
        [BoardDomain.Electric] = (6, 0.05),
        [BoardDomain.Magnetic] = (200, 100e-6),
        [BoardDomain.Heat] = (40, 10),
    };

    private static readonly double[] Bores = [0.5e-3, 0.8e-3, 1e-3, 1.5e-3, 2e-3, 3e-3, 4e-3, 5e-3, 6e-3, 8e-3, 10e-3, 13e-3, 16e-3];
    private const double LikedLength = 0.5, FaceArea = 10e-4, BarArea = 1e-4, LikedReynolds = 1500;

    /// <summary>The domains in which an apparatus has a circuit, the one to begin with first; empty when it has none.</summary>
    /// <param name="apparatus">The apparatus.</param>
    public static IReadOnlyList<DomainWords> CircuitsIn(Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return [.. CircuitsOf.Domains(apparatus).Select(DomainWords.Of)];
    }

    /// <summary>Redraws a circuit.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="state">The state it is drawn in; null for the apparatus as it stands.</param>
    /// <param name="of">Which of its circuits.</param>
    /// <param name="as">The domain it is redrawn in; may be its own, to see it as a drawing.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The circuit could not be found.</exception>
    public static Likeness Of(Apparatus apparatus, string? state, DomainWords of, DomainWords @as, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(of);
        ArgumentNullException.ThrowIfNull(@as);
        var circuit = CircuitsOf.Find(apparatus, state, of.Domain, cancellation);
        var original = circuit.Board;
        var first = BoardRoute.Solved(original, _ => 1);
        double Drop(NetworkState s, Board b, BoardElement e) => BoardRoute.Potential(s, b, e.From) - BoardRoute.Potential(s, b, e.To);
        double most = original.Elements.Max(e => Math.Abs(Drop(first, original, e))), strongest = original.Elements.Max(e => Math.Abs(BoardRoute.Flow(first, e)));
        if (!(most > 0) || !(strongest > 0))
            throw new RouteFailedException("Nothing flows on it, so that nothing can stand for it.");
        bool same = of == @as;
        double a = same ? 1 : Rounded(Comfortable[@as.Domain].Potential / most), b = same ? 1 : Rounded(Comfortable[@as.Domain].Flow / strongest);
        var redrawn = same ? original : new Board(@as.Domain, @as.Ground, [.. original.Elements.SelectMany(e => Counterparts(e, Drop(first, original, e) * a, BoardRoute.Flow(first, e) * b, @as, n => Node(n, original, @as)))]);
        var second = BoardRoute.Solved(redrawn, _ => 1);
        var pairs = original.Elements.Select(e =>
        {
            var its = redrawn.Element(e.Name)!;
            return new Counterpart(e.Name, Drop(first, original, e), BoardRoute.Flow(first, e), Words(e, of, Drop(first, original, e), BoardRoute.Flow(first, e)), Words(its, @as, Drop(second, redrawn, its), BoardRoute.Flow(second, its)), Drop(second, redrawn, its), BoardRoute.Flow(second, its));
        }).ToList();
        return new Likeness(of, @as, original, redrawn, a, b, pairs, same ? [] : LikenessBreaks.Of(original, first, redrawn, second, of, @as, b, circuit.Leaks), circuit.Remarks);
    }

    private static string Node(string node, Board original, DomainWords to) => Apparatus.Same(node, original.Ground) ? to.Ground : node;

    // What can be bought or cut to that drop and that flow.
    private static IEnumerable<BoardElement> Counterparts(BoardElement e, double drop, double flow, DomainWords to, Func<string, string> node)
    {
        string from = node(e.From), end = node(e.To);
        if (e is FlowElement)
            return [new FlowElement(e.Name, from, end, flow)];
        // What drives delivers: its potential rises along it.
        if (e is DriveElement or MagnetElement)
            return [new DriveElement(e.Name, from, end, -drop, 0)];
        if (flow == 0 || drop == 0)
            return [new StraightElement(e.Name, from, end, 1e12)];
        double resistance = drop / flow;
        switch (to.Domain)
        {
            case BoardDomain.Water:
                double LengthOf(double d) => resistance * Math.PI * Math.Pow(d, 4) / (128 * Water.Viscosity);
                double ReynoldsOf(double d) => 4 * Water.Density * Math.Abs(flow) / (Math.PI * d * Water.Viscosity);
                double bore = Bores.Where(d => ReynoldsOf(d) < LikedReynolds).DefaultIfEmpty(Bores[^1]).MinBy(d => Math.Abs(Math.Log(LengthOf(d) / LikedLength)));
                return [new PipeElement(e.Name, from, end, bore, LengthOf(bore), 0)];
            case BoardDomain.Magnetic:
                return [new BarElement(e.Name, from, end, resistance * PhysicalConstants.MagneticConstant * FaceArea, FaceArea, Materials.Air)];
            case BoardDomain.Heat:
                return [new BarElement(e.Name, from, end, resistance * Aluminium.ThermalConductivity!.Value * BarArea, BarArea, Aluminium)];
            default:
                return [new StraightElement(e.Name, from, end, resistance)];
        }
    }

    private static Material Aluminium => Materials.Find("aluminium 1050")!;

    private static string Words(BoardElement e, DomainWords d, double drop, double flow)
    {
        string R(double r) => $"{d.Resistance} {DomainWords.Text(r, d.ResistanceUnit)}";
        return e switch
        {
            DriveElement drive => d.Domain == BoardDomain.Water ? $"pump or raised tank, {d.PotentialText(drive.Lift)}, {DomainWords.Text(Water.Head(drive.Lift), "mm")} of water"
                : d.Domain == BoardDomain.Magnetic ? $"winding of {DomainWords.Text(drive.Lift, "A")}-turns" : $"{d.Drive}, {d.PotentialText(drive.Lift)}",
            FlowElement push => d.Domain switch
            {
                BoardDomain.Water => $"metering pump, {d.FlowText(push.Flow)}",
                BoardDomain.Electric => $"current source, {d.FlowText(push.Flow)}",
                BoardDomain.Magnetic => $"flux of {d.FlowText(push.Flow)} pressed in",
                _ => $"heater, {d.FlowText(push.Flow)}",
            },
            PipeElement p => $"tube of {DomainWords.Text(p.Bore, "mm")} bore, {DomainWords.Text(p.Length, "mm")} long",
            FittingElement f => f.IsNozzle ? $"nozzle of {DomainWords.Text(f.Bore, "mm")}" : $"fitting of {DomainWords.Text(f.Bore, "mm")}, loss coefficient {Shown.Digits(f.Coefficient, 3)}",
            MagnetElement m => $"magnet of {m.Of.Name}, {DomainWords.Text(m.Length, "mm")} long, {DomainWords.Text(m.Area, "cm2")}",
            BarElement bar when bar.Of.Name == "air" => $"air gap of {DomainWords.Text(bar.Length, "mm")} between faces of {DomainWords.Text(bar.Area, "cm2")}",
            BarElement bar => $"bar of {bar.Of.Name}, {DomainWords.Text(bar.Length, "mm")} long, {DomainWords.Text(bar.Area, "cm2")}",
            StraightElement { Resistance: >= 1e12 } => "nothing flows: a stopper",
            StraightElement straight => d.Domain == BoardDomain.Electric ? $"resistor of {DomainWords.Text(straight.Resistance, "ohm")}" : R(straight.Resistance),
            _ => R(flow == 0 ? 0 : drop / flow),
        };
    }

    // Down to 1, 2 or 5 times a power of ten: scales that can be said aloud.
    private static double Rounded(double value)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(value))), lead = value / power;
        return power * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
    }
}
