using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Numerics.Ordinary;
using Fieldwright.Series;

namespace Fieldwright.Bench.Motion;

/// <summary>What a flight is reckoned with, so that it can be reckoned otherwise for its bar.</summary>
/// <param name="Tolerance">Relative error of steps; forces are found ten times closer.</param>
/// <param name="Cooling">How well the body is cooled.</param>
/// <param name="Drag">Factor on the drag of air on its way.</param>
/// <param name="SpinDrag">Factor on the drag of air on its spin.</param>
/// <param name="Kick">Speed upwards it starts with, m/s.</param>
internal sealed record FlightLaw(double Tolerance, Cooling Cooling, double Drag = 1, double SpinDrag = 1, double Kick = 0);

/// <summary>A floating body let go from rest, followed in all six degrees of freedom while it warms.</summary>
/// <remarks>
/// m dv/dt = mean force of the field + weight + drag of air; dL/dt = mean torque + drag of air, L = I·Ω; the attitude turns with Ω; C dT/dt = induced heat − convection − radiation, the conductivity following T. Force,
/// torque and heat are those of a body that moves, spins and is warm (<see cref="FlyingBody"/>), in currents that follow its place at once. What lies under it takes all of the speed with which its lowest point comes down, and none sideways.
/// </remarks>
/// <param name="body">The body.</param>
/// <param name="law">What it is reckoned with.</param>
internal sealed class BodyFlight(FlyingBody body, FlightLaw law)
{
    private const int MostLandings = 200;

    private readonly bool guided = body.Part.Freedom == Freedom.UpAndDown;

    /// <summary>Follows the body.</summary>
    /// <param name="until">Time after which it is left alone, s; positive.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">It could not be followed.</exception>
    public BodyCourse Follow(double until, CancellationToken cancellation)
    {
        var start = body.Start;
        double[] state = new double[BodyState.Count];
        (state[BodyState.Place], state[BodyState.Place + 1], state[BodyState.Place + 2]) = (start.X, start.Y, start.Z);
        state[BodyState.Speed + 2] = law.Kick;
        (state[BodyState.Attitude], state[BodyState.Temperature]) = (1, body.Ambient);
        double melts = Math.Min(body.Part.Material.MeltingPoint ?? double.PositiveInfinity, 1e4);
        Watched[] ends =
        [
            (_, y) => body.Radius - double.Hypot(y[BodyState.Place] - start.X, y[BodyState.Place + 1] - start.Y),
            (_, y) => Over(y),
            (_, y) => body.Clearance(At(y), Axis(y)),
            (_, y) => melts - y[BodyState.Temperature],
        ];
        var ways = new List<FollowedWay>();
        double landed = 0, time = 0;
        try
        {
            // Lying on what is under it, it stays there unless the field carries it.
            if (Over(state) <= 0 && !Carried(state))
                return Made(FlightEnd.NeverRose, RungeKutta.Follow(Still, 0, state, until, Options(), cancellation: cancellation));
            while (true)
            {
                var way = RungeKutta.Follow(Slope, time, state, until, Options(), ends, cancellation);
                ways.Add(way);
                (time, state) = (way.End, way.At(way.End));
                if (way.Ended is null)
                    return Made(FlightEnd.StillThere);
                if (way.Ended != 1)
                    return Made(way.Ended == 0 ? FlightEnd.RanAway : way.Ended == 2 ? FlightEnd.MetAWinding : FlightEnd.Melted);
                if (!Carried(state) || ways.Count > MostLandings)
                    return Made(FlightEnd.CameDown);
                landed += Land(state);
                state[BodyState.Place + 2] += 1e-9 * body.Radius - Over(state);
            }
        }
        catch (Exception e) when (e is StepsFailedException or NotConvergedException)
        {
            throw new RouteFailedException($"'{body.Part.Name}' could not be followed: " + e.Message, e);
        }

        BodyCourse Made(FlightEnd end, FollowedWay? only = null) =>
            new(end, only is null ? ways : [only], start, body, landed);
    }

    private static void Still(double time, ReadOnlySpan<double> y, Span<double> slope) => slope.Clear();

    private static Vector At(ReadOnlySpan<double> y) => BodyState.Three(y, BodyState.Place);

    private Vector Axis(ReadOnlySpan<double> y) => BodyState.Axis(y, body.Axis);

    // Height of its lowest point over what lies under it.
    private double Over(ReadOnlySpan<double> y) => y[BodyState.Place + 2] + body.Lowest(Axis(y)).Z - body.Floor;

