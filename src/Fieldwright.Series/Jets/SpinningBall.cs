using Fieldwright.Numerics;

namespace Fieldwright.Series.Jets;

/// <summary>What a still fluid does to a ball that spins in it.</summary>
public static class SpinningBall
{
    /// <summary>Torque coefficient of a smooth ball that spins in a fluid at rest: torque over ½ρ Ω² R⁵.</summary>
    /// <param name="reynolds">Reynolds number Ω R²/ν; positive.</param>
    /// <returns>A pure number: exact for slow spin, good to some per cent from 20 to 1000 and, while the layer at the equator stays laminar, to perhaps a fifth up to some 4·10⁴.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not positive.</exception>
    /// <source key="Lamb1932" at="slow spin, 16π/Re"/>
    /// <source key="DennisSinghIngham1980"/>
    public static double TorqueCoefficient(double reynolds) => Math.Max(16 * Math.PI / Guard.Positive(reynolds), 6.45 / Math.Sqrt(reynolds) + 32.1 / reynolds);
}
