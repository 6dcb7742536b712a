using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Travelling;

/// <summary>What is asked of a slug that a row of polyphase coils throws up a tube.</summary>
internal static class LaunchMeasures
{
    private const int Samples = 32, Steps = 4000;

    private const string Steady = "From the steady thrust at each speed, falling in proportion as the slug leaves the row; the lag of the induced currents is left out.";

    /// <summary>Whether a row of polyphase coils throws a part.</summary>
    public static bool Suits(Part part, Apparatus apparatus)
    {
        var lead = apparatus.LeadOf(part);
        return apparatus.Layout == Layout.Round && lead.Freedom == Freedom.UpAndDown && apparatus.FieldSpeed() is > 0 && apparatus.Body(lead).All(Floats.MassIsKnown)
            && lead.Shape is DiscShape or RingShape;
    }

    /// <summary>The shot of a body: its speed as it leaves, the time that took, and the heat left in one part of it.</summary>
    /// <exception cref="RouteFailedException">The slug does not start, or the route could not answer.</exception>
    public static PolyphaseShot Of(Part part, Circumstances circumstances, RouteSession session)
    {
        var apparatus = circumstances.Apparatus;
        var lead = apparatus.LeadOf(part);
        double mass = apparatus.Body(lead).Sum(p => Floats.Mass(p)), hold = mass * PhysicalConstants.StandardGravity + lead.Drag, field = apparatus.FieldSpeed()!.Value;
        // Thrust and heat at even speeds up to a little beyond the field's, once for the whole shot.
        var points = Enumerable.Range(0, Samples + 1).Select(i => session.At(TravelMeasures.AtSpeed(circumstances, lead, 1.1 * field * i / Samples), Wanted.Forces | Wanted.Heat)).ToList();
        double[] thrust = [.. points.Select(p => p.ForceUp[lead.Name].Value)], heat = [.. points.Select(p => p.Heat.TryGetValue(part.Name, out var h) ? h.Value : 0)];
        double relative = points[0].ForceUp[lead.Name].RelativeBar;
        if (thrust[0] <= hold)
            throw new RouteFailedException(FormattableString.Invariant($"It does not start: the thrust at standstill is {thrust[0]:G3} N against a hold of {hold:G3} N."));
        var row = (TubeRow)apparatus.Polyphases()[0].Row;
        double end = row.FromZ + (apparatus.Polyphases()[0].Slots - 1) * row.CoilPitch + row.CoilLength;
        var shot = Shoot(thrust, heat, 1.1 * field, lead.Place.Z, Length(lead.Shape), end, mass, hold);
        // Beyond the row nothing but weight and drag acts. Energy goes with thrust, and speed with its root.
        double beyond = Math.Max(0, (lead.Mouth ?? end) - end), square = shot.Speed * shot.Speed - 2 * hold * beyond / mass;
        if (square <= 0)
            throw new RouteFailedException("It falls back before it has left its tube.");
        double speed = Math.Sqrt(square), time = shot.Time + (beyond > 0 ? 2 * beyond / (shot.Speed + speed) : 0);
        return new PolyphaseShot(new Estimate(speed, 0.5 * relative * shot.Speed * shot.Speed / speed), new Estimate(time, 0.5 * relative * time), new Estimate(shot.Heat, 1.5 * relative * shot.Heat),
            mass, TravelMeasures.Join(points[0].Remark, Steady));
    }

    /// <summary>A shot from rest until the slug's lower end leaves the row: speed, time and heat.</summary>
    /// <param name="thrust">Thrust at even speeds from rest, N.</param>
    /// <param name="heat">Heat at the same speeds, W.</param>
    /// <param name="fastest">Speed of the last sample, m/s.</param>
    /// <param name="start">Lower end of the slug at rest, m.</param>
    /// <param name="length">Length of the slug, m.</param>
    /// <param name="end">Upper end of the row, m.</param>
    /// <param name="mass">Mass, kg.</param>
    /// <param name="hold">Weight and drag, N.</param>
    /// <exception cref="RouteFailedException">It falls back before it has left.</exception>
    internal static (double Speed, double Time, double Heat) Shoot(double[] thrust, double[] heat, double fastest, double start, double length, double end, double mass, double hold)
    {
        double At(double[] table, double v)
        {
            double place = Math.Clamp(v / fastest, 0, 1) * (table.Length - 1);
            int i = Math.Min((int)place, table.Length - 2);
            return table[i] + (place - i) * (table[i + 1] - table[i]);
        }

        double Inside(double z) => Math.Clamp((end - z) / length, 0, 1);
        double Push(double z, double v) => (Inside(z) * At(thrust, v) - hold) / mass;
        // Even steps of a time in which the first push would carry it well beyond the end; midpoint rule.
        double span = end - start, step = 4 * Math.Sqrt(2 * span / Push(start, 0)) / Steps, z = start, v = 0, t = 0, q = 0;
        while (z < end)
        {
            double zm = z + 0.5 * step * v, vm = v + 0.5 * step * Push(z, v);
            (z, v) = (z + step * vm, v + step * Push(zm, vm));
            q += step * Inside(zm) * At(heat, vm);
            t += step;
            if (v < 0 || t > 1000 * step * Steps)
                throw new RouteFailedException("It falls back before it has left its row.");
        }

        // Back to the moment at which it left.
        double over = v > 0 ? (z - end) / v : 0;
        return (v + over * hold / mass, t - over, q);
    }

    private static double Length(Shape shape) => shape is DiscShape d ? d.Thickness : ((RingShape)shape).Height;
}

/// <summary>A shot by a row of polyphase coils.</summary>
/// <param name="Speed">Speed as it leaves, m/s.</param>
/// <param name="Time">Time from rest, s.</param>
/// <param name="Heat">Heat left in the part asked about, J.</param>
/// <param name="Mass">Mass of all that flies, kg.</param>
/// <param name="Remark">What must be known about it.</param>
internal sealed record PolyphaseShot(Estimate Speed, Estimate Time, Estimate Heat, double Mass, string Remark);
