using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Fieldwright.Fields;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Analogues;

/// <summary>What a wire board is made of.</summary>
/// <param name="Tubes">Tubes of equal flux, each of which gets a wire; 2 to 60.</param>
/// <param name="WireDiameter">Diameter of the constantan wire, m.</param>
/// <param name="Span">Length of the shortest wire, which is the distance between the rails, m.</param>
/// <param name="Voltage">Voltage between the rails, V.</param>
/// <param name="BarWidth">How much of each wire the copper bar covers, m.</param>
public sealed record WireBoardOptions(int Tubes = 12, double WireDiameter = 0.2e-3, double Span = 0.8, double Voltage = 1.5, double BarWidth = 0.2);

/// <summary>The wire of one tube.</summary>
/// <param name="Number">Its number, from the tube outermost on one side.</param>
/// <param name="Level">Flux function in the middle of its tube, Wb.</param>
/// <param name="AmpereTurns">Ampere-turns that its line of flux goes round, A.</param>
/// <param name="Length">Length of wire to cut, m; null when the wire would be so long that it is left off.</param>
/// <param name="Resistance">Its resistance, Ω.</param>
/// <param name="Current">Its current, A.</param>
public sealed record BoardWire(int Number, double Level, double AmpereTurns, double? Length, double Resistance, double Current);

/// <summary>What another route says of the reluctance that the wires stand for.</summary>
/// <param name="Route">The route.</param>
/// <param name="Reluctance">Reluctance, 1/H.</param>
/// <param name="Bar">Its error bar, 1/H.</param>
public sealed record BoardCheck(RouteName Route, double Reluctance, double Bar);

/// <summary>A board of parallel resistance wires that stands for the flux of an apparatus: a wire for each tube of equal flux of the computed field.</summary>
/// <remarks>
/// Between two rails hangs the voltage that stands for all the ampere-turns Θ. A tube of flux δ whose line goes round F ampere-turns adds F δ to the flux linkage; its wire has the length at which its current
/// stands for δ F / Θ, so that tubes which thread the whole winding get wires of one length and tubes inside the winding longer ones. All wires in parallel then stand for the reluctance that the winding sees,
/// and their current for its mean flux: Σ F δ = Σ i λ, which the routes know by way of the inductances. A magnet drives each line by Bᵣ/(μ₀ μᵣ) along its way through it, so that a line from end to end gets the
/// shortest wire and one that leaves by the side a longer one; then Σ F δ = Σ V Bᵣ B/(μ₀ μᵣ) with B its mean flux density, which the routes know as its working point.
/// </remarks>
public sealed record WireBoard
{
    /// <summary>Resistivity of constantan, Ω m: from memory.</summary>
    public const double Constantan = 0.49e-6;

    // A wire more than this many times the shortest is left off: it would carry next to nothing.
    private const double TooLong = 8;

    private const int Fine = 600;

    private WireBoard(WireBoardOptions options) => Options = options;

    /// <summary>What it is made of.</summary>
    public WireBoardOptions Options { get; }

    /// <summary>All ampere-turns that a line of flux goes round at most, A.</summary>
    public double AmpereTurns { get; private init; }

    /// <summary>Flux of one tube, Wb.</summary>
    public double FluxOfTube { get; private init; }

    /// <summary>Flux that the current of the whole board stands for, Wb: the mean over the turns.</summary>
    public double Flux { get; private init; }

    /// <summary>The same from the field itself, cut as fine as it goes, Wb.</summary>
    public double FluxOfField { get; private init; }

    /// <summary>Flux for each ampere of the board, Wb/A.</summary>
    public double Scale { get; private init; }

    /// <summary>The wires.</summary>
    public IReadOnlyList<BoardWire> Wires { get; private init; } = [];

    /// <summary>Current of the board without a bar, A.</summary>
    public double Current { get; private init; }

    /// <summary>Reluctance that the wires in parallel stand for, A/Wb.</summary>
    public double Reluctance => AmpereTurns / Flux;

