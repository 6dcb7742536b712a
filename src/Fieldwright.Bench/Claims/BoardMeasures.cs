using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Series.Jets;

namespace Fieldwright.Bench.Claims;

/// <summary>What is asked of a board of elements: flows through elements, potentials at nodes, each in the words of what flows.</summary>
internal sealed class BoardMeasures : MeasureFamily
{
    private static readonly Dictionary<MeasureKind, BoardDomain> Domains = new()
    {
        [new("flow", "in", SubjectKind.Element, "L/min", false, "Flow of water through an element of a board, from its first node to its second.")] = BoardDomain.Water,
        [new("pressure", "at", SubjectKind.Node, "kPa", false, "Pressure at a node of a board over the basin.")] = BoardDomain.Water,
        [new("current", "in", SubjectKind.Element, "A", false, "Current through an element of a board, from its first node to its second.")] = BoardDomain.Electric,
        [new("voltage", "at", SubjectKind.Node, "V", false, "Voltage at a node of a board over its ground.")] = BoardDomain.Electric,
        [new("flux", "in", SubjectKind.Element, "µWb", false, "Flux through an element of a board, from its first node to its second.")] = BoardDomain.Magnetic,
        [new("magnetic potential", "at", SubjectKind.Node, "A", false, "Magnetic potential at a node of a board over its ground.")] = BoardDomain.Magnetic,
        [new("heat flow", "in", SubjectKind.Element, "W", false, "Heat through an element of a board, from its first node to its second.")] = BoardDomain.Heat,
        [new("temperature", "at", SubjectKind.Node, "°C", false, "Temperature of a node of a board.")] = BoardDomain.Heat,
    };

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [.. Domains.Keys];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Board;

    /// <inheritdoc/>
    public override bool StandsAlone(MeasureKind kind) => true;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        apparatus.Board?.Domain == Domains[kind] ? null : $"a board that carries {Analogues.DomainWords.Of(Domains[kind]).Carries}";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var point = asked.Point(Wanted.Board);
        bool ofElement = asked.Kind.Subject == SubjectKind.Element;
        var found = (ofElement ? point.BoardFlows : point.BoardPotentials)[asked.Measure.Subject!];
        double zero = asked.Kind.Unit == "°C" ? asked.Apparatus.Ambient : 0;
        return asked.Answer(zero + found.Value, found.Bar, point.Remark);
    }
}

/// <summary>What is asked of a ball on a jet of water.</summary>
internal sealed class JetMeasures : MeasureFamily
{
    private const string OfMomentum = "The share of the jet's momentum that carries the ball is taken between a half and all of it.", OfDrag = "Carried by drag in a stream wider than the ball, ±10 %.";

    private static readonly MeasureKind
        Height = new("ball height on jet", "", SubjectKind.Nothing, "mm", false, "Height of the ball's underside above the nozzle that carries it."),
        Least = new("least flow to carry ball", "", SubjectKind.Nothing, "L/min", false, "Flow at which the jet just lifts the ball off its nozzle."),
        Wander = new("ball wander on jet", "", SubjectKind.Nothing, "mm", false, "How far the middle of the ball may lie beside the axis of the jet before it falls.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Height, Least, Wander];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Board;

    /// <inheritdoc/>
    public override bool StandsAlone(MeasureKind kind) => true;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) => apparatus.Board?.Jet is null ? "a board with a 'ball on jet'" : null;

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var board = asked.Apparatus.Board!;
        var jet = board.Jet!;
        var point = asked.Point(Wanted.Board);
        var flow = point.BoardFlows[jet.Nozzle];
        if (!(flow.Value > 0))
            throw new RouteFailedException($"No water leaves '{jet.Nozzle}'.");
        double bore = ((FittingElement)board.Element(jet.Nozzle)!).Bore;
        var ball = new CarriedBall(flow.Value, bore, jet.Radius, jet.Mass);
        if (!ball.IsWithin)
            throw new RouteFailedException("The ball is neither twice as wide as the jet nor within it: neither of the two pictures holds.");
        var (value, bar) = Read(ball);
        // What the flow leaves open comes on top.
        double more = Math.Abs(Read(new CarriedBall(flow.Value + flow.Bar, bore, jet.Radius, jet.Mass)).Value - value);
        if (asked.Kind != Height)
            return asked.Answer(value, bar + more, ball.TurnsTheJet ? OfMomentum : OfDrag);
        if (value + bar < 0)
            throw new RouteFailedException("The jet is too weak: the ball lies on the nozzle.");
        return asked.Answer(Math.Max(0, value), bar + more, ball.TurnsTheJet ? OfMomentum : OfDrag) with { Bound = ball.FreeHeight, BoundRemark = "How high the jet goes without the ball." };

        (double Value, double Bar) Read(CarriedBall b)
        {
            var e = asked.Kind == Height ? b.Height : asked.Kind == Least ? b.LeastFlow : b.Wander;
            return (e.Value, e.Error);
        }
    }
}
