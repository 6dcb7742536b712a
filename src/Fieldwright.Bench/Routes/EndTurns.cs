using System.Numerics;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Routes;

/// <summary>What a planar field leaves out at either end of the depth: the wire that crosses over there, and the flux that spreads round a gap's ends.</summary>
/// <remarks>
/// The wire adds flux of its own through air. Per length it is of the size that the sides make in air, somewhere between none of it (ends shielded
/// by steel or cancelled by a neighbour) and all of it; so half is added, and that half is the bar. Common practice in machine design, no source.
/// Round a gap the flux spreads at the ends of the depth as it does at the edges in the plane, where the field itself shows by how much; the same per
/// length is added along the two edges that the plane does not see, and half of that is the bar.
/// </remarks>
internal sealed class EndTurns
{
    private readonly double[,] added;

    private EndTurns(double[,] added) => this.added = added;

    /// <summary>The end turns of an apparatus; nothing for a round one.</summary>
    public static EndTurns Of(Apparatus apparatus, Sections sections, CancellationToken cancellation)
    {
        int n = apparatus.Windings.Count;
        var added = new double[n, n];
        if (apparatus.Layout != Layout.Long || n == 0)
            return new EndTurns(added);
        var air = apparatus with { Parts = [.. apparatus.Parts.Select(p => p with { Material = Matter.Materials.Air, Magnetised = null })] };
        var currents = apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.One, StringComparer.OrdinalIgnoreCase);
        var model = FieldModels.Of(air, sections, currents) with { Frequency = 0 };
        var goals = apparatus.Windings.Select(w => (Goal)new FluxLinkageGoal(w.Name, w.Name)).ToList();
        var field = (StaticField)AdaptiveField.Solve(model, goals, new AdaptiveDemand(0.05), null, cancellation).Field;
        var inductance = field.InductanceMatrix();
        double[] ends = [.. apparatus.Windings.Select(w => Warming.MeanTurn(w, apparatus) / (2 * apparatus.Depth!.Value) - 1)];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                added[i, j] = 0.5 * Math.Sqrt(ends[i] * ends[j]) * inductance[i, j];
        return new EndTurns(added);
    }

    /// <summary>Impedances of a field with the ends added, and the relative bar they bring.</summary>
    public (Complex[,] Impedance, double RelativeBar) Added(Apparatus apparatus, HarmonicField field)
    {
        var z = field.ImpedanceMatrix();
        double omega = 2 * Math.PI * apparatus.Frequency, gap = GapFactor(apparatus, field), worst = 0;
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(1); j++)
            {
                z[i, j] = new Complex(z[i, j].Real, gap * z[i, j].Imaginary + omega * added[i, j]);
                if (i == j && added[i, i] > 0)
                    worst = Math.Max(worst, omega * added[i, i] / Math.Abs(z[i, i].Imaginary));
            }

        return (z, worst + 0.5 * (gap - 1));
    }

    /// <summary>Factor by which flux at given currents grows because it also spreads at the ends of the depth round a gap; 1 where there is none.</summary>
    public static double GapFactor(Apparatus apparatus, HarmonicField field)
    {
        if (apparatus.Layout != Layout.Long || apparatus.Parts.FirstOrDefault(p => p.Shape is CoreShape { Gap: > 0 }) is not { } part)
            return 1;
        var core = (CoreShape)part.Shape;
        double width = core.OuterRadius - core.InnerRadius, depth = apparatus.Depth!.Value, angle = core.GapAt * Math.PI / 180;
        double middle = 0.5 * (core.InnerRadius + core.OuterRadius), far = angle + Math.PI;
        Complex across = 0;
        const int Samples = 8;
        for (int i = 0; i < Samples; i++)
        {
            double along = ((i + 0.5) / Samples - 0.5) * core.Gap;
            var b = field.FluxDensity(
                part.Place.X + middle * Math.Cos(angle) - along * Math.Sin(angle),
                part.Place.Y + middle * Math.Sin(angle) + along * Math.Cos(angle));
            across += (-Math.Sin(angle) * b.X + Math.Cos(angle) * b.Y) * core.Gap / Samples;
        }

        double drop = across.Magnitude / Matter.PhysicalConstants.MagneticConstant;
        PlaneVector On(double radius) => new(part.Place.X + radius * Math.Cos(far), part.Place.Y + radius * Math.Sin(far));
        double flux = field.Flux(On(core.InnerRadius), On(core.OuterRadius)).Magnitude;
        double force = apparatus.Windings.Aggregate(Complex.Zero, (sum, w) => sum + w.Turns * field.Current(w.Name)).Magnitude;
        double perDepth = flux / (drop * depth), spread = perDepth - Matter.PhysicalConstants.MagneticConstant * width / core.Gap;
        // Without steel round it a gap guides nothing, and there is no spread to speak of.
        if (!(spread > 0) || !(drop < force))
            return 1;
        double more = spread * width / (perDepth * depth), share = drop / force;
        return 1 / (1 - share * more / (1 + more));
    }
}
