using System.Numerics;
using Fieldwright.Circuits.Elements;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Supplies;

/// <summary>Two coupled windings on one phase, the second through a capacitor.</summary>
/// <param name="Capacitance">C, F.</param>
/// <param name="Direct">Current of the winding straight on the line, A, peak phasor.</param>
/// <param name="Shifted">Current of the winding behind the capacitor, A, peak phasor.</param>
/// <param name="CapacitorVoltage">Voltage over the capacitor, V rms.</param>
/// <param name="Line">Line current, A, peak phasor.</param>
public sealed record PhaseSplit(double Capacitance, Complex Direct, Complex Shifted, double CapacitorVoltage, Complex Line)
{
    /// <summary>Least voltage rating of the capacitor, V rms AC: a quarter above its voltage, for a line that runs high and a tolerance that runs low (common practice, no source).</summary>
    public double CapacitorRating => 1.25 * CapacitorVoltage;

    /// <summary>Phase of the shifted current ahead of the direct one, rad, −π to π.</summary>
    public double PhaseLead => (Shifted / Direct).Phase;

    /// <summary>Energy that may stay in the capacitor when it is cut off at its peak, J: give it a bleeder.</summary>
    public double StoredEnergy => Capacitance * CapacitorVoltage * CapacitorVoltage;

    /// <summary>What results with a given capacitor.</summary>
    /// <param name="impedance">2 × 2 by rows, Ω at the frequency: winding on the line first, the metal that moves or floats reflected into it.</param>
    /// <param name="voltage">Line, V rms.</param>
    /// <param name="frequency">Hz.</param>
    /// <param name="capacitance">F; positive.</param>
    /// <exception cref="IllPosedNetworkException">The impedance matrix is singular.</exception>
    public static PhaseSplit With(ReadOnlySpan<Complex> impedance, double voltage, double frequency, double capacitance)
    {
        var s = new Network()
            .Add(new PotentialSource("line", "l", "0", 0, Guard.Positive(voltage) * Math.Sqrt(2)))
            .Add(new ImpedancePorts("windings", ["l", "0", "c", "0"], impedance))
            .Add(new Capacitor("capacitor", "l", "c", capacitance))
            .Alternating(frequency);
        return new(capacitance, s.Flow("windings", 0), s.Flow("windings", 1), s.Drop("capacitor").Magnitude / Math.Sqrt(2), -s.Flow("line"));
    }

    /// <summary>The capacitor that puts the shifted current a wanted angle ahead of the direct one.</summary>
    /// <param name="impedance">2 × 2 by rows, Ω at the frequency.</param>
    /// <param name="voltage">Line, V rms.</param>
    /// <param name="frequency">Hz.</param>
    /// <param name="lead">Wanted lead, rad, between 0 and π.</param>
    /// <returns>The capacitor and what comes of it, or null when no capacitor reaches that angle.</returns>
    /// <remarks>
    /// With v over both branches, i₁ and i₂ of Z i = (v, v + jX_C i₂): the ratio i₂/i₁ = (Z₁₁ − Z₂₁)/(Z₂₂ − jX_C − Z₁₂), so that its phase moves one way with X_C and the
    /// wanted one is met at most once: Im((Z₁₁ − Z₂₁) e^{−jφ}/(Z₂₂ − Z₁₂ − jX_C)) = 0.
    /// </remarks>
    public static PhaseSplit? For(ReadOnlySpan<Complex> impedance, double voltage, double frequency, double lead)
    {
        Guard.Length(impedance.Length, 4);
        Guard.InRange(lead, 0, Math.PI);
        var top = impedance[0] - impedance[2];
        var bottom = impedance[3] - impedance[1];
        // The phase of (R + j(X − X_C)) must be that of top less the lead; R is what the capacitor cannot change.
        double angle = top.Phase - lead;
        angle = Math.IEEERemainder(angle, 2 * Math.PI);
        if (Math.Cos(angle) * bottom.Real <= 1e-12 * Complex.Abs(bottom))
            return null;
        double reactance = bottom.Imaginary - bottom.Real * Math.Tan(angle);
        return reactance > 0 ? With(impedance, voltage, frequency, 1 / (2 * Math.PI * Guard.Positive(frequency) * reactance)) : null;
    }
}

/// <summary>Values that capacitors and resistors are sold in.</summary>
/// <source key="IEC60063"/>
public static class PreferredValues
{
    private static readonly double[] Twelve = [1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2];

    /// <summary>The nearest value of the E6 or E12 series, by ratio.</summary>
    /// <param name="value">Value wanted; positive.</param>
    /// <param name="perDecade">6 or 12.</param>
    /// <exception cref="ArgumentException">The series is not known.</exception>
    public static double Nearest(double value, int perDecade = 6)
    {
        Guard.Positive(value);
        if (perDecade is not (6 or 12))
            throw new ArgumentException("The series known here are E6 and E12.", nameof(perDecade));
        double decade = Math.Pow(10, Math.Floor(Math.Log10(value)));
        return Enumerable.Range(0, 13).Where(i => perDecade == 12 || i % 2 == 0).Select(i => (i == 12 ? 10 : Twelve[i]) * decade).MinBy(v => Math.Abs(Math.Log(v / value)));
    }
}

/// <summary>A capacitor across a load that carries its reactive current.</summary>
public static class PowerFactor
{
    /// <summary>Capacitance across a load R + jX that brings the line's power factor to a wanted one, F.</summary>
    /// <param name="load">Impedance, Ω, inductive.</param>
    /// <param name="frequency">Hz.</param>
    /// <param name="wanted">Power factor wanted, lagging, above that of the load, at most 1.</param>
    /// <exception cref="ArgumentException">The load is not inductive, or has that power factor already.</exception>
    /// <remarks>To unity it is X/(ω (R² + X²)).</remarks>
    public static double Correction(Complex load, double frequency, double wanted = 1)
    {
        Guard.Positive(load.Real, nameof(load));
        Guard.Positive(load.Imaginary, nameof(load));
        double have = load.Real / load.Magnitude;
        Guard.InRange(wanted, have, 1);
        var y = 1 / load;
        return (-y.Imaginary - y.Real * Math.Tan(Math.Acos(wanted))) / (2 * Math.PI * Guard.Positive(frequency));
    }
}
