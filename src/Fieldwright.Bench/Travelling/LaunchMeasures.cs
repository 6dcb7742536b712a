using Fieldwright.Bench.Claims;
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

    /// <summary>The kinds of measure.</summary>
    public static IReadOnlyList<MeasureKind> Kinds { get; } =
    [
        new("mouth speed", "of", SubjectKind.Part, "m/s", false, "Speed at which a slug, started from rest where it lies, leaves the upper end of its row of coils."),
        new("shot time", "of", SubjectKind.Part, "ms", false, "Time from rest until the slug has left the row."),
        new("heat per shot", "in", SubjectKind.Part, "J", false, "Heat that a shot leaves in a part."),
        new("climb", "of", SubjectKind.Part, "mm", false, "Height that a slug rises above its row, air left out."),
    ];

    /// <summary>What a kind needs of an operating point; null for the kinds of others.</summary>
    public static Wanted? NeedsOf(MeasureKind kind) => Kinds.Contains(kind) ? Wanted.Forces | Wanted.Heat | Wanted.Curve : null;

    /// <summary>Whether a kind means something for a part; null for the kinds of others.</summary>
    public static bool? MakesSense(MeasureKind kind, Part part, Apparatus apparatus)
    {
        if (!Kinds.Contains(kind))
            return null;
        var lead = apparatus.LeadOf(part);
        return apparatus.Layout == Layout.Round && lead.Freedom == Freedom.UpAndDown && apparatus.FieldSpeed() is > 0 && apparatus.Body(lead).All(Floats.MassIsKnown)
            && (kind.Name == "heat per shot" || ReferenceEquals(lead, part)) && lead.Shape is DiscShape or RingShape;
    }

    /// <summary>An answer; null for the kinds of others.</summary>
    /// <exception cref="RouteFailedException">The slug does not start, or the route could not answer.</exception>
    public static Answer? Of(MeasureKind kind, Measure measure, Circumstances circumstances, RouteSession session)
    {
        if (!Kinds.Contains(kind))
            return null;
        var apparatus = circumstances.Apparatus;
        var part = apparatus.Part(measure.Subject!)!;
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
        // Energy goes with thrust, and speed with its root.
        string energy = FormattableString.Invariant($"It leaves with {0.5 * mass * shot.Speed * shot.Speed:G3} J; a catcher that brakes with ten times its weight needs {shot.Speed * shot.Speed / (18 * PhysicalConstants.StandardGravity) * 1e3:0} mm.");
        string remark = TravelMeasures.Join(points[0].Remark, Steady);
        return kind.Name switch
        {
            "mouth speed" => new Answer(shot.Speed, 0.5 * relative * shot.Speed, session.Route.Name, TravelMeasures.Join(remark, energy)),
            "shot time" => new Answer(shot.Time, 0.5 * relative * shot.Time, session.Route.Name, remark),
            "climb" => new Answer(shot.Speed * shot.Speed / (2 * PhysicalConstants.StandardGravity), relative * shot.Speed * shot.Speed / (2 * PhysicalConstants.StandardGravity), session.Route.Name, TravelMeasures.Join(remark, energy)),
            _ => new Answer(shot.Heat, 1.5 * relative * shot.Heat, session.Route.Name, remark),
        };
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
