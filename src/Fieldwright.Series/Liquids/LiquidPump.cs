using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Liquids;

/// <summary>What a thrust on the liquid in a channel is worth as pressure, head and flow.</summary>
/// <remarks>Exact for a liquid that moves as one piece.</remarks>
/// <source key="White2011" at="pressure, head and the working point of a pump"/>
public static class LiquidPump
{
    /// <summary>Pressure that a thrust on the liquid makes.</summary>
    /// <param name="thrust">Thrust on all the liquid in the channel along it, N.</param>
    /// <param name="width">Width of the channel, m.</param>
    /// <param name="height">Height of the channel, m.</param>
    /// <returns>Pressure, Pa.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    public static double Pressure(double thrust, double width, double height) => Guard.Finite(thrust) / (Guard.Positive(width) * Guard.Positive(height));

    /// <summary>Height to which a pressure lifts a column of the liquid: the head, and the height of a fountain without losses.</summary>
    /// <param name="pressure">Pressure, Pa.</param>
    /// <param name="density">Density of the liquid, kg/m³.</param>
    /// <returns>Height, m.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    public static double Head(double pressure, double density) => Guard.Finite(pressure) / (Guard.Positive(density) * PhysicalConstants.StandardGravity);

    /// <summary>Mean speed at which the pump's pressure equals what the duct and the head take.</summary>
    /// <param name="pumpPressure">Pressure of the pump, Pa, by mean speed of the liquid in its channel, m/s; falling from standstill on.</param>
    /// <param name="neededPressure">Pressure taken by friction and head, Pa, by the same speed; rising.</param>
    /// <param name="fastest">Speed beyond which not to look (the field's speed), m/s.</param>
    /// <returns>The speed, m/s; zero when the pump cannot even hold the head.</returns>
    /// <exception cref="ArgumentException">The fastest speed is not positive, or a pressure is not a number.</exception>
    /// <exception cref="NotConvergedException">The pump still has pressure to spare at the fastest speed.</exception>
    public static double WorkingSpeed(Func<double, double> pumpPressure, Func<double, double> neededPressure, double fastest)
    {
        ArgumentNullException.ThrowIfNull(pumpPressure);
        ArgumentNullException.ThrowIfNull(neededPressure);
        Guard.Positive(fastest);
        double Spare(double v) => Guard.Finite(pumpPressure(v) - neededPressure(v), nameof(pumpPressure));
        if (Spare(0) <= 0)
            return 0;
        // The first crossing: many induction pumps have a hump, where a second one lies.
        double low = 0, high = fastest;
        const int steps = 50;
        var found = false;
        for (var i = 1; i <= steps && !found; i++)
        {
            high = fastest * i / steps;
            if (Spare(high) <= 0)
                found = true;
            else
                low = high;
        }
        if (!found)
            throw new NotConvergedException("The working point of the pump", Spare(fastest) / pumpPressure(0), steps);
        while (high - low > 1e-12 * fastest)
        {
            var middle = 0.5 * (low + high);
            if (middle <= low || middle >= high)
                break;
            if (Spare(middle) > 0)
                low = middle;
            else
                high = middle;
        }
        return 0.5 * (low + high);
    }
}
