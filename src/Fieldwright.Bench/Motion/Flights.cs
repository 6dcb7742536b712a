using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Matter.Units;
using Fieldwright.Series;

namespace Fieldwright.Bench.Motion;

/// <summary>A floating body let go, followed once as reckoned and again with everything that is not certain: longer steps, better and worse cooling, more drag.</summary>
internal sealed class Flights
{
    /// <summary>The longest that a body is followed, s.</summary>
    public const double Longest = 120;

    /// <summary>What an answer says of how it was let go.</summary>
    public const string Said = "Let go from rest and cold in a steady alternation, in still air; it moves, spins and warms, the coils stay cold.";

    // Error of a step, and what longer steps are held to; drag of a ball is known to 10 %, its spin's beyond slow spin to a fifth.
    private const double Tolerance = 1e-5, Loose = 3e-4, MoreDrag = 1.1, MoreSpinDrag = 1.2;

    private static readonly FlightLaw AsReckoned = new(Tolerance, Cooling.AsReckoned);

    private static readonly FlightLaw[] Otherwise =
    [
        AsReckoned with { Tolerance = Loose }, AsReckoned with { Cooling = Cooling.Better }, AsReckoned with { Cooling = Cooling.Worse }, AsReckoned with { Drag = MoreDrag, SpinDrag = MoreSpinDrag },
    ];

    private readonly BodyCourse[] others;

    private readonly double until;

    private Flights(BodyCourse course, BodyCourse[] others, double until) => (Course, this.others, this.until) = (course, others, until);

    /// <summary>Whether it tells of a time too, with bars or without.</summary>
    public bool Serves(double time, bool bars) => time <= until && (others.Length > 0 || !bars);

    /// <summary>The way as it is reckoned.</summary>
    public BodyCourse Course { get; }

    /// <summary>Whether an apparatus has a body that can be followed so.</summary>
    public static bool Suits(Apparatus apparatus) => apparatus.Layout == Layout.Free && LetsGo(apparatus) && Body(apparatus).Freedom == Freedom.Freely;

    /// <summary>Whether an apparatus has a body that may be let go at all: one ball, or one disc or ring in a free apparatus.</summary>
    public static bool LetsGo(Apparatus apparatus) =>
        apparatus.Layout is Layout.Free or Layout.Round && apparatus.Frequency > 0 && apparatus.Loads.Count == 0
        && apparatus.Parts.Where(p => p.Shape is not ProbeShape).ToList() is [{ Freedom: Freedom.Freely or Freedom.UpAndDown } body] && Floats.MassIsKnown(body)
        && (body.Shape is BallShape || apparatus.Layout == Layout.Free && DiscRoute.Suits(body));

    /// <summary>The body that is let go.</summary>
    public static Part Body(Apparatus apparatus) => apparatus.Parts.First(p => p.Shape is not ProbeShape);

    /// <summary>Follows the body of an apparatus for a time, or until it is gone.</summary>
    /// <param name="apparatus">The apparatus; its body stands where it is let go.</param>
    /// <param name="until">Time after which it is left alone, s; positive.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <param name="switchedOn">Whether it counts that the supplies are switched on as it is let go, somewhere in the cycle.</param>
    /// <param name="bars">Whether it is followed again for the bars; without, all bars are zero.</param>
    /// <exception cref="RouteFailedException">It could not be followed.</exception>
    public static Flights Of(Apparatus apparatus, double until, CancellationToken cancellation, bool switchedOn = false, bool bars = true)
    {
        FlightLaw[] laws = bars ? [AsReckoned, .. Otherwise] : [AsReckoned];
        BodyCourse[] found = [];
        try
        {
            FlyingBody body = FlyingBody.Of(apparatus, Tolerance), loosely = bars ? body.Within(Loose) : body;
            if (bars && switchedOn)
                laws = [.. laws, AsReckoned with { Kick = Kick(body, apparatus) }];
            found = new BodyCourse[laws.Length];
            Parallel.For(0, found.Length, i => found[i] = new BodyFlight(laws[i].Tolerance == Tolerance ? body : loosely, laws[i]).Follow(until, cancellation));
        }
        catch (AggregateException e) when (e.InnerExceptions[0] is RouteFailedException or OperationCanceledException)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(e.InnerExceptions[0]);
        }

