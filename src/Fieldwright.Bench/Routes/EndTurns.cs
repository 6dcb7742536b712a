using System.Numerics;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Routes;

/// <summary>What a planar field leaves out of a coil on a limb: the wire that crosses over at either end of the depth.</summary>
/// <remarks>
/// The ends add flux of their own through air. Per length it is of the size that the sides make in air, somewhere between none of it (ends shielded
/// by steel or cancelled by a neighbour) and all of it; so half is added, and that half is the bar. Common practice in machine design, no source.
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

    /// <summary>An impedance matrix with the ends added.</summary>
    public Complex[,] Added(Complex[,] z, double frequency)
    {
        var sum = (Complex[,])z.Clone();
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(1); j++)
                sum[i, j] += new Complex(0, 2 * Math.PI * frequency * added[i, j]);
        return sum;
    }

    /// <summary>The bar they bring, as a share of the impedance they are added to; the largest of all windings.</summary>
    public double RelativeBar(Complex[,] z, double frequency)
    {
        double worst = 0;
        for (int i = 0; i < z.GetLength(0); i++)
            if (added[i, i] > 0)
                worst = Math.Max(worst, 2 * Math.PI * frequency * added[i, i] / Math.Abs(z[i, i].Imaginary));
        return worst;
    }
}
