using Fieldwright.Series;

namespace Fieldwright.Bench.Routes;

/// <summary>Force and torque on a body in space, mean over a cycle.</summary>
/// <param name="Force">Force, N.</param>
/// <param name="Torque">Torque about the body's own centre, N m.</param>
/// <param name="ForceBar">Half-widths of the components of the force, N.</param>
/// <param name="TorqueBar">Half-widths of the components of the torque, N m.</param>
public readonly record struct SpaceLoad(Vector Force, Vector Torque, Vector ForceBar, Vector TorqueBar)
{
    /// <summary>A load known as well along every axis.</summary>
    public SpaceLoad(Vector force, Vector torque, double forceBar, double torqueBar)
        : this(force, torque, new Vector(forceBar, forceBar, forceBar), new Vector(torqueBar, torqueBar, torqueBar))
    {
    }

    /// <summary>Force along an axis: 0, 1, 2 for x, y, z.</summary>
    public Estimate Along(int axis) => new(Component(Force, axis), Component(ForceBar, axis));

    /// <summary>Torque about an axis.</summary>
    public Estimate About(int axis) => new(Component(Torque, axis), Component(TorqueBar, axis));

    /// <summary>The same with half the distance to another answer in the bars.</summary>
    public SpaceLoad Widened(SpaceLoad other) =>
        this with { ForceBar = ForceBar + 0.5 * Sizes(Force - other.Force), TorqueBar = TorqueBar + 0.5 * Sizes(Torque - other.Torque) };

    internal static Vector Sizes(Vector v) => new(Math.Abs(v.X), Math.Abs(v.Y), Math.Abs(v.Z));

    internal static double Component(Vector v, int axis) => axis switch { 0 => v.X, 1 => v.Y, _ => v.Z };
}

/// <summary>Flux density at a place, T; rms of each component when it alternates.</summary>
/// <param name="FluxDensity">The field.</param>
/// <param name="Bar">Half-width of each component.</param>
public readonly record struct SpaceField(Vector FluxDensity, double Bar)
{
    /// <summary>A component: 0, 1, 2 for x, y, z.</summary>
    public Estimate Along(int axis) => new(SpaceLoad.Component(FluxDensity, axis), Bar);

    /// <summary>The same with half the distance to another answer in the bar.</summary>
    public SpaceField Widened(SpaceField other) => this with { Bar = Bar + 0.5 * (FluxDensity - other.FluxDensity).Length };
}

/// <summary>A foil in equilibrium.</summary>
/// <param name="Tension">Tension in the middle of the strip, N.</param>
/// <param name="Push">Mean outward force of its own field, N/m.</param>
/// <param name="Opening">Greatest width of the loop, m.</param>
/// <param name="Sag">How far it hangs below its supports, m.</param>
/// <param name="Shift">Mean displacement along its own x, m.</param>
public sealed record FoilState(Estimate Tension, Estimate Push, Estimate Opening, Estimate Sag, Estimate Shift);