        return new Flights(found[0], found[1..], until);
    }

    /// <summary>Height and speed of the body of an apparatus a time after it was let go.</summary>
    /// <exception cref="RouteFailedException">It could not be followed, or is gone by then.</exception>
    public static Flight Released(Apparatus apparatus, double time, CancellationToken cancellation)
    {
        if (time == 0)
            return new Flight(new Estimate(Body(apparatus).Place.Z, 0), new Estimate(0, 0));
        var flights = Of(apparatus, time, cancellation, switchedOn: true);
        return flights.Course.Time < time ? throw new RouteFailedException(flights.Ending)
            : new Flight(flights.At(time, c => c.Height(time)), flights.At(time, c => c.Rising(time))) { Remark = "By the mean force; where in the cycle it is switched on is in the bar. " + Said };
    }

    // Where in the cycle it is switched on may start it with as much speed as lift or weight, whichever is more, gives in a radian: until the induced currents have settled the force beats with the alternation itself.
    private static double Kick(FlyingBody body, Apparatus apparatus)
    {
        double lift;
        try
        {
            lift = body.At(body.Start, body.Axis, default, default, body.Ambient, Loose).Force.Z;
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }

        return Math.Max(lift / body.Mass, PhysicalConstants.StandardGravity) / (2 * Math.PI * apparatus.Frequency);
    }

    /// <summary>Something of how it ended, its bar from the other ways.</summary>
    /// <exception cref="RouteFailedException">The other ways do not end alike.</exception>
    public Estimate Of(Func<BodyCourse, double> what) => others.All(o => o.End == Course.End) ? Estimated(what)
        : throw new RouteFailedException($"Too close to tell how it ends: {Course.End switch { FlightEnd.RanAway => "it runs away", FlightEnd.CameDown => "it comes down", FlightEnd.StillThere => "it stays", _ => "it ends" }} as reckoned, and not so with other steps, cooling or drag.");

    /// <summary>Something at a time, its bar from the other ways.</summary>
    /// <exception cref="RouteFailedException">One of the other ways has ended before.</exception>
    public Estimate At(double time, Func<BodyCourse, double> what) => others.All(o => o.Time >= time) ? Estimated(what)
        : throw new RouteFailedException("It may be gone by then: with other steps, cooling or drag it is.");

    /// <summary>How it ended, in words.</summary>
    public string Ending
    {
        get
        {
            double time = Course.Time, celsius = Course.Temperature(time) - PhysicalConstants.ZeroCelsius;
            return Course.End switch
            {
                FlightEnd.RanAway => FormattableString.Invariant($"It runs away: after {time:0.00} s it has strayed by its own radius, {Degrees(Course.Bearing(time)):0}° from the x axis, at {Course.Speed(time):0.00} m/s."),
                FlightEnd.CameDown => FormattableString.Invariant($"It comes down after {time:0.0} s, at {celsius:0} °C{(Leans(time) ? FormattableString.Invariant($", on its edge, leaning by {Course.Tipped(time) * 180 / Math.PI:0.#}°") : "")}."),
                FlightEnd.NeverRose => "It is not lifted.",
                FlightEnd.MetAWinding => FormattableString.Invariant($"It meets a winding from the side after {time:0.00} s."),
                FlightEnd.Melted => FormattableString.Invariant($"It melts after {time:0.0} s."),
                _ => FormattableString.Invariant($"It is still there after {time:0.##} s, at {celsius:0} °C."),
            } + (Course.IsUndisturbed && Course.End != FlightEnd.NeverRose ? " Nothing pushed it sideways where it was let go: let it go a little beside." : "");
        }
    }

    /// <summary>The books of its energy, in words.</summary>
    public string Books
    {
        get
        {
            var b = Course.Books();
            double all = Math.Abs(b.ByForce) + Math.Abs(b.ByTorque);
            string J(double energy) => Math.Abs(energy) < 1e-9 * all ? "0 J" : SiFormat.Write(energy, "J");
            return $"Of the field's work, {J(b.ByForce)} by force and {J(b.ByTorque)} by torque, {J(b.Motion)} is motion and height, {J(b.Spin)} spin, {J(b.ToAir)} gone to the air"
                + (b.InLandings > 0 ? $", {J(b.InLandings)} to landings" : "") + $"; {J(b.Open)} is not accounted for.";
        }
    }

    private bool Leans(double time) => Course.IsFlat && Course.Tipped(time) > 0.5 * Math.PI / 180;

    // Whole, and never a minus before a nought.
    private static double Degrees(double angle) => Math.Round(angle * 180 / Math.PI) is var whole && whole == 0 ? 0 : whole;

    // Doubts of different kinds add up; better and worse cooling are one doubt.
    private Estimate Estimated(Func<BodyCourse, double> what)
    {
        double value = what(Course);
        if (others.Length == 0)
            return new Estimate(value, 0);
        double[] off = [.. others.Select(o => Math.Abs(what(o) - value))];
        return new Estimate(value, off[0] + Math.Max(off[1], off[2]) + off[3..].Sum());
    }
}
