using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Layers;

/// <summary>The designers' factors of flat linear motors.</summary>
/// <remarks>Each holds for the simple picture it names and is a guide beyond; <see cref="TravellingField"/> needs none of them but Carter's.</remarks>
public static class LinearMotorFactors
{
    /// <summary>Goodness factor G = 2μ₀fτ²σt/(πg) of a sheet in a gap.</summary>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <param name="polePitch">Pole pitch τ, m.</param>
    /// <param name="conductivity">Conductivity of the sheet, S/m, already reduced by <see cref="TransverseEdge"/> where the sheet is of finite width.</param>
    /// <param name="thickness">Thickness of the sheet, m; thin against the skin depth and τ/π.</param>
    /// <param name="gap">Whole magnetic gap from iron to iron, m, already lengthened by <see cref="Carter"/>; small against τ/π.</param>
    /// <returns>G, a pure number; thrust is greatest at slip 1/G.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not positive.</exception>
    /// <source key="Laithwaite1965"/>
    public static double Goodness(double frequency, double polePitch, double conductivity, double thickness, double gap) =>
        2 * PhysicalConstants.MagneticConstant * Guard.Positive(frequency) * Guard.Positive(polePitch) * polePitch * Guard.Positive(conductivity)
        * Guard.Positive(thickness) / (Math.PI * Guard.Positive(gap));

    /// <summary>Sheet thrust over its greatest, 2sG/(1 + s²G²), for a thin sheet between iron faces with the current of the winding given.</summary>
    /// <param name="slip">Slip: 1 at standstill, 0 at synchronous speed.</param>
    /// <param name="goodness">Goodness factor.</param>
    /// <returns>Between −1 and 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The slip is not finite or the goodness not positive.</exception>
    /// <source key="Laithwaite1965"/>
    public static double ThrustOverGreatest(double slip, double goodness)
    {
        var x = Guard.Finite(slip) * Guard.Positive(goodness);
        return 2 * x / (1 + x * x);
    }

    /// <summary>Factor by which the conductivity of a sheet is to be multiplied because its currents must close within it beside the winding.</summary>
    /// <remarks>
    /// K = 1 − tanh p/(p(1 + tanh p tanh q)), p = πw/2τ, q = πh/τ. The formula is recalled (Russell and Norsworthy), its paper not opened; derived
    /// again here it is exact for a thin sheet whose own field is small against the winding's (sG well below one), with an even field over the
    /// width w and none over the overhang h. Where the sheet's field counts, the factor is only a guide.
    /// </remarks>
    /// <param name="activeWidth">Width w of the winding's active part across the travel, m.</param>
    /// <param name="overhang">What the sheet overhangs it on each side, m; zero or more.</param>
    /// <param name="polePitch">Pole pitch τ, m.</param>
    /// <returns>K between 0 and 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    /// <source key="RussellNorsworthy1958"/>
    public static double TransverseEdge(double activeWidth, double overhang, double polePitch)
    {
        var p = Math.PI * Guard.Positive(activeWidth) / (2 * Guard.Positive(polePitch));
        var t = Math.Tanh(p);
        // 1 − tanh p/p cancels for narrow windings.
        var narrow = p < 0.02 ? p * p / 3 * (1 - 0.4 * p * p + 17.0 / 105 * p * p * p * p) : 1 - t / p;
        var q = Math.Tanh(Math.PI * Guard.NotNegative(overhang) / polePitch);
        return (narrow + t * q) / (1 + t * q);
    }

    /// <summary>Carter's factor: how much longer a gap seems because one of its faces is slotted.</summary>
    /// <param name="slotWidth">Width s of the slot opening, m; zero or more, below the pitch.</param>
    /// <param name="slotPitch">Slot pitch, m.</param>
    /// <param name="gap">Gap g between the iron faces, m.</param>
    /// <returns>k_C of 1 or more: pitch/(pitch − γg), γ = (4/π)(u atan u − ln √(1 + u²)), u = s/2g; exact for a deep slot alone in an unsaturated face, good while teeth are wider than the gap.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    /// <source key="Carter1901"/>
    public static double Carter(double slotWidth, double slotPitch, double gap)
    {
        Guard.InRange(slotWidth, 0, Guard.Positive(slotPitch));
        var u = slotWidth / (2 * Guard.Positive(gap));
        var gamma = 4 / Math.PI * (u * Math.Atan(u) - 0.5 * Math.Log(1 + u * u));
        return slotPitch / (slotPitch - gamma * gap);
    }
}
