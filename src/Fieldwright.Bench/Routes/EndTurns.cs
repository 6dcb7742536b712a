using System.Numerics;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Routes;

/// <summary>What a planar field leaves out at either end of the depth: the wire that crosses over there, and the flux that spreads round a gap's ends.</summary>
/// <remarks>
/// On a ring of steel both are read off a second plane field (<see cref="FlatFaces"/>). Elsewhere the wire adds flux of its own through air. Per length it is of
/// the size that the sides make in air, somewhere between none of it (ends shielded by steel or cancelled by a neighbour) and all of it; so half is added, and that half is
/// the bar. Common practice in machine design, no source. Between coils on limbs without steel the plane overstates the flux from one to the other besides: in a plane a coil's field falls as the square of
/// the distance, in space as the cube. The mutual inductance then lies between nothing and what the plane says, and the bar reaches to nothing.
/// </remarks>
internal sealed class EndTurns
{
    private readonly double[,] added;
    private readonly double barShare;
    private readonly FlatFaces? faces;
    private readonly bool apart;

    private EndTurns(double[,] added, double barShare, FlatFaces? faces, bool apart = false) => (this.added, this.barShare, this.faces, this.apart) = (added, barShare, faces, apart);

    /// <summary>The end turns of an apparatus; nothing for a round one.</summary>
    public static EndTurns Of(Apparatus apparatus, Sections sections, CancellationToken cancellation)
    {
        int n = apparatus.Windings.Count;
        if (apparatus.Layout != Layout.Long || n == 0)
            return new EndTurns(new double[n, n], 0, null);
        if (FlatFaces.Of(apparatus, cancellation) is { } faces)
            return new EndTurns(faces.Leakage, 0.5, faces);
        var air = apparatus with { Parts = [.. apparatus.Parts.Select(p => p with { Material = Matter.Materials.Air, Magnetised = null })] };
        var currents = apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.One, StringComparer.OrdinalIgnoreCase);
        var model = FieldModels.Of(air, sections, currents) with { Frequency = 0 };
        var goals = apparatus.Windings.Select(w => (Goal)new FluxLinkageGoal(w.Name, w.Name) { Uncorrected = true }).ToList();
        var field = (StaticField)AdaptiveField.Solve(model, goals, new AdaptiveDemand(0.05), null, cancellation).Field;
        var inductance = field.InductanceMatrix();
        double[] ends = [.. apparatus.Windings.Select(w => Warming.MeanTurn(w, apparatus) / (2 * apparatus.Depth!.Value) - 1)];
        var added = new double[n, n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                added[i, j] = 0.5 * Math.Sqrt(ends[i] * ends[j]) * inductance[i, j];
        bool steel = apparatus.Parts.Any(p => p.Material.Curve is not null || p.Material.RelativePermeability > 1);
        return new EndTurns(added, 1, null, !steel && apparatus.Windings.All(w => w.Space is LimbSpace));
    }

    /// <summary>Impedances of a field with the ends added, and the relative bar they bring.</summary>
    public (Complex[,] Impedance, double RelativeBar) Added(Apparatus apparatus, HarmonicField field)
    {
        var z = field.ImpedanceMatrix(corrected: true);
        double omega = 2 * Math.PI * apparatus.Frequency, worst = 0;
        var (gap, gapBar) = GapFactor(apparatus, field);
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(1); j++)
            {
                z[i, j] = new Complex(z[i, j].Real, gap * z[i, j].Imaginary + omega * added[i, j]);
                if (i == j && added[i, i] > 0)
                    worst = Math.Max(worst, barShare * omega * added[i, i] / Math.Abs(z[i, i].Imaginary));
            }

        return (z, Math.Max(worst, Apart((i, j) => z[i, j].Imaginary, apparatus.Windings.Count)) + gapBar);
    }

    /// <summary>Static inductances, H, with the ends added, and the relative bar they bring.</summary>
    public (double[,] Inductance, double RelativeBar) Added(Apparatus apparatus, StaticField field)
    {
        var result = field.InductanceMatrix(corrected: true);
        double worst = 0;
        var (gap, gapBar) = GapFactor(apparatus, field);
        for (int i = 0; i < result.GetLength(0); i++)
            for (int j = 0; j < result.GetLength(1); j++)
            {
                result[i, j] = gap * result[i, j] + added[i, j];
                if (i == j && added[i, i] > 0)
                    worst = Math.Max(worst, barShare * added[i, i] / Math.Abs(result[i, i]));
            }

        return (result, Math.Max(worst, Apart((i, j) => result[i, j], apparatus.Windings.Count)) + gapBar);
    }

    // The closest coupling of two coils, when the plane tells it too large.
    private double Apart(Func<int, int, double> inductance, int count)
    {
        double closest = 0;
        for (int i = 0; apart && i < count; i++)
            for (int j = 0; j < i; j++)
                closest = Math.Max(closest, Math.Abs(inductance(i, j)) / Math.Sqrt(inductance(i, i) * inductance(j, j)));
        return closest;
    }

    /// <summary>Factor by which flux at given currents grows because it also spreads at the flat faces round a gap, and its relative bar; 1 where there is none.</summary>
    public (double Factor, double RelativeBar) GapFactor(Apparatus apparatus, MagneticField field)
    {
        if (faces is not { Spread: > 0 } || apparatus.Parts[0] is not { Shape: CoreShape { Gap: > 0 } core } part)
            return (1, 0);
        double width = core.OuterRadius - core.InnerRadius, depth = apparatus.Depth!.Value, far = core.GapAt * Math.PI / 180 + Math.PI;
        PlaneVector On(double radius) => new(part.Place.X + radius * Math.Cos(far), part.Place.Y + radius * Math.Sin(far));
        var (drop, flux, force) = field is HarmonicField alternating
            ? (Gap.Drop(part, core, alternating.FluxDensity), alternating.Flux(On(core.InnerRadius), On(core.OuterRadius)), Sum(alternating.Current))
            : Still((StaticField)field);
        // Without steel round it a gap guides nothing, and there is no spread to speak of.
        if (!(drop.Magnitude < force.Magnitude) || flux == 0)
            return (1, 0);
        double permeance = flux.Magnitude / drop.Magnitude, share = drop.Magnitude / force.Magnitude;
        double Factor(double spread)
        {
            double more = Math.Max(0, spread) * width / permeance;
            return 1 / (1 - share * more / (1 + more));
        }

        Complex Sum(Func<string, Complex> current) => apparatus.Windings.Aggregate(Complex.Zero, (sum, w) => sum + w.Turns * current(w.Name));

        (Complex, Complex, Complex) Still(StaticField still) => (
            Gap.Drop(part, core, (x, y) => new(still.FluxDensity(x, y).X, still.FluxDensity(x, y).Y)),
            still.Flux(On(core.InnerRadius), On(core.OuterRadius)),
            Sum(name => still.Current(name)));

        double factor = Factor(faces.Spread);
        return (factor, 0.5 * (Factor(faces.Spread + faces.SpreadBar) - Factor(faces.Spread - faces.SpreadBar)) / factor);
    }
}
