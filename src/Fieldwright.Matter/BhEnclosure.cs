namespace Fieldwright.Matter;

/// <summary>Two monotone curves that enclose whatever a BH table leaves open between its points.</summary>
/// <remarks>
/// The points of the table are taken as true, and so is saturation beyond the last of them. Between two points a curve that bends one way only over them and their neighbours lies
/// between the chord and the lengthened chords on either side; where the bend changes in between, it lies between the two lengthened
/// chords. Both are kept inside the box of the two points, as any monotone curve is, and the curve that is used (<see cref="BhCurve"/>) inside both. A steel that
/// wriggles more between the points than its table shows is not enclosed.
/// H_low(B) ≤ H(B) ≤ H_high(B) gives w_low ≤ w ≤ w_high for w = ∫H dB and, for the conjugates w' = ∫B dH, the reverse order. Immutable; threads may share it.
/// </remarks>
public sealed class BhEnclosure
{
    private const int Between = 16;
    private readonly BhCurve curve;
    private readonly double[] b, low, high, energyLow, energyHigh;

    private BhEnclosure(BhCurve curve, double[] b, double[] low, double[] high)
    {
        (this.curve, this.b, this.low, this.high) = (curve, b, low, high);
        (energyLow, energyHigh) = (Integrate(low), Integrate(high));
    }

    /// <summary>The enclosure of a curve's table.</summary>
    /// <param name="curve">The curve.</param>
    public static BhEnclosure Of(BhCurve curve)
    {
        ArgumentNullException.ThrowIfNull(curve);
        ReadOnlySpan<double> tableB = curve.FluxDensities, tableH = curve.FieldStrengths;
        var (b, low, high) = (new List<double> { 0 }, new List<double> { 0 }, new List<double> { 0 });
        for (int i = 0; i + 1 < tableB.Length; i++)
        {
            double b0 = tableB[i], b1 = tableB[i + 1], h0 = tableH[i], h1 = tableH[i + 1], chord = (h1 - h0) / (b1 - b0);
            double right = i + 2 < tableB.Length ? (tableH[i + 2] - h1) / (tableB[i + 2] - b1) : 1 / PhysicalConstants.MagneticConstant;
            // the bend turns at the origin, of which the table says no more than that the curve rises
            double left = i > 0 ? (h0 - tableH[i - 1]) / (b0 - tableB[i - 1]) : right >= chord ? 0 : double.PositiveInfinity;
            foreach (double at in Places(b0, b1, h0, h1, left, right))
            {
                double onChord = h0 + chord * (at - b0), fromLeft = h0 + left * (at - b0), fromRight = h1 - right * (b1 - at);
                var (lower, upper) = left <= chord && chord <= right ? (Math.Max(fromLeft, fromRight), onChord)
                    : left >= chord && chord >= right ? (onChord, Math.Min(fromLeft, fromRight))
                    : (Math.Min(onChord, Math.Min(fromLeft, fromRight)), Math.Max(onChord, Math.Max(fromLeft, fromRight)));
                double used = curve.FieldStrength(at);
                b.Add(at);
                low.Add(Math.Min(used, Math.Clamp(lower, h0, h1)));
                high.Add(Math.Max(used, Math.Clamp(upper, h0, h1)));
            }
        }

        return new BhEnclosure(curve, [.. b], [.. low], [.. high]);
    }

    /// <summary>Least and greatest field strength, A/m, at a flux density, T.</summary>
    public (double Low, double High) FieldStrength(double fluxDensity)
    {
        double size = Math.Abs(fluxDensity);
        if (size >= b[^1])
            return (curve.FieldStrength(size), curve.FieldStrength(size));
        int i = Interval(b, size);
        double t = (size - b[i]) / (b[i + 1] - b[i]);
        return (low[i] + t * (low[i + 1] - low[i]), high[i] + t * (high[i + 1] - high[i]));
    }

    /// <summary>How much more energy density the upper curve holds at a flux density, J/m³; not negative.</summary>
    /// <param name="fluxDensity">B, T.</param>
    public double EnergyAbove(double fluxDensity)
    {
        double size = Math.Abs(fluxDensity);
        return size >= b[^1] ? energyHigh[^1] - curve.EnergyDensity(b[^1]) : Math.Max(0, Energy(high, energyHigh, size) - curve.EnergyDensity(size));
    }

    /// <summary>How much more coenergy density the lower curve holds at a field strength, J/m³; not negative.</summary>
    /// <param name="fieldStrength">H, A/m.</param>
    public double CoenergyAbove(double fieldStrength)
    {
        double size = Math.Abs(fieldStrength), density = low[^1] <= size ? curve.FluxDensity(size) : At(size);
        double energy = density >= b[^1] ? energyLow[^1] + curve.EnergyDensity(density) - curve.EnergyDensity(b[^1]) : Energy(low, energyLow, density);
        return Math.Max(0, size * density - energy - curve.CoenergyDensity(size));
    }

    // Flux density on the lower curve; where it is flat any of the densities gives the same coenergy.
    private double At(double strength)
    {
        int i = Interval(low, strength);
        double rise = low[i + 1] - low[i];
        return rise > 0 ? b[i] + (strength - low[i]) / rise * (b[i + 1] - b[i]) : b[i];
    }

    private double Energy(double[] h, double[] energy, double density)
    {
        int i = Interval(b, density);
        double t = (density - b[i]) / (b[i + 1] - b[i]);
        return energy[i] + (density - b[i]) * (h[i] + 0.5 * t * (h[i + 1] - h[i]));
    }

    private double[] Integrate(double[] h)
    {
        var result = new double[h.Length];
        for (int i = 1; i < h.Length; i++)
            result[i] = result[i - 1] + 0.5 * (b[i] - b[i - 1]) * (h[i] + h[i - 1]);
        return result;
    }

    // Even steps to follow the smooth curve, and the kinks of the enclosing lines.
    private static SortedSet<double> Places(double b0, double b1, double h0, double h1, double left, double right)
    {
        var places = new SortedSet<double> { b1 };
        for (int k = 1; k < Between; k++)
            Take(b0 + (b1 - b0) * k / Between);
        Take(b0 + (h1 - h0) / left);
        Take(b1 - (h1 - h0) / right);
        if (left != right)
            Take((h1 - h0 - right * b1 + left * b0) / (left - right));
        return places;

        void Take(double at)
        {
            if (at > b0 && at < b1)
                places.Add(at);
        }
    }

    private static int Interval(double[] x, double value)
    {
        int found = Array.BinarySearch(x, value);
        return Math.Clamp(found >= 0 ? found : ~found - 1, 0, x.Length - 2);
    }
}