    // Whether the field lifts its lowest point off what it lies on.
    private bool Carried(ReadOnlySpan<double> y)
    {
        Vector axis = Axis(y), spin = BodyState.Three(y, BodyState.Spin), arm = body.Lowest(axis);
        var field = body.At(At(y), axis, default, spin, y[BodyState.Temperature], 0.1 * law.Tolerance);
        var twist = guided ? default : Twist(axis, spin, field.Torque);
        return field.Force.Z / body.Mass + Vector.Cross(twist, arm).Z > PhysicalConstants.StandardGravity;
    }

    // A push upwards at the lowest point that stops it there; the energy that takes.
    private double Land(Span<double> y)
    {
        Vector axis = Axis(y), velocity = BodyState.Three(y, BodyState.Speed), spin = BodyState.Three(y, BodyState.Spin), arm = guided ? default : body.Lowest(axis);
        var turn = body.Turned(axis, Vector.Cross(arm, Vector.AlongZ));
        double falling = (velocity + Vector.Cross(spin, arm)).Z, yields = 1 / body.Mass + Vector.Cross(turn, arm).Z, push = -falling / yields;
        y[BodyState.Speed + 2] += push / body.Mass;
        Set(y, BodyState.Spin, spin + push * turn);
        return 0.5 * push * push * yields;
    }

    // dΩ/dt of a body that turns: I dΩ/dt = torque − Ω × L.
    private Vector Twist(Vector axis, Vector spin, Vector torque) => body.Turned(axis, torque - Vector.Cross(spin, body.Momentum(axis, spin)));

    // Steps are held to shares of the radius, of the speed gained in falling through it, and of the heat of a kelvin.
    private StepOptions Options()
    {
        double radius = body.Radius, fall = Math.Sqrt(PhysicalConstants.StandardGravity * radius), energy = body.Mass * PhysicalConstants.StandardGravity * radius, heat = double.IsFinite(body.Capacity) ? body.Capacity : energy;
        double[] sizes = [radius, radius, radius, fall, fall, fall, fall / radius, fall / radius, fall / radius, 1, 1, 1, 1, 1, energy, energy, energy, heat, heat, 1];
        return new StepOptions(law.Tolerance, [.. sizes.Select(s => law.Tolerance * s)]) { MostSteps = 200_000 };
    }

    private void Slope(double time, ReadOnlySpan<double> y, Span<double> slope)
    {
        Vector place = At(y), axis = Axis(y), velocity = BodyState.Three(y, BodyState.Speed), spin = BodyState.Three(y, BodyState.Spin);
        double temperature = y[BodyState.Temperature];
        FieldLoad field;
        try
        {
            field = body.At(place with { Z = Math.Max(place.Z, place.Z - Over(y)) }, axis, velocity, spin, temperature, 0.1 * law.Tolerance);
        }
        catch (ArgumentException)
        {
            slope.Fill(double.NaN); // a step that reaches into a winding is refused
            return;
        }

        var (drag, brake) = body.InAir(axis, velocity, spin);
        (drag, brake) = (law.Drag * drag, law.SpinDrag * brake);
        var push = 1 / body.Mass * (field.Force + drag) - new Vector(0, 0, PhysicalConstants.StandardGravity);
        if (guided)
            (push, field, brake) = (new Vector(0, 0, push.Z), field with { Force = new Vector(0, 0, field.Force.Z), Torque = default }, default);
        var twist = Twist(axis, spin, field.Torque + brake);
        double lost = body.Cooled(temperature, law.Cooling);
        Set(slope, BodyState.Place, velocity);
        Set(slope, BodyState.Speed, push);
        Set(slope, BodyState.Spin, twist);
        double w = y[BodyState.Attitude];
        var turned = BodyState.Three(y, BodyState.Attitude + 1);
        slope[BodyState.Attitude] = -0.5 * Vector.Dot(spin, turned);
        Set(slope, BodyState.Attitude + 1, 0.5 * (w * spin + Vector.Cross(spin, turned)));
        slope[BodyState.Temperature] = (field.Heat - lost) / body.Capacity;
        slope[BodyState.FieldWork] = Vector.Dot(field.Force, velocity);
        slope[BodyState.SpinWork] = Vector.Dot(field.Torque, spin);
        slope[BodyState.AirWork] = Vector.Dot(drag, velocity) + Vector.Dot(brake, spin);
        slope[BodyState.Heat] = field.Heat;
        slope[BodyState.Lost] = lost;
        slope[BodyState.Turned] = body.Spinning(axis, spin);
    }

    private static void Set(Span<double> into, int first, Vector v) => (into[first], into[first + 1], into[first + 2]) = (v.X, v.Y, v.Z);
}
