using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Motion;

/// <summary>What is asked of a floating body that is let go from rest where it stands: whether it stays, where it goes, how fast it spins, how warm it gets before it comes down.</summary>
internal sealed class FlightMeasures : MeasureFamily
{
    private static readonly MeasureKind
        Drift = new("sideways drift", "of", SubjectKind.Part, "mm", true, "How far a floating ball, disc or ring has gone sideways, a time after it is let go from where it stands."),
        Stay = new("staying time", "of", SubjectKind.Part, "s", false, "Time until a floating ball, disc or ring that is let go from where it stands has strayed by its own radius or come down, warming meanwhile; two minutes at most. The answer says which."),
        ExitSpeed = new("exit speed", "of", SubjectKind.Part, "m/s", false, "Speed of a floating body that runs away, as it has strayed by its own radius."),
        ExitBearing = new("exit bearing", "of", SubjectKind.Part, "deg", false, "Which way a floating body runs away, from the x axis towards y."),
        Spin = new("spin", "of", SubjectKind.Part, "rpm", true, "How fast a floating body turns, a time after it is let go."),
        Turned = new("revolutions", "of", SubjectKind.Part, "rev", true, "How often a floating body has turned, a time after it is let go."),
        Tipped = new("tip", "of", SubjectKind.Part, "deg", true, "How far the axis of a floating disc or ring leans from the vertical, or a mark that was the topmost point of a ball has tipped, a time after it is let go."),
        Landing = new("landing temperature", "of", SubjectKind.Part, "°C", false, "Temperature at which a floating body comes down because it has warmed.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Drift, Stay, ExitSpeed, ExitBearing, Spin, Turned, Tipped, Landing];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Flight;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        Flights.Suits(apparatus) && ReferenceEquals(Flights.Body(apparatus), apparatus.Part(subject!)) ? null : "one ball, or one flat disc or ring, of known mass with 'moves: freely' in a free apparatus, over alternating coils";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        double? after = asked.Kind.NeedsTime ? asked.Measure.After : null;
        if (after > Flights.Longest)
            throw new RouteFailedException(FormattableString.Invariant($"A body is followed for at most {Flights.Longest} s."));
        if (after == 0)
            return asked.Answer(0, 0, Flights.Said);
        var flights = asked.Session!.Fly(asked.Circumstances, after ?? Flights.Longest);
        var course = flights.Course;
        if (asked.Kind == Stay)
            return Said(asked, flights, flights.Of(c => c.Time));
        if (asked.Kind == ExitSpeed || asked.Kind == ExitBearing)
            return course.End != FlightEnd.RanAway ? throw new RouteFailedException("It does not run away: " + flights.Ending)
                : Said(asked, flights, asked.Kind == ExitSpeed ? flights.Of(c => c.Speed(c.Time)) : flights.Of(c => Near(c.Bearing(c.Time), course.Bearing(course.Time))));
        if (asked.Kind == Landing)
            return course.End == FlightEnd.CameDown ? Said(asked, flights, flights.Of(c => c.Temperature(c.Time))) : throw new RouteFailedException("It does not come down: " + flights.Ending);
        double time = after!.Value;
        if (course.Time < time)
            throw new RouteFailedException(flights.Ending);
        return Said(asked, flights, asked.Kind == Drift ? flights.At(time, c => c.Sideways(time)) : asked.Kind == Spin ? flights.At(time, c => c.Spin(time))
            : asked.Kind == Turned ? flights.At(time, c => c.Turned(time)) : flights.At(time, c => c.Tipped(time)));
    }

    private static Answer Said(Asked asked, Flights flights, Estimate estimate) => asked.Answer(estimate.Value, estimate.Bar, asked.Kind.NeedsTime ? "" : flights.Ending, asked.Kind == Stay ? flights.Books : "", Flights.Said);

    // The same direction within half a turn of another.
    private static double Near(double angle, double other) => other + Math.IEEERemainder(angle - other, 2 * Math.PI);
}
