using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Fieldwright.Matter;

namespace Fieldwright.Fields.Assembly;

/// <summary>Fundamental of H over the amplitude of a sinusoidal B: the effective reluctivity of steel in a harmonic field.</summary>
/// <remarks>H₁ = (4/π)∫₀^{π/2} H(b sin θ) sin θ dθ, by the midpoint rule in θ (off by less than 1e-4 on a table of ordinary steel), at equal steps of b; between them a cubic through values
/// and slopes; beyond them the rule itself. Slopes are those of the cubic, so that Newton's method and dual solutions see the law that is solved. Made once for each curve and stacking factor.</remarks>
internal sealed class SinusoidalLaw : ReluctivityLaw
{
    private const int Points = 96;
    private const int Steps = 512;
    private const double Reach = 2;

    private static readonly double[] Sines = [.. Enumerable.Range(0, Points).Select(k => Math.Sin((k + 0.5) * Math.PI / (2 * Points)))];
    private static readonly ConditionalWeakTable<BhCurve, ConcurrentDictionary<double, SinusoidalLaw>> Made = [];

    private readonly ReluctivityLaw law;
    private readonly double step;
    private readonly double[] strength = new double[Steps + 1];
    private readonly double[] slope = new double[Steps + 1];

    private SinusoidalLaw(ReluctivityLaw law, double last)
    {
        this.law = law;
        step = last / Steps;
        for (var k = 0; k <= Steps; k++) (strength[k], slope[k]) = Fundamental(k * step);
    }

    /// <summary>The law of steel with a curve in stacks of a factor; 1 for solid steel.</summary>
    public static SinusoidalLaw Of(RegionMatter matter)
    {
        var curve = matter.Curve!;
        return Made.GetOrCreateValue(curve).GetOrAdd(matter.StackingFactor, factor => new(Static(matter), Reach * factor * curve.LastFluxDensity));
    }

    public override double Reluctivity(double b)
    {
        if (b == 0) return slope[0];
        if (b >= step * Steps) return Fundamental(b).Strength / b;
        var k = (int)(b / step);
        double t = (b / step) - k, s = 1 - t;
        var value = (s * s * (1 + (2 * t)) * strength[k]) + (t * t * (3 - (2 * t)) * strength[k + 1]) + (step * t * s * ((s * slope[k]) - (t * slope[k + 1])));
        return value / b;
    }

    public override double DifferentialReluctivity(double b)
    {
        if (b >= step * Steps) return Fundamental(b).Slope;
        var k = (int)(b / step);
        double t = (b / step) - k, s = 1 - t;
        return (6 * t * s * (strength[k + 1] - strength[k]) / step) + (s * (1 - (3 * t)) * slope[k]) + (t * ((3 * t) - 2) * slope[k + 1]);
    }

    public override double EnergyDensity(double b) => 0.5 * Reluctivity(b) * b * b;

    /// <summary>H₁ and dH₁/db by the rule itself.</summary>
    private (double Strength, double Slope) Fundamental(double b)
    {
        double h = 0, dh = 0;
        foreach (var sin in Sines)
        {
            var x = b * sin;
            h += law.Reluctivity(x) * x * sin;
            dh += law.DifferentialReluctivity(x) * sin * sin;
        }
        return (2 * h / Points, 2 * dh / Points);
    }
}