    /// <summary>The same reluctance by way of the inductances of other routes; empty when induced currents take part.</summary>
    public IReadOnlyList<BoardCheck> Checks { get; private init; } = [];

    /// <summary>Reading of the meter with the bar pushed in over none, one, two … of the wires, A.</summary>
    public IReadOnlyList<double> Readings { get; private init; } = [];

    /// <summary>Whether magnets drive it, alone or beside windings.</summary>
    public bool HasMagnets { get; private init; }

    /// <summary>What must be known about the checks; empty when nothing.</summary>
    public string Remark { get; private init; } = "";

    /// <summary>Cuts the field of an apparatus into tubes and makes the board.</summary>
    /// <param name="apparatus">A round or long apparatus with magnets, or windings that carry current, or both with direct current.</param>
    /// <param name="state">The state; null for the apparatus as it stands.</param>
    /// <param name="options">What it is made of.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The field could not be found, or there is none of currents.</exception>
    public static WireBoard Of(Apparatus apparatus, string? state, WireBoardOptions options, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        var shown = Circumstances.Of(apparatus, state, []).Apparatus;
        bool magnets = shown.Parts.Any(p => p.Magnetised is not null), fed = shown.Windings.Count > 0 && shown.Supplies.Count > 0;
        if (shown.Layout is not (Layout.Round or Layout.Long) || !(fed || magnets))
            throw new RouteFailedException("Only the flux of magnets and fed windings in a round or long apparatus can be cut into tubes.");
        if (magnets && shown.Frequency > 0)
            throw new RouteFailedException("The flux of the magnets stands still while that of the windings alternates: they share no tubes.");
        var (field, sections) = FieldRoute.Picture(shown, 0.005, cancellation);
        double angle = Instants.Strongest(field);
        var stage = new Stage(sections, shown.Layout == Layout.Round, 0, 0);
        var board = Cut(FieldPlane.Of(field, angle, stage.View, 1.5 / stage.Scale), field.Model, options);
        return board with
        {
            HasMagnets = magnets,
            Checks = !magnets ? Check(shown, angle, cancellation) : fed ? [] : ByWorkingPoints(shown, state, apparatus, board.AmpereTurns, cancellation),
            Remark = shown.Layout == Layout.Long ? "The tubes are those of the section, through its depth; the inductances of the routes also count the flux that goes past the two ends, so that their reluctance is a little less." : "",
        };
    }

    private static WireBoard Cut(FieldPlane plane, Fields.FieldModel model, WireBoardOptions options)
    {
        double low = Math.Min(0, plane.Flux.Min()), high = Math.Max(0, plane.Flux.Max());
        if (!(high > low))
            throw new RouteFailedException("There is no flux.");
        int n = options.Tubes;
        double tube = (high - low) / n;
        double[] levels = [.. Enumerable.Range(0, n).Select(k => low + (k + 0.5) * tube)];
        double[] turns = [.. levels.Select(c => TubeDrive.Of(plane, model, c))];
        double most = turns.Max();
        double whole = Enumerable.Range(0, Fine).Sum(k => TubeDrive.Of(plane, model, low + (k + 0.5) * (high - low) / Fine)) * (high - low) / Fine;
        double perMetre = Constantan / (0.25 * Math.PI * options.WireDiameter * options.WireDiameter), first = options.Voltage / (perMetre * options.Span);
        var wires = new List<BoardWire>();
        for (int k = 0; k < n; k++)
        {
            double share = turns[k] / most, length = share > 0 ? options.Span / share : double.PositiveInfinity;
            bool on = length <= TooLong * options.Span;
            wires.Add(new BoardWire(k + 1, levels[k], turns[k], on ? length : null, on ? perMetre * length : double.PositiveInfinity, on ? first * share : 0));
        }

        double current = wires.Sum(w => w.Current), scale = tube / first;
        return new WireBoard(options)
        {
            AmpereTurns = most, FluxOfTube = tube, Flux = current * scale, FluxOfField = whole / most, Scale = scale, Wires = wires, Current = current,
            Readings = [.. Enumerable.Range(0, n + 1).Where(k => k == 0 || wires[k - 1].Length is not null).Select(k => Reading(wires, k, options, perMetre))],
        };
    }

