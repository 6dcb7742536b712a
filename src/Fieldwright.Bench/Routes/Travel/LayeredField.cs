using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Series.Layers;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>What a layered field gives at one point of operation.</summary>
/// <param name="Thrust">Thrust on the moving body along the travel, N (torque, N·m, round a centre).</param>
/// <param name="NormalForce">Upward force on it, N; null where it is not known.</param>
/// <param name="Heat">Heat in each part, W.</param>
/// <param name="Voltages">Voltage induced in each winding, peak phasors, V.</param>
internal sealed record LayeredPoint(double Thrust, double? NormalForce, IReadOnlyDictionary<string, double> Heat, IReadOnlyList<Complex> Voltages);

/// <summary>A layer stack as a travelling field of a given reach: how far the next primary is, and how many harmonics are taken.</summary>
internal sealed class LayeredField
{
    private readonly LayerStack stack;
    private readonly TravellingField field;
    private readonly Dictionary<Part, int> layers = new(ReferenceEqualityComparer.Instance);
    private readonly double scale, origin;

    /// <summary>Sets up the field.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="stack">Its layers.</param>
    /// <param name="moves">The body whose thrust is asked, and that moves.</param>
    /// <param name="level">Refinement: each doubles the empty stretch beside the primary and the finest wave.</param>
    /// <param name="empty">Whether all matter is replaced by air.</param>
    public LayeredField(Apparatus apparatus, LayerStack stack, IReadOnlyList<Part> moves, int level, bool empty = false)
    {
        this.stack = stack;
        var sides = stack.IsEndless ? stack.EndlessSides(apparatus) : stack.Sides;
        double length = stack.To - stack.From, fine = 1 << level;
        double period = stack.Shape == StackShape.Rotating ? 2 * Math.PI : stack.IsEndless ? 2 * stack.PolePitch : length + 4 * stack.PolePitch * fine;
        // Some waves over the narrowest side; endless rows have few harmonics and can afford more.
        int harmonics = (int)Math.Ceiling((stack.IsEndless ? 12 : 3) * fine * period / stack.Step);
        // What the period stands for: a part shorter than its row takes its share of an endless one.
        scale = stack.IsEndless && stack.Shape != StackShape.Rotating ? length / period : 1;
        var list = new List<Layer>();
        var bands = new Dictionary<(double, double), int>();
        double reached = stack.Shape == StackShape.Flat ? double.NegativeInfinity : 0;
        var levels = stack.Parts.Select(p => (p.From, p.To, Part: (Part?)p.Part)).Concat(sides.Select(s => (s.From, s.To)).Distinct().Select(b => (b.From, b.To, Part: (Part?)null))).OrderBy(b => b.From).ThenBy(b => b.To).ToList();
        origin = stack.Shape == StackShape.Flat ? levels[0].From : 0;
        foreach (var (from, to, part) in levels)
        {
            if (from > reached + 1e-12)
                list.Add(new Layer(from - reached));
            if (part is null)
                bands[(from, to)] = list.Count;
            if (part is null && from == to)
            {
                // A sheet on the lower face of what comes next.
                reached = to;
                continue;
            }

            if (part is not null)
                layers[part] = list.Count;
            bool moving = part is not null && moves.Contains(part);
            list.Add(part is null || empty ? new Layer(to - from, Moves: moving) : Matter(apparatus, part, to - from, moving));
            reached = to;
        }

        list.Add(new Layer(double.PositiveInfinity));
        int phases = apparatus.Windings.Count;
        // Every band is told of every phase, so that voltages come out in one order.
        var windings = bands.Select(b => new PlacedWinding(new Series.Layers.Winding(
            [.. sides.Where(s => (s.From, s.To) == b.Key).Select(s => new CoilSide(s.Position, s.Width, s.Winding, s.Turns)), new CoilSide(0, 0, phases - 1, 0)], period), b.Value, b.Key.Item1 < b.Key.Item2));
        field = new TravellingField(stack.Shape, list, [.. windings], apparatus.Depth ?? 1, harmonics);
    }

    /// <summary>Forces, heat and voltages at given currents.</summary>
    /// <param name="currents">Peak phasors in the order of the apparatus's windings, A.</param>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <param name="speed">Speed of the moving body, m/s (rad/s).</param>
    public LayeredPoint At(IReadOnlyList<Complex> currents, double frequency, double speed)
    {
        var answer = field.Evaluate(currents, frequency, speed);
        double Share(Part part) => stack.Parts.First(p => ReferenceEquals(p.Part, part)).Share;
        // A body shorter than the row takes its own share of it; its layers share one length.
        double share = layers.Keys.Select(Share).DefaultIfEmpty(1).Min();
        return new LayeredPoint(
            scale * share * answer.Thrust, answer.NormalForce is { } normal ? scale * share * normal : null,
            layers.ToDictionary(l => l.Key.Name, l => scale * Share(l.Key) * answer.LossByLayer[l.Value], StringComparer.OrdinalIgnoreCase),
            [.. answer.Voltages.Select(v => scale * v)]);
    }

    /// <summary>Field at points along the travel and height (or angle and radius) of the apparatus.</summary>
    public IReadOnlyList<StackFieldPoint> Field(IReadOnlyList<Complex> currents, double frequency, double speed, IReadOnlyList<(double Along, double Height)> points) =>
        field.Field(currents, frequency, speed, [.. points.Select(p => (p.Along, p.Height - origin))]);

    private static Layer Matter(Apparatus apparatus, Part part, double thickness, bool moves)
    {
        double conductivity = FieldModels.Conducts(part) ? part.Material.ConductivityAt(apparatus.Ambient) * AcrossWidth.Factor(apparatus, part) : 0;
        double permeability = part.Laminated ? 1 + part.StackingFactor * (part.Material.RelativePermeability - 1) : part.Material.RelativePermeability;
        return new Layer(thickness, conductivity, permeability, moves);
    }
}
