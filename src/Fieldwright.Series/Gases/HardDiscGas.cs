using Fieldwright.Numerics;

namespace Fieldwright.Series.Gases;

/// <summary>Equation of state of a gas of equal hard discs.</summary>
/// <remarks>Valid below freezing, in the mean over many discs and meetings. Both forms agree with simulation to some 0.1 % up to a packing of a half and to 1 to 2 % at 0.69.</remarks>
public static class HardDiscGas
{
    /// <summary>Packing from which the gas begins to freeze; nothing here holds beyond.</summary>
    public const double Freezing = 0.69;

    // B₂ = 2 (in units of the packing), then B₃ to B₁₀ over B₂ⁿ⁻¹; the first two exact.
    private static readonly double[] Ratios =
    [
        1, 4.0 / 3 - 1.7320508075688772 / Math.PI, 2 - 4.5 * 1.7320508075688772 / Math.PI + 10 / (Math.PI * Math.PI),
        0.33355604, 0.1988425, 0.1148728, 0.0649930, 0.0362193, 0.0199537,
    ];

    /// <summary>P A / N k T, and how far two independent forms differ.</summary>
    /// <param name="packing">Share of the area that discs cover, 0 to <see cref="Freezing"/>.</param>
    /// <returns>The value, without unit, and its half-width: the difference between the virial series of ten terms, closed by a geometric tail, and the form of Henderson.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The packing is negative or beyond freezing.</exception>
    /// <source key="ClisbyMcCoy2006" at="table 1"/>
    /// <source key="Henderson1975"/>
    public static Estimate<double> Compressibility(double packing)
    {
        Guard.InRange(packing, 0, Freezing);
        double z = 1, power = 1;
        foreach (double ratio in Ratios)
            z += ratio * (power *= 2 * packing);
        // The ratios fall by about the same factor from term to term.
        double fall = 2 * packing * Ratios[^1] / Ratios[^2];
        z += Ratios[^1] * power * fall / (1 - fall);
        double henderson = Henderson(packing);
        return new Estimate<double>(z, Math.Abs(z - henderson) + 1e-6 * z);
    }

    /// <summary>The ten-term virial series of P A / N k T alone.</summary>
    /// <param name="packing">Share of the area that discs cover, 0 to <see cref="Freezing"/>.</param>
    /// <returns>A pure number, 1 for a thin gas; too low at high packing, where further terms count.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The packing is negative or beyond freezing.</exception>
    /// <source key="ClisbyMcCoy2006" at="table 1"/>
    public static double TenTerms(double packing)
    {
        Guard.InRange(packing, 0, Freezing);
        double z = 1, power = 1;
        foreach (double ratio in Ratios)
            z += ratio * (power *= 2 * packing);
        return z;
    }

    /// <summary>P A / N k T by the form of Henderson: (1 + η²/8)/(1 − η)².</summary>
    /// <param name="packing">Share of the area that discs cover, 0 to <see cref="Freezing"/>.</param>
    /// <returns>A pure number, 1 for a thin gas.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The packing is negative or beyond freezing.</exception>
    /// <source key="Henderson1975"/>
    public static double Henderson(double packing)
    {
        Guard.InRange(packing, 0, Freezing);
        return (1 + packing * packing / 8) / ((1 - packing) * (1 - packing));
    }

    /// <summary>Self-diffusion by Enskog's theory, m²/s: accurate to some per cent at small and medium packing.</summary>
    /// <param name="packing">Packing, 0 to <see cref="Freezing"/>; positive.</param>
    /// <param name="radius">Radius of a disc, m.</param>
    /// <param name="mass">Mass of a disc, kg.</param>
    /// <param name="thermalEnergy">kT, the mean energy of motion of a disc, J.</param>
    /// <returns>D, m²/s: a quarter of the growth of the mean square path over time.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    /// <source key="Gass1971"/>
    public static double SelfDiffusion(double packing, double radius, double mass, double thermalEnergy)
    {
        Guard.InRange(packing, 1e-12, Freezing);
        Guard.Positive(radius);
        Guard.Positive(mass);
        Guard.Positive(thermalEnergy);
        double density = packing / (Math.PI * radius * radius), contact = (Henderson(packing) - 1) / (2 * packing);
        return Math.Sqrt(thermalEnergy / (Math.PI * mass)) / (4 * density * radius * contact);
    }
}
