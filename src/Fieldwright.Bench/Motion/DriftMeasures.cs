using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Series;

namespace Fieldwright.Bench.Motion;

/// <summary>Where a floating ball goes that is let go from rest a little out of place: back, or away.</summary>
/// <remarks>m·d²r/dt² = F(r) + weight, F being the mean force of the steady alternating state at each place; leapfrog in equal steps, its error from twice the step.</remarks>
internal sealed class DriftMeasures : MeasureFamily
{
    // Steps of the finer run, s, and the longest that is followed, s.
    private const double Step = 4e-3, Longest = 10;

    private const string Said = "Let go from rest; the forces are those of a ball at rest at each place, without spin, air drag and the lag of its currents.";

    private static readonly MeasureKind
        Drift = new("sideways drift", "of", SubjectKind.Part, "mm", true, "How far a floating ball has gone sideways, a time after it is let go from where it stands."),
        Stay = new("staying time", "of", SubjectKind.Part, "s", false, "Time until a floating ball that is let go from where it stands has strayed by its own radius or come down; ten seconds at most.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Drift, Stay];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Space;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        apparatus.Part(subject!)! is { Shape: BallShape, Freedom: Freedom.Freely } ball && apparatus.Layout == Layout.Free && apparatus.Frequency > 0 && Floats.MassIsKnown(ball)
            ? null : "a ball of known mass with 'moves: freely' in a free apparatus, over alternating coils";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        double until = asked.Kind == Drift ? asked.Measure.After!.Value : Longest;
        if (until > Longest)
            throw new RouteFailedException(FormattableString.Invariant($"A ball is followed for at most {Longest} s."));
        if (until == 0)
            return asked.Answer(0, 0, Said);
        Way coarse = Follow(asked, until, 2 * Step), fine = Follow(asked, until, Step);
        if (asked.Kind == Stay)
            return asked.Answer(fine.Time, Math.Abs(fine.Time - coarse.Time), fine.End, Said);
        return fine.Gone ? throw new RouteFailedException(FormattableString.Invariant($"{fine.End} That was after {fine.Time:0.00} s."))
            : asked.Answer(fine.Sideways, Math.Abs(fine.Sideways - coarse.Sideways), Said);
    }

    private readonly record struct Way(bool Gone, double Time, double Sideways, string End);

    private static Way Follow(Asked asked, double until, double longestStep)
    {
        var part = asked.Apparatus.Part(asked.Measure.Subject!)!;
        double radius = ((BallShape)part.Shape).Radius, mass = Floats.Mass(part), lowest = Floats.Of(asked.Apparatus, part).Lowest;
        var start = new Vector(part.Place.X, part.Place.Y, part.Place.Z);
        Vector place = start, speed = default, push = Push(place);
        int steps = (int)Math.Ceiling(until / longestStep);
        double h = until / steps, before = 0;
        for (int i = 1; i <= steps; i++)
        {
            speed += 0.5 * h * push;
            place += h * speed;
            double sideways = double.Hypot(place.X - start.X, place.Y - start.Y);
            if (sideways > radius)
                return new Way(true, (i - 1 + (radius - before) / (sideways - before)) * h, radius, "It has strayed by its own radius.");
            if (place.Z < lowest)
                return new Way(true, i * h, sideways, "It has come down.");
            push = Push(place);
            speed += 0.5 * h * push;
            before = sideways;
        }

        return new Way(false, until, before, "It is still there.");

        Vector Push(Vector at)
        {
            Setting To(string quantity, double value) => new(new InputName(quantity, part.Name, quantity + " of " + part.Name), value);
            var there = asked.Circumstances.With(To("x", at.X)).With(To("y", at.Y)).With(To("height", at.Z));
            try
            {
                return 1 / mass * asked.Session!.At(there, Wanted.Space, part.Name).Loads[part.Name].Force - new Vector(0, 0, PhysicalConstants.StandardGravity);
            }
            catch (ArgumentException e)
            {
                throw new RouteFailedException("It meets a winding.", e);
            }
        }
    }
}
