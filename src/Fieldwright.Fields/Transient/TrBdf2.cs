namespace Fieldwright.Fields;

/// <summary>A step of the trapezoidal rule and of the second backward difference as one Runge–Kutta step of three stages, the first explicit.</summary>
/// <remarks>Second order, L-stable, both implicit stages with the same coefficient <see cref="Diagonal"/>, the last stage being the result; an embedded formula of
/// third order gives the error of the step. The stages' derivatives are those of what is conserved (flux, charge, place, speed), so unknowns without one,
/// as those of the field in air, simply obey their equations at every stage.</remarks>
/// <source key="BankCoughranFichtnerGrosseRoseSmith1985" />
/// <source key="HoseaShampine1996" />
internal static class TrBdf2
{
    private static readonly double Root = Math.Sqrt(2);

    /// <summary>Share of the step at which the second stage stands: 2 − √2.</summary>
    public static readonly double Middle = 2 - Root;

    /// <summary>1 − √2/2.</summary>
    public static readonly double Diagonal = 1 - (Root / 2);

    /// <summary>Weights of the three stages; those of the third stage too.</summary>
    public static readonly double[] Weights = [Root / 4, Root / 4, Diagonal];

    /// <summary>Weights of the embedded formula less <see cref="Weights"/>.</summary>
    public static readonly double[] ErrorWeights =
    [
        ((1 - (Root / 4)) / 3) - (Root / 4),
        (((3 * Root / 4) + 1) / 3) - (Root / 4),
        (Diagonal / 3) - Diagonal,
    ];

    /// <summary>Factor by which the next step may differ from one whose error was this many times the allowed.</summary>
    public static double NextStep(double ratio) => Math.Clamp(0.85 * Math.Pow(Math.Max(ratio, 1e-10), -1.0 / 3), 0.2, 2);
}
