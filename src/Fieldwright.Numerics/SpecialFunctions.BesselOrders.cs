namespace Fieldwright.Numerics;

public static partial class SpecialFunctions
{
    // From here on Hankel's series for J0 and J1 is good to rounding.
    private const double FarBessel = 30;

    /// <summary>Bessel functions of the first kind of a real argument, all orders from zero at once.</summary>
    /// <param name="x">Argument, finite, zero or more.</param>
    /// <param name="values">Gets J_0(x), J_1(x), …; at most 100 orders. Error some 1e-14 of the largest of them.</param>
    /// <exception cref="ArgumentOutOfRangeException">The argument is negative or not finite, or more than 100 orders are wanted.</exception>
    /// <source key="DLMF" at="10.6.1, 10.12.4, 10.17.3"/>
    public static void BesselJ(double x, Span<double> values)
    {
        Guard.NotNegative(Guard.Finite(x));
        Guard.InRange(values.Length, 0, 100);
        if (values.Length == 0)
            return;
        if (x >= FarBessel && values.Length <= x)
        {
            values[0] = FarBesselJ(0, x);
            if (values.Length > 1)
                values[1] = FarBesselJ(1, x);
            for (var n = 1; n + 1 < values.Length; n++)
                values[n + 1] = 2 * n / x * values[n] - values[n - 1];
            return;
        }
        values.Clear();
        if (x < 1e-150)
        {
            values[0] = 1;
            return;
        }
        // Downwards from an order where they vanish, made true by 1 = J_0 + 2 (J_2 + J_4 + …).
        var start = 2 * ((Math.Max(values.Length, (int)x) + 24 + (int)(0.3 * Math.Sqrt(40 * Math.Max(x, values.Length)))) / 2);
        double above = 0, here = 1e-290, sum = 0;
        for (var n = start; n >= 0; n--)
        {
            if (n < values.Length)
                values[n] = here;
            if ((n & 1) == 0)
                sum += n == 0 ? here : 2 * here;
            var below = 2 * n / x * here - above;
            (above, here) = (here, below);
            if (Math.Abs(here) > 1e250)
            {
                above *= 1e-250;
                here *= 1e-250;
                sum *= 1e-250;
                foreach (ref var value in values)
                    value *= 1e-250;
            }
        }
        for (var n = 0; n < values.Length; n++)
            values[n] /= sum;
    }

    private static double FarBesselJ(int order, double x)
    {
        double mu = 4.0 * order * order, term = 1, p = 1, q = 0;
        for (var k = 1; k < 40; k++)
        {
            var next = term * (mu - (2 * k - 1) * (2 * k - 1)) / (8 * k * x);
            if (Math.Abs(next) >= Math.Abs(term) || Math.Abs(next) < 1e-18)
                break;
            term = next;
            switch (k & 3)
            {
                case 0: p += term; break;
                case 1: q += term; break;
                case 2: p -= term; break;
                default: q -= term; break;
            }
        }
        var (sin, cos) = Math.SinCos(x - (0.5 * order + 0.25) * Math.PI);
        return Math.Sqrt(2 / (Math.PI * x)) * (p * cos - q * sin);
    }
}
