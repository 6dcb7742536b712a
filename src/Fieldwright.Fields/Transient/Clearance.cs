using Fieldwright.Geometry;

namespace Fieldwright.Fields.Transient;

/// <summary>Air left in the mesh between a body on its stop and what it lies against, so that it can come away: a fiftieth of the body's smaller side.</summary>
/// <remarks>So near the body feels the force it has at that distance. Contact is never perfect; for a disc 3 mm thick it is 0.06 mm, and its lift there is about 1 % below that in contact.</remarks>
internal sealed class Clearance
{
    private const double Share = 0.02;
    private readonly double[] lowest, highest;

    public Clearance(TransientModel model)
    {
        lowest = [.. model.Bodies.Select((b, i) => b.LowestDisplacement + Missing(model, i, b.LowestDisplacement))];
        highest = [.. model.Bodies.Select((b, i) => b.HighestDisplacement - Missing(model, i, b.HighestDisplacement))];
    }

    /// <summary>Displacements for the mesh.</summary>
    public double[] Of(double[] displacements) => [.. displacements.Select((d, b) => Math.Max(lowest[b], Math.Min(highest[b], d)))];

    /// <summary>The smaller side of a body's box, m.</summary>
    public static double Reach(TransientModel model, MovingBody body)
    {
        var points = model.Field.Parts.Where(p => body.Regions.Contains(p.Region)).SelectMany(p => p.Edges).SelectMany(OpenSpace.Samples).ToList();
        return Math.Min(points.Max(p => p.X) - points.Min(p => p.X), points.Max(p => p.Y) - points.Min(p => p.Y));
    }

    /// <summary>The model with its bodies displaced.</summary>
    public static FieldModel Moved(TransientModel model, double[] displacements)
    {
        var parts = model.Field.Parts.ToArray();
        for (var b = 0; b < displacements.Length; b++)
        {
            var body = model.Bodies[b];
            var by = model.Field.Symmetry == Symmetry.Round
                ? new Point(0, displacements[b])
                : new Point(displacements[b] * body.Direction.X, displacements[b] * body.Direction.Y);
            for (var p = 0; p < parts.Length; p++)
                if (body.Regions.Contains(parts[p].Region)) parts[p] = new Outline(parts[p].Region, [.. parts[p].Edges.Select(e => Shift(e, by))]);
        }
        return model.Field with { Parts = parts };
    }

    private static Edge Shift(Edge edge, Point by) => edge switch
    {
        ArcEdge arc => new ArcEdge(arc.From + by, arc.To + by, arc.Centre + by, arc.CounterClockwise),
        _ => new LineEdge(edge.From + by, edge.To + by),
    };

    /// <summary>How much nearer than it should a stop lets a body come to other matter.</summary>
    private static double Missing(TransientModel model, int body, double stop)
    {
        if (!double.IsFinite(stop)) return 0;
        var displacements = new double[model.Bodies.Count];
        displacements[body] = stop;
        var parts = Moved(model, displacements).Parts;
        var own = parts.Where(p => model.Bodies[body].Regions.Contains(p.Region)).ToList();
        var others = parts.Where(p => !model.Bodies.Any(b => b.Regions.Contains(p.Region))).ToList();
        if (others.Count == 0) return 0;
        var gap = own.Min(o => others.Min(o.DistanceTo));
        return Math.Max(0, (Share * Reach(model, model.Bodies[body])) - gap);
    }
}
