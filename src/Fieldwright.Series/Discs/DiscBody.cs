using Fieldwright.Numerics;

namespace Fieldwright.Series.Discs;

/// <summary>A flat round disc or ring of metal that is not magnetic.</summary>
public sealed record DiscBody
{
    /// <summary>Describes a disc.</summary>
    /// <param name="innerRadius">Radius of its hole, m; zero for none.</param>
    /// <param name="outerRadius">Outer radius, m; larger than the inner one.</param>
    /// <param name="thickness">Thickness, m; positive. The currents are taken as flowing along the faces only, which holds where it is small beside the radius (for a ring, beside its width).</param>
    /// <param name="conductivity">Conductivity, S/m; positive.</param>
    /// <exception cref="ArgumentException">A number is out of range.</exception>
    public DiscBody(double innerRadius, double outerRadius, double thickness, double conductivity)
    {
        InnerRadius = Guard.NotNegative(innerRadius);
        OuterRadius = Guard.Positive(outerRadius);
        Thickness = Guard.Positive(thickness);
        Conductivity = Guard.Positive(conductivity);
        if (outerRadius <= innerRadius)
            throw new ArgumentOutOfRangeException(nameof(outerRadius), outerRadius, FormattableString.Invariant($"must be larger than the inner radius {innerRadius}"));
    }

    /// <summary>Radius of the hole, m.</summary>
    public double InnerRadius { get; }

    /// <summary>Outer radius, m.</summary>
    public double OuterRadius { get; }

    /// <summary>Thickness, m.</summary>
    public double Thickness { get; }

    /// <summary>Conductivity, S/m.</summary>
    public double Conductivity { get; }
}
