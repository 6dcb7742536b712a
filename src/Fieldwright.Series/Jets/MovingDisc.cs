using Fieldwright.Numerics;

namespace Fieldwright.Series.Jets;

/// <summary>What a still fluid does to a thin round disc that moves or turns in it.</summary>
public static class MovingDisc
{
    /// <summary>Drag coefficient of a thin disc carried flat on through a fluid at rest: drag over ½ρ v² πR².</summary>
    /// <param name="reynolds">Reynolds number of the diameter; positive.</param>
    /// <returns>A pure number: exact for slow motion, 1.17 where the stream breaks away at the rim, to perhaps a fifth between.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not positive.</exception>
    /// <source key="Lamb1932" at="slow motion of a disc broadside on, force 16 μ R v"/>
    /// <source key="Hoerner1965"/>
    public static double DragCoefficient(double reynolds) => 1.17 + 64 / (Math.PI * Guard.Positive(reynolds));

    /// <summary>Torque coefficient of a thin smooth disc, wetted on both faces, that spins about its own axis in a fluid at rest: torque over ½ρ Ω² R⁵.</summary>
    /// <param name="reynolds">Reynolds number Ω R²/ν; positive.</param>
    /// <returns>A pure number: exact for slow spin, good to some per cent while the layer stays laminar (to some 3·10⁵).</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not positive.</exception>
    /// <source key="Lamb1932" at="slow spin of a disc, torque 32/3 μ R³ Ω"/>
    /// <source key="Cochran1934"/>
    public static double TorqueCoefficient(double reynolds) => Math.Max(64 / (3 * Guard.Positive(reynolds)), 3.87 / Math.Sqrt(reynolds));

    /// <summary>Torque coefficient of a thin disc that turns about a diameter in a fluid at rest, every strip taken as carried flat on: torque over ½ρ Ω² R⁵.</summary>
    /// <remarks>∫ 1.17 |x|³ 2√(R² − x²) dx = 1.17 · 8/15 R⁵. A rough number: it does not know of the air it has stirred before.</remarks>
    public static double TurningCoefficient => 1.17 * 8 / 15;
}