    // The bar lies across the middle of the span, over the first wires: what it covers carries all its current, and it joins those wires there.
    private static double Reading(IReadOnlyList<BoardWire> wires, int covered, WireBoardOptions options, double perMetre)
    {
        var network = new Network().Add(new PotentialSource("battery", "rail", Network.Reference, options.Voltage));
        double left = 0.5 * (options.Span - options.BarWidth);
        foreach (var wire in wires.Where(w => w.Length is not null))
            if (wire.Number > covered)
                network.Add(new Resistor($"wire {wire.Number}", "rail", Network.Reference, wire.Resistance));
            else
                network.Add(new Resistor($"wire {wire.Number} before", "rail", "bar", perMetre * left))
                    .Add(new Resistor($"wire {wire.Number} beyond", "bar", Network.Reference, perMetre * (wire.Length!.Value - left - options.BarWidth)));
        return -network.Steady().Flow("battery");
    }

    // Σ V Bᵣ B/(μ₀ μᵣ) by the working point of every magnet, of each route that knows them all.
    private static List<BoardCheck> ByWorkingPoints(Apparatus shown, string? state, Apparatus apparatus, double turns, CancellationToken cancellation)
    {
        var panel = new RoutePanel(apparatus, 0.005, cancellation);
        var sums = new Dictionary<RouteName, (double Value, double Bar, int Count)>();
        var magnets = shown.Parts.Where(p => p.Magnetised is not null).ToList();
        foreach (var magnet in magnets)
            if (MeasureReader.TryRead("working flux density of " + magnet.Name, apparatus, out var measure, out _))
                foreach (var answer in panel.Answer(measure, state).Answers.Where(a => a.Route != RouteName.Bound))
                {
                    double drive = Floats.Volume(magnet.Shape, shown.Depth) * magnet.Material.Remanence / (PhysicalConstants.MagneticConstant * magnet.Material.RelativePermeability);
                    var so = sums.GetValueOrDefault(answer.Route);
                    sums[answer.Route] = (so.Value + drive * answer.Value, so.Bar + drive * answer.ErrorBar, so.Count + 1);
                }

        return [.. sums.Where(s => s.Value.Count == magnets.Count).Select(s => new BoardCheck(s.Key, turns * turns / s.Value.Value, turns * turns * s.Value.Bar / (s.Value.Value * s.Value.Value)))];
    }

    // Σ i λ by the inductances of every route that knows them.
    private static List<BoardCheck> Check(Apparatus apparatus, double angle, CancellationToken cancellation)
    {
        if (apparatus.Frequency > 0 && apparatus.Parts.Any(FieldModels.Conducts))
            return [];
        var checks = new List<BoardCheck>();
        foreach (var route in KnownRoutes.OfImpedance(apparatus))
        {
            try
            {
                var point = route.Solve(apparatus, MeasureOnRoute.Inductances, 0.005, cancellation);
                if (point.Inductance is not { } inductance)
                    continue;
                double[] i = [.. apparatus.Windings.Select(w => (point.Currents[w.Name] * System.Numerics.Complex.FromPolarCoordinates(1, angle)).Real)];
                double linked = 0, turns = 0;
                for (int a = 0; a < i.Length; a++)
                {
                    turns += i[a] * apparatus.Windings[a].Turns * (apparatus.Windings[a].Reversed ? -1 : 1);
                    for (int b = 0; b < i.Length; b++)
                        linked += i[a] * inductance[a, b] * i[b];
                }

                checks.Add(new BoardCheck(route.Name, turns * turns / linked, Math.Abs(turns * turns / linked) * (point.ImpedanceRelativeBar + 2 * point.CurrentRelativeBar)));
            }
            catch (RouteFailedException)
            {
                // The route has nothing to say here; the others do.
            }
        }

        return checks;
    }
}
