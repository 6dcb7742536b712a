using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>A conducting body of revolution about z with a rectangular section: disc, plate, ring or tube.</summary>
/// <remarks>Currents flow round the axis only. The body is not magnetic (relative permeability 1).</remarks>
public sealed record RingBody
{
    /// <summary>Describes a body by its section.</summary>
    /// <param name="innerRadius">Inner radius, m; 0 for a disc or plate.</param>
    /// <param name="outerRadius">Outer radius, m.</param>
    /// <param name="zFrom">Height of the lower face, m.</param>
    /// <param name="zTo">Height of the upper face, m.</param>
    /// <param name="conductivity">Conductivity at its temperature, S/m.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is out of range or the conductivity is not positive.</exception>
    public RingBody(double innerRadius, double outerRadius, double zFrom, double zTo, double conductivity)
    {
        InnerRadius = Guard.NotNegative(innerRadius);
        OuterRadius = Guard.Positive(outerRadius);
        ZFrom = Guard.Finite(zFrom);
        ZTo = Guard.Finite(zTo);
        Conductivity = Guard.Positive(conductivity);
        if (outerRadius <= innerRadius)
            throw new ArgumentOutOfRangeException(nameof(outerRadius), outerRadius, FormattableString.Invariant($"must be larger than the inner radius {innerRadius}"));
        if (zTo <= zFrom)
            throw new ArgumentOutOfRangeException(nameof(zTo), zTo, FormattableString.Invariant($"must lie above the lower face {zFrom}"));
    }

    /// <summary>Inner radius, m.</summary>
    public double InnerRadius { get; }

    /// <summary>Outer radius, m.</summary>
    public double OuterRadius { get; }

    /// <summary>Height of the lower face, m.</summary>
    public double ZFrom { get; }

    /// <summary>Height of the upper face, m.</summary>
    public double ZTo { get; }

    /// <summary>Conductivity, S/m.</summary>
    public double Conductivity { get; }

    internal Section Section => new(InnerRadius, OuterRadius, ZFrom, ZTo);
}
