using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Supplies;

/// <summary>A charged capacitor emptied through a coil: the series circuit of R, L and C in closed form.</summary>
/// <param name="PeakCurrent">Highest current, A.</param>
/// <param name="TimeToPeak">When it comes, s.</param>
/// <param name="Reverses">Whether the capacitor is driven below zero.</param>
/// <source key="DesoerKuh1969"/>
public sealed record Discharge(double PeakCurrent, double TimeToPeak, bool Reverses)
{
    /// <summary>The discharge, from i″ + 2a i′ + w² i = 0 with i(0) = 0, i′(0) = V/L, a = R/2L, w² = 1/LC.</summary>
    /// <param name="voltage">Voltage at the start, V; positive.</param>
    /// <param name="capacitance">C, F; positive.</param>
    /// <param name="resistance">R, Ω; not negative.</param>
    /// <param name="inductance">L, H; positive and constant.</param>
    public static Discharge Of(double voltage, double capacitance, double resistance, double inductance)
    {
        double a = 0.5 * Guard.NotNegative(resistance) / Guard.Positive(inductance), w2 = 1 / (inductance * Guard.Positive(capacitance));
        double ratio = Guard.Positive(voltage) / inductance, b2 = w2 - a * a, b = Math.Sqrt(Math.Abs(b2));
        // Close to critical damping both forms run into t e^(−at).
        if (b < 1e-6 * Math.Sqrt(w2))
            return new(ratio / (Math.E * a), 1 / a, false);
        double time = b2 > 0 ? Math.Atan2(b, a) / b : Math.Atanh(b / a) / b;
        double wave = b2 > 0 ? Math.Sin(b * time) : Math.Sinh(b * time);
        return new(ratio / b * Math.Exp(-a * time) * wave, time, b2 > 0);
    }

    /// <summary>Energy stored in a capacitor, J.</summary>
    /// <param name="capacitance">F.</param>
    /// <param name="voltage">V.</param>
    public static double StoredEnergy(double capacitance, double voltage) => 0.5 * capacitance * voltage * voltage;

    /// <summary>Time in which a bleeder brings a capacitor down to a voltage, s; zero when it stands below already.</summary>
    /// <param name="capacitance">F; positive.</param>
    /// <param name="bleeder">Ω; positive.</param>
    /// <param name="voltage">Voltage at the start, V.</param>
    /// <param name="safe">Voltage wanted, V; positive.</param>
    public static double BleedTime(double capacitance, double bleeder, double voltage, double safe) =>
        Guard.Positive(capacitance) * Guard.Positive(bleeder) * Math.Max(0, Math.Log(Math.Abs(voltage) / Guard.Positive(safe)));
}

/// <summary>Switching a coil of constant inductance on to an alternating line.</summary>
public static class Inrush
{
    /// <summary>Highest peak when it is switched on at the worst instant, over the settled peak: 1 for a resistance, towards 2 for a pure inductance.</summary>
    /// <param name="resistance">R, Ω; not negative.</param>
    /// <param name="reactance">X, Ω; positive.</param>
    /// <remarks>
    /// i/Î = sin(ωt + ψ) − sin ψ e^(−ωt R/X), the worst over ψ: for each ωt the largest amplitude of a sine in ψ. Standards on short circuits write 1.02 + 0.98 e^(−3R/X) for it.
    /// Steel that saturates at the first peak draws more; then the line's peak voltage over the resistance is the bound.
    /// </remarks>
    /// <source key="IEC60909"/>
    public static double WorstFactor(double resistance, double reactance)
    {
        double decay = Guard.NotNegative(resistance) / Guard.Positive(reactance), worst = 1;
        // |e^{jωt} − e^{−ωt R/X}| is the largest that the sum reaches at that instant.
        double At(double angle) => Math.Sqrt(1 + Math.Exp(-2 * decay * angle) - 2 * Math.Exp(-decay * angle) * Math.Cos(angle));
        for (int i = 1; i <= 2000; i++)
            worst = Math.Max(worst, At(2 * Math.PI * i / 2000));
        return worst;
    }
}
