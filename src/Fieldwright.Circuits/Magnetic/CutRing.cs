using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Magnetic;

/// <summary>A ring core of rectangular section, closed or with one gap with parallel faces, as reluctances in series.</summary>
/// <remarks>
/// The field in the steel is taken as even over the section and the mean path as the length, which serves while the ring is thinner than its radius.
/// The gap spreads its flux by the probable flux paths of Roters: half cylinders and half annuli along the edges, sphere octants at the corners.
/// Flux that leaves the steel elsewhere is not in this class; see <see cref="WindingLeakage"/>.
/// </remarks>
/// <source key="Roters1941" at="chapter 5"/>
public sealed record CutRing
{
    /// <summary>A ring by its sizes and steel.</summary>
    /// <param name="innerRadius">Inner radius, m.</param>
    /// <param name="outerRadius">Outer radius, m.</param>
    /// <param name="depth">Height of the section along the axis, m.</param>
    /// <param name="gap">Width of the cut, m; 0 when closed.</param>
    /// <param name="curve">Magnetisation curve of the steel, or null for constant permeability.</param>
    /// <param name="relativePermeability">Relative permeability when there is no curve.</param>
    /// <param name="stackingFactor">Share of the section that is steel, 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is out of range.</exception>
    public CutRing(double innerRadius, double outerRadius, double depth, double gap, BhCurve? curve, double relativePermeability = 1, double stackingFactor = 1)
    {
        InnerRadius = Guard.Positive(innerRadius);
        OuterRadius = Guard.InRange(outerRadius, innerRadius * (1 + 1e-9), double.MaxValue);
        Depth = Guard.Positive(depth);
        Gap = Guard.InRange(gap, 0, 2 * innerRadius);
        Curve = curve;
        RelativePermeability = Guard.Positive(relativePermeability);
        StackingFactor = Guard.InRange(stackingFactor, 0.01, 1);
    }

    /// <summary>Inner radius, m.</summary>
    public double InnerRadius { get; }

    /// <summary>Outer radius, m.</summary>
    public double OuterRadius { get; }

    /// <summary>Height of the section along the axis, m.</summary>
    public double Depth { get; }

    /// <summary>Width of the cut, m.</summary>
    public double Gap { get; }

    /// <summary>Magnetisation curve of the steel; null for constant permeability.</summary>
    public BhCurve? Curve { get; }

    /// <summary>Relative permeability when there is no curve.</summary>
    public double RelativePermeability { get; }

    /// <summary>Share of the section that is steel.</summary>
    public double StackingFactor { get; }

    /// <summary>Section of the limb, m², insulation included.</summary>
    public double Section => Width * Depth;

    /// <summary>Mean path in the steel, m.</summary>
    public double SteelLength => Math.PI * (InnerRadius + OuterRadius) - Gap;

    /// <summary>Permeance of the gap between the faces alone, H; infinite when closed.</summary>
    public double FacePermeance => Gap == 0 ? double.PositiveInfinity : PhysicalConstants.MagneticConstant * Section / Gap;

    /// <summary>Permeance that the spreading of the flux round the gap adds, H.</summary>
    public double FringingPermeance
    {
        get
        {
            if (Gap == 0)
                return 0;
            // How far up the sides of the limb the spread reaches: as far as half the width, beyond which other paths take over.
            double reach = 0.5 * Math.Min(Width, Depth), edges = 2 * (Width + Depth);
            double alongEdges = edges * (0.26 + Math.Log(1 + 2 * reach / Gap) / Math.PI);
            double atCorners = 4 * (0.077 * Gap + 0.25 * reach);
            return PhysicalConstants.MagneticConstant * (alongEdges + atCorners);
        }
    }

    /// <summary>Reluctance of the gap with its fringing, A/Wb.</summary>
    public double GapReluctance => Gap == 0 ? 0 : 1 / (FacePermeance + FringingPermeance);

    private double Width => OuterRadius - InnerRadius;

    /// <summary>Reluctance of the steel at a peak flux, A/Wb: magnetomotive force over flux.</summary>
    /// <param name="flux">Flux, Wb peak.</param>
    public double SteelReluctance(double flux)
    {
        double reluctivity = Curve is null
            ? 1 / (PhysicalConstants.MagneticConstant * RelativePermeability)
            : Curve.Reluctivity(flux / (Section * StackingFactor));
        return reluctivity * SteelLength / (Section * StackingFactor);
    }

    /// <summary>Flux, Wb, that a magnetomotive force drives: the root of F = (R_steel(Φ) + R_gap) Φ.</summary>
    /// <param name="force">Magnetomotive force, A, not negative; peak when it alternates.</param>
    public double Flux(double force)
    {
        Guard.NotNegative(force);
        double low = 0, high = force / (SteelReluctance(0) + GapReluctance);
        // The reluctance may first fall with flux, so the first guess is no upper bound: widen until it is.
        while ((SteelReluctance(high) + GapReluctance) * high < force)
            high *= 2;
        for (int i = 0; i < 200 && high - low > 1e-14 * high; i++)
        {
            double middle = 0.5 * (low + high);
            if ((SteelReluctance(middle) + GapReluctance) * middle < force)
                low = middle;
            else
                high = middle;
        }

        return 0.5 * (low + high);
    }

    /// <summary>Pull that closes the gap, N, at a flux, Wb: ½Φ²·dR/dg by the change of the gap's reluctance; the mean over a cycle is half of it at peak flux.</summary>
    /// <param name="flux">Flux, Wb.</param>
    public double Pull(double flux)
    {
        if (Gap == 0)
            throw new InvalidOperationException("A closed ring has no gap to pull together.");
        double step = 1e-4 * Gap;
        double slope = (WithGap(Gap + step).GapReluctance - WithGap(Gap - step).GapReluctance) / (2 * step);
        return 0.5 * flux * flux * slope;
    }

    private CutRing WithGap(double gap) => new(InnerRadius, OuterRadius, Depth, gap, Curve, RelativePermeability, StackingFactor);
}
