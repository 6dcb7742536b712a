using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Thermal;
using Fieldwright.Matter;
using Fieldwright.Matter.Heat;
using Fieldwright.Numerics.Ordinary;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Jets;

namespace Fieldwright.Bench.Motion;

/// <summary>What a flight is reckoned with, so that it can be reckoned otherwise for its bar.</summary>
/// <param name="Tolerance">Relative error of steps; forces are found ten times closer.</param>
/// <param name="Cooling">How well the ball is cooled.</param>
/// <param name="Drag">Factor on the drag of air on its way.</param>
/// <param name="SpinDrag">Factor on the drag of air on its spin.</param>
/// <param name="Kick">Speed upwards it starts with, m/s.</param>
internal sealed record FlightLaw(double Tolerance, Cooling Cooling, double Drag = 1, double SpinDrag = 1, double Kick = 0);

/// <summary>A floating ball let go from rest, followed in all six degrees of freedom while it warms.</summary>
/// <remarks>
/// m dv/dt = mean force of the field + weight + drag of air; I dΩ/dt = mean torque + drag of air; the attitude turns with Ω; C dT/dt = induced heat − convection − radiation, the conductivity following T. Force,
/// torque and heat are those of a ball that moves, spins and is warm (<see cref="BallMotion"/>), in currents that follow its place at once. What lies under it takes all of its speed downwards and none sideways.
/// </remarks>
internal sealed class BallFlight
{
    // Share of the radius that the ball keeps from what lies under it and from windings, where the expansion still settles.
    private const double Clearance = 3e-3, WindingClearance = 2e-3;
    private const int MostLandings = 200;

    private readonly Apparatus apparatus;
    private readonly Part part;
    private readonly FlightLaw law;
    private readonly BallAloft aloft;
    private readonly double radius, mass, inertia, capacity, area, emissivity, ambient, floor;
    private readonly bool guided;

    /// <summary>Prepares a flight.</summary>
    /// <param name="apparatus">The apparatus; its ball stands where it is let go.</param>
    /// <param name="part">The ball.</param>
    /// <param name="law">What it is reckoned with.</param>
    public BallFlight(Apparatus apparatus, Part part, FlightLaw law)
    {
        (this.apparatus, this.part, this.law) = (apparatus, part, law);
        var shape = (BallShape)part.Shape;
        (radius, mass, ambient, guided) = (shape.Radius, Floats.Mass(part), apparatus.Ambient, part.Freedom == Freedom.UpAndDown);
        double hollow = shape.Wall is { } wall ? 1 - wall / radius : 0;
        inertia = 0.4 * mass * radius * radius * (1 - Math.Pow(hollow, 5)) / (1 - Math.Pow(hollow, 3));
        // Without a specific heat it stays as cold as the hall.
        capacity = part.Material.SpecificHeat is null ? double.PositiveInfinity : HeatBodies.Capacity(part, apparatus);
        (area, emissivity) = (4 * Math.PI * radius * radius, HeatBodies.Emissivity(part));
        var under = Floats.Of(apparatus, part);
        floor = under.Lowest + (under.Stands ? Clearance * radius : 0) + radius;
        aloft = new BallAloft(apparatus, part);
    }

    /// <summary>Height of the centre above the underside, m.</summary>
    public double Radius => radius;

    /// <summary>Moment of inertia about any axis through the centre, kg m².</summary>
    public double Inertia => inertia;

    /// <summary>Follows the ball.</summary>
    /// <param name="until">Time after which it is left alone, s; positive.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">It could not be followed.</exception>
    public BallCourse Follow(double until, CancellationToken cancellation)
    {
        var start = new Vector(part.Place.X, part.Place.Y, Math.Max(part.Place.Z + radius, floor));
        double[] state = new double[BallState.Count];
        (state[BallState.Place], state[BallState.Place + 1], state[BallState.Place + 2]) = (start.X, start.Y, start.Z);
        state[BallState.Speed + 2] = law.Kick;
        (state[BallState.Attitude], state[BallState.Temperature]) = (1, ambient);
        double melts = Math.Min(part.Material.MeltingPoint ?? double.PositiveInfinity, 1e4);
        Watched[] ends =
        [
            (_, y) => radius - double.Hypot(y[BallState.Place] - start.X, y[BallState.Place + 1] - start.Y),
            (_, y) => y[BallState.Place + 2] - floor,
            (_, y) => 1 / aloft.NearestRatio(At(y)) - 1 - WindingClearance,
            (_, y) => melts - y[BallState.Temperature],
        ];
        var ways = new List<FollowedWay>();
        double landed = 0, time = 0;
        try
        {
            // Lying on what is under it, it stays there unless the field carries it.
            if (state[BallState.Place + 2] <= floor && !Carried(state))
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
                landed += 0.5 * mass * state[BallState.Speed + 2] * state[BallState.Speed + 2];
                (state[BallState.Place + 2], state[BallState.Speed + 2]) = (floor + 1e-9 * radius, 0);
            }
        }
        catch (Exception e) when (e is StepsFailedException or NotConvergedException)
        {
            throw new RouteFailedException("The ball could not be followed: " + e.Message, e);
        }

