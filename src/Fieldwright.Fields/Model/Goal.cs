namespace Fieldwright.Fields;

/// <summary>Component of a force or torque.</summary>
public enum ForceComponent
{
    /// <summary>Along r or x. In a round model the net radial force is zero by symmetry and this component may not be asked.</summary>
    X,

    /// <summary>Along z (round) or y (long), N.</summary>
    Y,

    /// <summary>Counter-clockwise about a point of a long model, N·m.</summary>
    Torque,
}

/// <summary>An answer wanted of a field, for which the mesh is to be refined and an error bar given.</summary>
/// <param name="Name">Name used in messages and to find the answer again.</param>
public abstract record Goal(string Name)
{
    /// <summary>Error bar that is good enough however small the value is, in the unit of the goal; 0 by default, when only the relative demand counts.</summary>
    public double AbsoluteError { get; init; }

    /// <summary>True if the answer is wanted of the field as it stands, because other things are read from that field beside it. Else what functions of order three would
    /// add is added to the value, and only what they leave is in the bar.</summary>
    public bool Uncorrected { get; init; }
}

/// <summary>Force on a body: time mean in a harmonic field.</summary>
/// <param name="Name">Name of the goal.</param>
/// <param name="Regions">The regions that move together as one body.</param>
/// <param name="Component">Which component.</param>
/// <param name="About">The point a torque is taken about, m.</param>
public sealed record ForceGoal(string Name, IReadOnlyList<int> Regions, ForceComponent Component = ForceComponent.Y, PlaneVector About = default) : Goal(Name);

/// <summary>Heat made in solid regions by currents induced in them, W (time mean; zero in a static field).</summary>
/// <param name="Name">Name of the goal.</param>
/// <param name="Regions">The regions.</param>
public sealed record LossGoal(string Name, IReadOnlyList<int> Regions) : Goal(Name);

/// <summary>Energy of the whole field, J (time mean in a harmonic field).</summary>
/// <param name="Name">Name of the goal.</param>
public sealed record EnergyGoal(string Name) : Goal(Name);

/// <summary>Flux linkage of a winding, Wb: signed in a static field, size of the peak phasor in a harmonic one.</summary>
/// <param name="Name">Name of the goal.</param>
/// <param name="Winding">Name of the winding.</param>
public sealed record FluxLinkageGoal(string Name, string Winding) : Goal(Name);

/// <summary>Current of a winding, A: signed in a static field, size of the peak phasor in a harmonic one. Exact when imposed.</summary>
/// <param name="Name">Name of the goal.</param>
/// <param name="Winding">Name of the winding.</param>
public sealed record CurrentGoal(string Name, string Winding) : Goal(Name);

/// <summary>Flux density averaged over a region, T: one component, signed in a static field, size of the peak phasor in a harmonic one.</summary>
/// <param name="Name">Name of the goal.</param>
/// <param name="Region">The region.</param>
/// <param name="Component">X for r or x, Y for z or y.</param>
public sealed record MeanFluxDensityGoal(string Name, int Region, ForceComponent Component = ForceComponent.Y) : Goal(Name);

/// <summary>Flux through the surface swept by the straight line between two points (round: about the axis; long: over the depth), Wb:
/// signed in a static field, size of the peak phasor in a harmonic one.</summary>
/// <param name="Name">Name of the goal.</param>
/// <param name="From">First point, m.</param>
/// <param name="To">Second point, m.</param>
public sealed record FluxGoal(string Name, PlaneVector From, PlaneVector To) : Goal(Name);

/// <summary>The value found for a goal, with its error bar.</summary>
/// <param name="Goal">The goal.</param>
/// <param name="Value">The value, in the unit of the goal; corrected to order three unless <see cref="Goal.Uncorrected"/>.</param>
/// <param name="ErrorBar">Half width of the interval that is held to contain the truth of the model, same unit; covers the discretisation only.</param>
public sealed record GoalAnswer(Goal Goal, double Value, double ErrorBar);
