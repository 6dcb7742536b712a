using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits.Thermal;
using Fieldwright.Matter;
using Fieldwright.Matter.Heat;
using Fieldwright.Series;

namespace Fieldwright.Bench.Motion;

/// <summary>What the field does to a body in the mean.</summary>
/// <param name="Force">Force, N.</param>
/// <param name="Torque">Torque about its centre, N m.</param>
/// <param name="Heat">Heat in it, W.</param>
internal readonly record struct FieldLoad(Vector Force, Vector Torque, double Heat);

/// <summary>A round body that is let go in space: what it weighs, how it turns, what field, air and room do to it. Its kinds differ in these alone; how it is followed does not depend on them.</summary>
internal abstract class FlyingBody
{
    private readonly IReadOnlyList<Surface> surfaces;
    private readonly double emissivity;

    /// <summary>Prepares what all kinds have in common.</summary>
    /// <param name="apparatus">The apparatus; the body stands where it is let go.</param>
    /// <param name="part">The body.</param>
    protected FlyingBody(Apparatus apparatus, Part part)
    {
        (Part, Mass, Ambient) = (part, Floats.Mass(part), apparatus.Ambient);
        // Without a specific heat it stays as cold as the hall.
        Capacity = part.Material.SpecificHeat is null ? double.PositiveInfinity : HeatBodies.Capacity(part, apparatus);
        (surfaces, emissivity) = (HeatBodies.Of(part, apparatus), HeatBodies.Emissivity(part));
        (Floor, _, Rests) = Floats.Of(apparatus, part);
        (Viscosity, Density) = (Air.KinematicViscosity(Ambient), Air.Density(Ambient));
    }

    /// <summary>The body of an apparatus.</summary>
    /// <param name="apparatus">The apparatus; <see cref="Flights.LetsGo"/> holds.</param>
    /// <param name="tolerance">Relative error of the steps it is followed with.</param>
    /// <exception cref="Routes.RouteFailedException">It cannot be one of these.</exception>
    public static FlyingBody Of(Apparatus apparatus, double tolerance) =>
        Flights.Body(apparatus) is { Shape: BallShape } ball ? new FlyingBall(apparatus, ball) : new FlyingDisc(apparatus, Flights.Body(apparatus), tolerance);

    /// <summary>The same body followed more or less closely.</summary>
    public abstract FlyingBody Within(double tolerance);

    /// <summary>The part.</summary>
    public Part Part { get; }

    /// <summary>Mass, kg.</summary>
    public double Mass { get; }

    /// <summary>Temperature of the hall, K.</summary>
    public double Ambient { get; }

    /// <summary>Heat to warm it by a kelvin, J/K; infinite when not known.</summary>
    public double Capacity { get; }

    /// <summary>Height of what lies under it, m.</summary>
    public double Floor { get; protected init; }

    /// <summary>Whether something lies under it at all.</summary>
    protected bool Rests { get; }

    /// <summary>Kinematic viscosity of the air, m²/s.</summary>
    protected double Viscosity { get; }

    /// <summary>Density of the air, kg/m³.</summary>
    protected double Density { get; }

    /// <summary>Outer radius, m: when it has strayed so far it is gone.</summary>
    public abstract double Radius { get; }

    /// <summary>Height of its centre above its underside while it is level, m.</summary>
    public abstract double Half { get; }

    /// <summary>Where its axis points as it is let go.</summary>
    public virtual Vector Axis => Vector.AlongZ;

    /// <summary>Where its centre is let go, m: where it stands in the file, or on what lies under it.</summary>
    public Vector Start => new(Part.Place.X, Part.Place.Y, Math.Max(Part.Place.Z + Half, Floor - Lowest(Axis).Z));

    /// <summary>Moments of inertia about a diameter across the axis and about the axis, kg m².</summary>
    public abstract (double Across, double About) Inertia { get; }

    /// <summary>How fast it spins, rad/s: a ball about whatever axis, a disc about its own, either way round.</summary>
    public abstract double Spinning(Vector axis, Vector spin);

    /// <summary>From the centre to its lowest point, m.</summary>
    /// <param name="axis">Its axis.</param>
    public abstract Vector Lowest(Vector axis);

    /// <summary>Above zero while it is clear of every winding.</summary>
    public abstract double Clearance(Vector place, Vector axis);

    /// <summary>Force, torque and heat by the field.</summary>
    /// <param name="place">Its centre, m.</param>
    /// <param name="axis">Its axis.</param>
    /// <param name="velocity">Velocity, m/s.</param>
    /// <param name="spin">Angular velocity, rad/s.</param>
    /// <param name="temperature">Temperature, K.</param>
    /// <param name="tolerance">Relative error allowed in the force.</param>
    /// <exception cref="ArgumentException">It would reach into a winding.</exception>
    public abstract FieldLoad At(Vector place, Vector axis, Vector velocity, Vector spin, double temperature, double tolerance);

    /// <summary>Drag of still air, N, and its brake on turning, N m.</summary>
    public abstract (Vector Drag, Vector Brake) InAir(Vector axis, Vector velocity, Vector spin);

    /// <summary>Angular momentum, kg m²/s.</summary>
    public Vector Momentum(Vector axis, Vector spin)
    {
        var (across, about) = Inertia;
        return across * spin + (about - across) * Vector.Dot(axis, spin) * axis;
    }

    /// <summary>What turns faster by so much angular momentum, rad/s.</summary>
    public Vector Turned(Vector axis, Vector momentum)
    {
        var (across, about) = Inertia;
        return 1 / across * momentum + (1 / about - 1 / across) * Vector.Dot(axis, momentum) * axis;
    }

    /// <summary>Heat it gives off, W.</summary>
    public double Cooled(double temperature, Cooling cooling)
    {
        if (cooling.Air == 0 && cooling.Glow == 0)
            return 0;
        double glow = Math.Min(1, cooling.Glow * emissivity) * PhysicalConstants.StefanBoltzmann * (Math.Pow(temperature, 4) - Math.Pow(Ambient, 4)), lost = 0;
        foreach (var surface in surfaces)
            lost += surface.Area * (cooling.Air * NaturalConvection.Coefficient(surface.Facing, surface.Length, Math.Max(temperature, 1), Ambient) * (temperature - Ambient) + glow);
        return lost;
    }
}
