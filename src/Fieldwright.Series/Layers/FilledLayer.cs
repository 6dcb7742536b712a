using System.Numerics;
using Fieldwright.Matter;

namespace Fieldwright.Series.Layers;

/// <summary>
/// A layer filled evenly with current: weights l of the two faces (integrals of the shapes that are one at one face and zero at the other, times w) and
/// the integral of the layer's own potential between faces held at zero, per unit current density.
/// </summary>
internal readonly record struct FilledLayer(Complex InnerWeight, Complex OuterWeight, Complex Own, double Area)
{
    /// <summary>A flat layer, conducting or not.</summary>
    public static FilledLayer Flat(double permeability, double thickness, double kappa)
    {
        var mu = PhysicalConstants.MagneticConstant * permeability;
        double k = Math.Abs(kappa), half = k * thickness / 2;
        var weight = Math.Tanh(half) / k;
        // 1 − tanh(h)/h without cancellation for thin layers.
        var rest = half < 0.05 ? half * half / 3 * (1 - 0.4 * half * half + 17.0 / 105 * half * half * half * half) : 1 - Math.Tanh(half) / half;
        return new FilledLayer(weight, weight, mu / (k * k) * thickness * rest, thickness);
    }

    /// <summary>A layer of a rotating stack between radii b and c, m waves round.</summary>
    public static FilledLayer Rotating(double permeability, double b, double c, double kappa)
    {
        var mu = PhysicalConstants.MagneticConstant * permeability;
        var m = (int)Math.Round(Math.Abs(kappa));
        double x = Math.Pow(b / c, m), d = 1 - x * x, log = Math.Log(c / b), b2 = b * b, c2 = c * c;
        // ∫(b/r)^m r dr and ∫(r/c)^m r dr
        var falling = m == 2 ? b2 * log : (c2 * x - b2) / (2 - m);
        var growing = (c2 - b2 * x) / (m + 2);
        var inner = (falling - x * growing) / d;
        var outer = (growing - x * falling) / d;
        // Particular solution −μr²/(4 − m²), or −μr² ln(r/c)/4 for m = 2.
        double atB, atC, whole;
        if (m == 2)
        {
            atB = mu / 4 * b2 * log;
            atC = 0;
            whole = -mu / 4 * (-c2 * c2 / 16 + b2 * b2 / 4 * log + b2 * b2 / 16);
        }
        else
        {
            var factor = -mu / (4 - m * m);
            (atB, atC, whole) = (factor * b2, factor * c2, factor * (c2 * c2 - b2 * b2) / 4);
        }
        return new FilledLayer(inner, outer, whole - atB * inner - atC * outer, (c2 - b2) / 2);
    }
}
