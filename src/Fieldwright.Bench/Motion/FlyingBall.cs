using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Jets;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Motion;

/// <summary>A ball, solid or hollow: what coils on their true supplies do to it wherever it is, however it moves and whatever its temperature.</summary>
internal sealed class FlyingBall : FlyingBody
{
    // Share of the radius that the ball keeps from what lies under it and from windings, where the expansion still settles.
    private const double Kept = 3e-3, KeptFromWindings = 2e-3;

    private readonly Apparatus apparatus;
    private readonly List<ThickCoil> coils;
    private readonly BallMotion motion;
    private readonly BallOverCoils first;
    private readonly bool imposed;
    private readonly Complex[,]? bare;
    private readonly double cold;

    /// <summary>Prepares the coils.</summary>
    public FlyingBall(Apparatus apparatus, Part part) : base(apparatus, part)
    {
        this.apparatus = apparatus;
        var shape = (BallShape)part.Shape;
        Radius = shape.Radius;
        double hollow = shape.Wall is { } wall ? 1 - wall / Radius : 0, inertia = 0.4 * Mass * Radius * Radius * (1 - Math.Pow(hollow, 5)) / (1 - Math.Pow(hollow, 3));
        Inertia = (inertia, inertia);
        if (Rests)
            Floor += Kept * Radius;
        coils = [.. apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w))];
        imposed = SupplyNetwork.IsImposed(apparatus);
        var given = imposed ? SupplyNetwork.ImposedCurrents(apparatus) : null;
        first = BallRoute.Ball(part, apparatus, coils, w => given?[w.Name] ?? Complex.One);
        motion = new BallMotion(first);
        bare = imposed ? null : BallRoute.CoilsAlone(apparatus, coils);
        cold = FieldModels.Conducts(part) ? part.Material.ConductivityAt(apparatus.Ambient) : 0;
    }

    /// <inheritdoc/>
    public override FlyingBody Within(double tolerance) => this;

    /// <inheritdoc/>
    public override double Radius { get; }

    /// <inheritdoc/>
    public override double Half => Radius;

    /// <inheritdoc/>
    public override (double Across, double About) Inertia { get; }

    /// <inheritdoc/>
    public override double Spinning(Vector axis, Vector spin) => spin.Length;

    /// <inheritdoc/>
    public override Vector Lowest(Vector axis) => new(0, 0, -Radius);

    /// <inheritdoc/>
    public override double Clearance(Vector place, Vector axis)
    {
        try
        {
            return 1 / first.NearestRatio(place) - 1 - KeptFromWindings;
        }
        catch (ArgumentException)
        {
            return -KeptFromWindings;
        }
    }

    /// <inheritdoc/>
    public override (Vector Drag, Vector Brake) InAir(Vector axis, Vector velocity, Vector spin)
    {
        double speed = velocity.Length, turning = spin.Length;
        return (speed > 0 ? -0.5 * Density * CarriedBall.DragCoefficient(2 * Radius * speed / Viscosity) * Math.PI * Radius * Radius * speed * velocity : default,
            turning > 0 ? -0.5 * Density * SpinningBall.TorqueCoefficient(turning * Radius * Radius / Viscosity) * Math.Pow(Radius, 5) * turning * spin : default);
    }

    /// <inheritdoc/>
    public override FieldLoad At(Vector place, Vector axis, Vector velocity, Vector spin, double temperature, double tolerance)
    {
        var field = Field(place, velocity, spin, temperature, tolerance);
        return new FieldLoad(field.Force, field.Torque, field.Heat);
    }

    private BallInMotion Field(Vector place, Vector velocity, Vector spin, double temperature, double tolerance)
    {
        double conductivity = cold > 0 ? Part.Material.ConductivityAt(temperature) / cold : 1;
        if (imposed)
            return motion.At(place, velocity, spin, conductivity, tolerance);
        var z = BallRoute.WithBall(bare!, BallRoute.Ball(Part, apparatus, coils, _ => Complex.One, conductivity), place, tolerance);
        var currents = SupplyNetwork.Currents(apparatus, z);
        return motion.In(BallRoute.Ball(Part, apparatus, coils, w => currents[w.Name])).At(place, velocity, spin, conductivity, tolerance);
    }
}
