using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Matter.Windings;

namespace Fieldwright.Bench.Windings;

/// <summary>What a winding takes and has: wire, layers, fill, resistance hot and on alternating current, time constant.</summary>
internal sealed class WindingMeasures : MeasureFamily
{
    // A nominal wire's resistance, and with it its mass, may lie a per cent or two off (common practice, no source).
    private const double WireSpread = 0.02;

    private static readonly MeasureKind
        Wire = new("wire length", "of", SubjectKind.Winding, "m", false, "Length of wire, terminals not counted."),
        Mass = new("wire mass", "of", SubjectKind.Winding, "g", false, "Mass of the metal."),
        Layers = new("layers", "of", SubjectKind.Winding, "", false, "Layers of wire, the last one perhaps not full."),
        Room = new("turns that fit", "in", SubjectKind.Winding, "", false, "Turns its space holds when wound square, turn over turn."),
        Fill = new("fill", "of", SubjectKind.Winding, "%", false, "Metal over the space of the winding."),
        Density = new("current density", "in", SubjectKind.Winding, "A/mm2", false, "Current over metal section, rms when it alternates."),
        Hot = new("hot resistance", "of", SubjectKind.Winding, "ohm", false, "Resistance at the highest temperature of its insulation class."),
        Swinging = new("alternating resistance", "of", SubjectKind.Winding, "ohm", false, "Resistance of the wire at the frequency of the supply, crowding of the current by its own layers included."),
        TimeConstant = new("time constant", "of", SubjectKind.Winding, "ms", false, "Inductance over resistance at the temperature of the hall.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Wire, Mass, Layers, Room, Fill, Density, Hot, Swinging, TimeConstant];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) =>
        kind == TimeConstant ? MeasureOnRoute.Inductances : kind == Density ? UnlessImposed(apparatus) : Wanted.None;

    /// <inheritdoc/>
    public override bool StandsAlone(MeasureKind kind) => kind != Density;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        kind == Swinging && apparatus.Frequency == 0 ? "an alternating supply" : null;

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var (kind, winding, apparatus) = (asked.Kind, asked.Winding, asked.Apparatus);
        if (kind == TimeConstant)
        {
            var point = asked.Point(MeasureOnRoute.Inductances);
            int i = apparatus.IndexOf(winding);
            double tau = (point.Inductance ?? throw new RouteFailedException("The route gave no inductances."))[i, i] / Warming.Resistance(winding, apparatus);
            return asked.Answer(tau, tau * (point.ImpedanceRelativeBar + WireSpread), point.Remark);
        }

        if (kind == Density)
        {
            var point = asked.Point(asked.Session is null ? Wanted.None : Wanted.Impedance);
            double density = point.Currents[winding.Name].Magnitude / asked.Root / Conductor(winding).Section;
            return asked.Answer(density, density * point.CurrentRelativeBar, point.Remark);
        }

        var analysis = Analysis(winding, apparatus, out double room, out string loose);
        double limit = InsulationClasses.Limit(winding.ThermalClass);
        return kind switch
        {
            _ when kind == Wire => asked.Answer(analysis.Length, WireSpread * analysis.Length, "Terminals are not counted."),
            _ when kind == Mass => asked.Answer(analysis.Mass ?? throw new RouteFailedException($"The density of {winding.Wire.Metal.Name} is not known."), WireSpread * analysis.Mass.Value),
            _ when kind == Layers => asked.Answer(analysis.Layers, 0, loose),
            _ when kind == Room => asked.Answer(room, 0, "Wound square, turn over turn; nested layers hold up to 15 % more."),
            _ when kind == Fill => asked.Answer(analysis.Fill, 0, loose),
            _ when kind == Hot => asked.Answer(analysis.Resistance(limit), WireSpread * analysis.Resistance(limit), string.Create(CultureInfo.InvariantCulture, $"At {limit - PhysicalConstants.ZeroCelsius:0} °C, the limit of class {winding.ThermalClass}.")),
            _ => Alternating(asked, analysis),
        };
    }

    /// <summary>The conductor of a winding.</summary>
    public static Conductor Conductor(Winding winding) => new(winding.Wire.BareDiameter, winding.Wire.OverallDiameter, winding.Wire.Metal, winding.Wire.Strands, winding.Wire.Twist);

    /// <summary>A winding as its wire fills its space; turns that only fit nested are reckoned as if the space were a little larger.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    /// <param name="room">Turns the space holds wound square.</param>
    /// <param name="remark">What must be known about it; empty when it fits square.</param>
    public static WindingAnalysis Analysis(Winding winding, Apparatus apparatus, out double room, out string remark)
    {
        var conductor = Conductor(winding);
        var (build, length) = Space(winding);
        // Every coil of a phase has all the turns: the wire is as long as if a turn went round all of them.
        double turn = Warming.WireLength(winding, apparatus) / winding.Turns;
        room = WindingAnalysis.RoomIn(conductor, build, length);
        remark = winding.Turns > room ? "It fits only nested or wound a little higher: wound square the space holds fewer turns." : "";
        return WindingAnalysis.In(conductor, winding.Turns, build, length, turn);
    }

    /// <summary>Thickness and length of the space of a winding, m.</summary>
    public static (double Build, double Length) Space(Winding winding) => winding.Space switch
    {
        RoundSpace r => (r.OuterRadius - r.InnerRadius, r.ToZ - r.FromZ),
        LimbSpace l => (l.Build, l.Length),
        FrameSpace f => (f.Build, f.ToZ - f.FromZ),
        TwoSides s => (Math.Min(s.Out.Width, s.Into.Width), Math.Min(s.Out.Height, s.Into.Height)),
        PhaseSpace { Of.Row: TubeRow t } => (t.Build, t.CoilLength),
        PhaseSpace p => p.Of.CoilSide,
        _ => throw new ArgumentException($"The space of winding '{winding.Name}' is not known.", nameof(winding)),
    };

    private static Answer Alternating(Asked asked, WindingAnalysis analysis)
    {
        double direct = analysis.Resistance(asked.Apparatus.Ambient), factor = LayerLoss.Factor(analysis, asked.Apparatus.Frequency, asked.Apparatus.Ambient);
        // Strands that never change places may at worst act as one solid wire of their section.
        var wire = analysis.Conductor;
        double solid = wire is { Strands: > 1, Twist: 1 } ? LayerLoss.Factor(WindingAnalysis.In(wire with { BareDiameter = wire.BareDiameter * Math.Sqrt(wire.Strands), OverallDiameter = wire.OverallDiameter * Math.Sqrt(wire.Strands), Strands = 1 },
            analysis.Turns, Space(asked.Winding).Build, Space(asked.Winding).Length, analysis.MeanTurn), asked.Apparatus.Frequency, asked.Apparatus.Ambient) : factor;
        // An open coil's field spreads, so that the rise may be a good deal less than the layers say.
        return asked.Answer(direct * factor, WireSpread * direct + 0.5 * direct * (factor - 1) + direct * Math.Max(0, solid - factor), string.Create(CultureInfo.InvariantCulture,
            $"{factor:0.####} times the direct-current resistance by Dowell's layers; an open coil may rise by half as much."), solid > factor * 1.0005
            ? string.Create(CultureInfo.InvariantCulture, $"Strands side by side that do not change places drive currents round one another, at worst as in one solid wire ({solid:0.####} times); litz does not.") : "");
    }
}
