using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Magnetic;

/// <summary>What the path of a flux is made of: a curve of soft steel or a straight line, and how much of the section is metal.</summary>
/// <param name="Curve">Magnetisation curve; null for a straight line.</param>
/// <param name="RelativePermeability">Slope of the straight line over μ₀.</param>
/// <param name="StackingFactor">Share of the section that is metal, above 0, at most 1; the rest is air beside it.</param>
public sealed record PathMatter(BhCurve? Curve, double RelativePermeability = 1, double StackingFactor = 1)
{
    private BhCurve? sinusoidal;

    /// <summary>Flux density over the whole section, T, at a field strength, A/m, with its slope.</summary>
    internal double FluxDensity(double h, bool amplitude, out double slope)
    {
        const double Mu0 = PhysicalConstants.MagneticConstant;
        double b, steep;
        if (Curve is null)
        {
            steep = Mu0 * RelativePermeability;
            b = steep * h;
        }
        else
        {
            var curve = amplitude ? sinusoidal ??= Curve.UnderSinusoidalFlux() : Curve;
            b = curve.FluxDensity(h);
            steep = 1 / curve.DifferentialReluctivity(b);
        }

        slope = StackingFactor * steep + (1 - StackingFactor) * Mu0;
        return StackingFactor * b + (1 - StackingFactor) * Mu0 * h;
    }
}

/// <summary>A path of flux of length l and section A with its own magnetomotive force: Φ = A B((drop + F) / l). Unit of the drop A, of the flow Wb.</summary>
/// <remarks>In alternating work the law between amplitudes under a sinusoidal flux is used; hysteresis and eddy currents are left out.</remarks>
public sealed class Reluctance : FluxPath
{
    private readonly double length, area;
    private readonly PathMatter matter;

    /// <summary>A straight path.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node the flux enters at.</param>
    /// <param name="to">Node it leaves at.</param>
    /// <param name="length">l, m; positive.</param>
    /// <param name="area">A, m²; positive.</param>
    /// <param name="matter">What it is made of.</param>
    /// <param name="force">Magnetomotive force that drives flux from the first node to the second, A.</param>
    /// <param name="forcePhasor">The same in alternating work, peak.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive.</exception>
    public Reluctance(string name, string from, string to, double length, double area, PathMatter matter, double force = 0, Complex forcePhasor = default)
        : base(name, from, to, force, forcePhasor)
    {
        ArgumentNullException.ThrowIfNull(matter);
        this.length = Guard.Positive(length);
        this.area = Guard.Positive(area);
        this.matter = matter;
    }

    private protected override double FluxOf(double force, bool amplitude, out double slope)
    {
        double b = matter.FluxDensity(force / length, amplitude, out slope);
        slope *= area / length;
        return area * b;
    }
}

/// <summary>A sector of a flat ring, its field strength falling as one over the radius: Φ = d ∫ B((drop + F) / (θ r)) dr over the width.</summary>
public sealed class RingSector : FluxPath
{
    private static readonly (double[] Nodes, double[] Weights) Rule = Gauss();
    private readonly double inner, outer, depth, angle;
    private readonly PathMatter matter;

    /// <summary>A sector.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node the flux enters at.</param>
    /// <param name="to">Node it leaves at.</param>
    /// <param name="inner">Inner radius, m; positive.</param>
    /// <param name="outer">Outer radius, m; above the inner.</param>
    /// <param name="depth">Depth, m; positive.</param>
    /// <param name="angle">Angle of the sector, rad; positive.</param>
    /// <param name="matter">What it is made of.</param>
    /// <param name="force">Magnetomotive force that drives flux from the first node to the second, A.</param>
    /// <param name="forcePhasor">The same in alternating work, peak.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is out of range.</exception>
    public RingSector(string name, string from, string to, double inner, double outer, double depth, double angle, PathMatter matter, double force = 0, Complex forcePhasor = default)
        : base(name, from, to, force, forcePhasor)
    {
        ArgumentNullException.ThrowIfNull(matter);
        this.inner = Guard.Positive(inner);
        this.outer = inner + Guard.Positive(outer - inner, nameof(outer));
        this.depth = Guard.Positive(depth);
        this.angle = Guard.Positive(angle);
        this.matter = matter;
    }

    private protected override double FluxOf(double force, bool amplitude, out double slope)
    {
        double flux = 0, half = 0.5 * (outer - inner), middle = 0.5 * (outer + inner);
        slope = 0;
        for (int k = 0; k < Rule.Nodes.Length; k++)
        {
            double r = middle + half * Rule.Nodes[k];
            flux += Rule.Weights[k] * half * matter.FluxDensity(force / (angle * r), amplitude, out double steep);
            slope += Rule.Weights[k] * half * steep / (angle * r);
        }

        slope *= depth;
        return depth * flux;
    }

    private static (double[] Nodes, double[] Weights) Gauss()
    {
        // Six points, degree 11; tabulated values of Abramowitz and Stegun 25.4.
        double[] x = [0.238619186083196909, 0.661209386466264514, 0.932469514203152028], w = [0.467913934572691047, 0.360761573048138608, 0.171324492379170345];
        return ([-x[2], -x[1], -x[0], x[0], x[1], x[2]], [w[2], w[1], w[0], w[0], w[1], w[2]]);
    }
}

/// <summary>A path of flux with a magnetomotive force of its own.</summary>
public abstract class FluxPath : Elements.FlowFromAmplitude
{
    private protected FluxPath(string name, string from, string to, double force, Complex forcePhasor)
        : base(name, from, to)
    {
        Force = Guard.Finite(force);
        Drive = Elements.PotentialSource.Finite(forcePhasor);
    }

    /// <summary>Magnetomotive force that drives flux from the first node to the second, A.</summary>
    public double Force { get; }

    internal override Complex Drive { get; }

    /// <inheritdoc/>
    public override double Flow(double drop, out double slope) => FluxOf(drop + Force, false, out slope);

    /// <inheritdoc/>
    public override double PeakFlow(double peakDrop, out double slope) => FluxOf(peakDrop, true, out slope);

    private protected abstract double FluxOf(double force, bool amplitude, out double slope);
}

/// <summary>A permanent magnet along its length on its recoil line: Φ = A (B_r + μ_rec μ₀ drop / l), driving flux from the first node to the second.</summary>
/// <param name="name">Its name.</param>
/// <param name="from">South end, where the flux enters it.</param>
/// <param name="to">North end, where it leaves.</param>
/// <param name="length">l, m; positive.</param>
/// <param name="area">A, m²; positive.</param>
/// <param name="remanence">B_r, T.</param>
/// <param name="recoilPermeability">Relative recoil permeability; positive.</param>
/// <exception cref="ArgumentOutOfRangeException">A size is out of range.</exception>
public sealed class MagnetPath(string name, string from, string to, double length, double area, double remanence, double recoilPermeability)
    : Elements.FlowFromDrop(name, from, to)
{
    private readonly double area = Guard.Positive(area), remanence = Guard.Finite(remanence),
        permeance = PhysicalConstants.MagneticConstant * Guard.Positive(recoilPermeability) * Guard.Positive(area) / Guard.Positive(length);

    /// <inheritdoc/>
    public override double Flow(double drop, out double slope)
    {
        slope = permeance;
        return area * remanence + permeance * drop;
    }
}
