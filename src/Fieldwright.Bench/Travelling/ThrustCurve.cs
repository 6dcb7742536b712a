using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Travelling;

/// <summary>Finds the greatest thrust between standstill and the speed of the field.</summary>
internal static class ThrustCurve
{
    private const int Samples = 16;
    private static readonly double Golden = 0.5 * (Math.Sqrt(5) - 1);

    /// <summary>Speed of greatest thrust, the thrust, and how far the speed may be off.</summary>
    /// <param name="thrust">Thrust at a speed.</param>
    /// <param name="field">Speed of the field, m/s; either sign.</param>
    public static (double Speed, Estimate Thrust, double SpeedBar) Greatest(Func<double, Estimate> thrust, double field)
    {
        // Along the field counts as forwards, whichever way it goes. Slips are sampled evenly in their square root: great goodness crowds the top near the field's speed.
        double way = Math.Sign(field);
        double Speed(double root) => (1 - root * root) * field;
        double Along(double root) => way * thrust(Speed(root)).Value;
        int best = Enumerable.Range(1, Samples).MaxBy(i => Along((double)i / Samples));
        double low = (best - 1.0) / Samples, high = Math.Min(1, (best + 1.0) / Samples);
        double a = high - Golden * (high - low), b = low + Golden * (high - low), fa = Along(a), fb = Along(b);
        while (high - low > 1e-4)
        {
            if (fa > fb)
            {
                (high, b, fb) = (b, a, fa);
                a = high - Golden * (high - low);
                fa = Along(a);
            }
            else
            {
                (low, a, fa) = (a, b, fb);
                b = low + Golden * (high - low);
                fb = Along(b);
            }
        }

        double middle = 0.5 * (low + high);
        var top = thrust(Speed(middle));
        // A flat top hides its place: within the bar of the thrust the speed may lie anywhere. A parabola through neighbours says how wide that is.
        double step = Math.Min(0.02, 0.5 * middle);
        double drop = way * top.Value - 0.5 * (Along(Math.Min(1, middle + step)) + Along(middle - step));
        double width = drop > 0 ? step * Math.Sqrt(top.Bar / drop) : 1;
        return (Speed(middle), top, Math.Abs(field) * (2 * middle * width + width * width + 1e-4));
    }
}
