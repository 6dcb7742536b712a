using Fieldwright.Numerics;

namespace Fieldwright.Series.Foil;

/// <summary>A strip of foil that hangs between two supports at one height, bent in one plane, with current through it.</summary>
/// <param name="Length">Length between the supports along the strip, m; longer than their distance.</param>
/// <param name="Width">Width across the plane of bending, m.</param>
/// <param name="Thickness">Thickness, m.</param>
/// <param name="Span">Distance of the supports, m.</param>
/// <param name="Density">Mass over volume, kg/m³.</param>
/// <param name="Young">Young's modulus, Pa; zero for a strip without stiffness.</param>
public sealed record FoilStrip(double Length, double Width, double Thickness, double Span, double Density, double Young)
{
    /// <summary>Weight per length, N/m.</summary>
    public double WeightPerLength => Density * Width * Thickness * Matter.PhysicalConstants.StandardGravity;

    /// <summary>Bending stiffness, N·m²: E w t³/12.</summary>
    /// <source key="Euler1744" at="bending of a thin strip"/>
    public double Stiffness => Young * Width * Math.Pow(Thickness, 3) / 12;

    internal void Check()
    {
        Guard.Positive(Length);
        Guard.Positive(Width);
        Guard.Positive(Thickness);
        Guard.Positive(Span);
        Guard.NotNegative(Density);
        Guard.NotNegative(Young);
        if (Span >= Length)
            throw new ArgumentException(FormattableString.Invariant($"The strip of {Length} m is not longer than the {Span} m between its supports."));
    }
}

/// <summary>The shape of a foil in equilibrium and the forces in it.</summary>
/// <param name="Points">Corners of the chain that stands for it, from the left support to the right one, m: x to the right and z up from the middle between the supports.</param>
/// <param name="Tensions">Tension in each link, N.</param>
/// <param name="Opening">Greatest width of the loop, m.</param>
/// <param name="Depth">How far the lowest point hangs below the supports, m.</param>
/// <param name="MiddleTension">Tension in the middle of the strip, N.</param>
/// <param name="OwnPush">Mean outward force of the foil's own field per length, square to the strip, N/m.</param>
/// <param name="OutsideForce">Force of the field from outside on the whole foil, N: along x and z.</param>
/// <param name="Sideways">Mean displacement of the foil along x from where it hangs by symmetry, m.</param>
public sealed record FoilShape(
    IReadOnlyList<(double X, double Z)> Points, IReadOnlyList<double> Tensions, double Opening, double Depth, double MiddleTension, double OwnPush, (double X, double Z) OutsideForce, double Sideways);