        BallCourse Made(FlightEnd end, FollowedWay? only = null) =>
            new(end, only is null ? ways : [only], start, radius, mass, inertia, double.IsFinite(capacity) ? capacity : 0, landed);
    }

    private static void Still(double time, ReadOnlySpan<double> y, Span<double> slope) => slope.Clear();

    private static Vector At(ReadOnlySpan<double> y) => new(y[BallState.Place], y[BallState.Place + 1], y[BallState.Place + 2]);

    private static Vector Three(ReadOnlySpan<double> y, int first) => new(y[first], y[first + 1], y[first + 2]);

    private bool Carried(ReadOnlySpan<double> y) =>
        aloft.At(At(y), default, Three(y, BallState.Spin), y[BallState.Temperature], 0.1 * law.Tolerance).Force.Z > mass * PhysicalConstants.StandardGravity;

    // Steps are held to shares of the radius, of the speed gained in falling through it, and of the heat of a kelvin.
    private StepOptions Options()
    {
        double fall = Math.Sqrt(PhysicalConstants.StandardGravity * radius), energy = mass * PhysicalConstants.StandardGravity * radius, heat = double.IsFinite(capacity) ? capacity : energy;
        double[] sizes = [radius, radius, radius, fall, fall, fall, fall / radius, fall / radius, fall / radius, 1, 1, 1, 1, 1, energy, energy, energy, heat, heat, 1];
        return new StepOptions(law.Tolerance, [.. sizes.Select(s => law.Tolerance * s)]) { MostSteps = 200_000 };
    }

    private void Slope(double time, ReadOnlySpan<double> y, Span<double> slope)
    {
        Vector place = At(y), velocity = Three(y, BallState.Speed), spin = Three(y, BallState.Spin);
        double temperature = y[BallState.Temperature];
        BallInMotion field;
        try
        {
            field = aloft.At(place with { Z = Math.Max(place.Z, floor) }, velocity, spin, temperature, 0.1 * law.Tolerance);
        }
        catch (ArgumentException)
        {
            slope.Fill(double.NaN); // a step that reaches into a winding is refused
            return;
        }

        double viscosity = Air.KinematicViscosity(ambient), density = Air.Density(ambient), speed = velocity.Length, turning = spin.Length;
        var drag = speed > 0 ? -0.5 * law.Drag * density * CarriedBall.DragCoefficient(2 * radius * speed / viscosity) * Math.PI * radius * radius * speed * velocity : default;
        var brake = turning > 0 ? -0.5 * law.SpinDrag * density * SpinningBall.TorqueCoefficient(turning * radius * radius / viscosity) * Math.Pow(radius, 5) * turning * spin : default;
        var push = 1 / mass * (field.Force + drag) - new Vector(0, 0, PhysicalConstants.StandardGravity);
        if (guided)
            (push, field) = (new Vector(0, 0, push.Z), field with { Force = new Vector(0, 0, field.Force.Z), Torque = default });
        var twist = 1 / inertia * (field.Torque + brake);
        double lost = law.Cooling.Air > 0 || law.Cooling.Glow > 0 ? Cooled(temperature) : 0;
        Set(slope, BallState.Place, velocity);
        Set(slope, BallState.Speed, push);
        Set(slope, BallState.Spin, twist);
        double w = y[BallState.Attitude];
        var axis = Three(y, BallState.Attitude + 1);
        slope[BallState.Attitude] = -0.5 * Vector.Dot(spin, axis);
        Set(slope, BallState.Attitude + 1, 0.5 * (w * spin + Vector.Cross(spin, axis)));
        slope[BallState.Temperature] = (field.Heat - lost) / capacity;
        slope[BallState.FieldWork] = Vector.Dot(field.Force, velocity);
        slope[BallState.SpinWork] = Vector.Dot(field.Torque, spin);
        slope[BallState.AirWork] = Vector.Dot(drag, velocity) + Vector.Dot(brake, spin);
        slope[BallState.Heat] = field.Heat;
        slope[BallState.Lost] = lost;
        slope[BallState.Turned] = turning;
    }

    private double Cooled(double temperature) =>
        area * (law.Cooling.Air * NaturalConvection.Coefficient(Facing.Ball, 2 * radius, Math.Max(temperature, 1), ambient) * (temperature - ambient)
            + Math.Min(1, law.Cooling.Glow * emissivity) * PhysicalConstants.StefanBoltzmann * (Math.Pow(temperature, 4) - Math.Pow(ambient, 4)));

    private static void Set(Span<double> into, int first, Vector v) => (into[first], into[first + 1], into[first + 2]) = (v.X, v.Y, v.Z);
}
