using Fieldwright.Matter;

namespace Fieldwright.Bench.Model;

/// <summary>What flows on a board of elements, and what drives it.</summary>
public enum BoardDomain
{
    /// <summary>Water: pressure in Pa drives a flow in m³/s.</summary>
    Water,

    /// <summary>Electricity: voltage in V drives a current in A.</summary>
    Electric,

    /// <summary>Magnetism: magnetic potential in A (ampere-turns) drives a flux in Wb.</summary>
    Magnetic,

    /// <summary>Heat: temperature above the hall in K drives a heat flow in W.</summary>
    Heat,
}

/// <summary>Elements joined at nodes: what matters is what is joined to what, not where it lies. Immutable; SI.</summary>
/// <param name="Domain">What flows.</param>
/// <param name="Ground">The node against which potentials are counted: the basin, the negative rail, the hall.</param>
/// <param name="Elements">The elements, in file order.</param>
/// <param name="Jet">A ball that rides on the jet of one of the nozzles; null when there is none.</param>
public sealed record Board(BoardDomain Domain, string Ground, IReadOnlyList<BoardElement> Elements, BallOnJet? Jet = null)
{
    /// <summary>The nodes, in order of appearance.</summary>
    public IReadOnlyList<string> Nodes => [.. Elements.SelectMany(e => (string[])[e.From, e.To]).Distinct(StringComparer.OrdinalIgnoreCase)];

    /// <summary>The element of that name, or null.</summary>
    public BoardElement? Element(string name) => Elements.FirstOrDefault(e => Apparatus.Same(e.Name, name));
}

/// <summary>An element between two nodes; its flow counts positive from the first through it to the second.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">First node.</param>
/// <param name="To">Second node.</param>
public abstract record BoardElement(string Name, string From, string To);

/// <summary>Lifts the potential from the first node to the second: a pump, a battery, a winding, a held temperature.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">First node.</param>
/// <param name="To">Second node, higher by the lift.</param>
/// <param name="Lift">How far it lifts at no flow, Pa, V, A or K.</param>
/// <param name="Inner">How much of it is lost for each unit of flow, not negative.</param>
public sealed record DriveElement(string Name, string From, string To, double Lift, double Inner) : BoardElement(Name, From, To);

/// <summary>Drives a given flow from the first node to the second: a heater.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">First node.</param>
/// <param name="To">Second node.</param>
/// <param name="Flow">The flow, m³/s, A, Wb or W.</param>
public sealed record FlowElement(string Name, string From, string To, double Flow) : BoardElement(Name, From, To);

/// <summary>Obeys Ohm's law.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">First node.</param>
/// <param name="To">Second node.</param>
/// <param name="Resistance">Drop over flow, SI; positive.</param>
public sealed record StraightElement(string Name, string From, string To, double Resistance) : BoardElement(Name, From, To);

/// <summary>A bar that flux or heat goes along: length, section, matter.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">First node.</param>
/// <param name="To">Second node.</param>
/// <param name="Length">Length, m.</param>
/// <param name="Area">Section, m².</param>
/// <param name="Of">What it is made of.</param>
public sealed record BarElement(string Name, string From, string To, double Length, double Area, Material Of) : BoardElement(Name, From, To);

/// <summary>A magnet along its length; flux leaves it at the second node.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">South end.</param>
/// <param name="To">North end.</param>
/// <param name="Length">Length, m.</param>
/// <param name="Area">Section, m².</param>
/// <param name="Of">What it is made of; it has a remanence.</param>
public sealed record MagnetElement(string Name, string From, string To, double Length, double Area, Material Of) : BoardElement(Name, From, To);

/// <summary>A straight round pipe of water.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">First node.</param>
/// <param name="To">Second node.</param>
/// <param name="Bore">Inner diameter, m.</param>
/// <param name="Length">Length, m.</param>
/// <param name="Roughness">Height of its roughness, m.</param>
public sealed record PipeElement(string Name, string From, string To, double Bore, double Length, double Roughness) : BoardElement(Name, From, To);

/// <summary>A valve, a bend or a nozzle by its loss coefficient; a jet into the open has 1.</summary>
/// <param name="Name">Its name.</param>
/// <param name="From">First node.</param>
/// <param name="To">Second node.</param>
/// <param name="Bore">Bore its speed is reckoned in, m.</param>
/// <param name="Coefficient">Pressure lost over ρ v²/2.</param>
/// <param name="IsNozzle">Whether it is a nozzle into the open.</param>
public sealed record FittingElement(string Name, string From, string To, double Bore, double Coefficient, bool IsNozzle) : BoardElement(Name, From, To);

/// <summary>A ball that rides on an upright jet of water.</summary>
/// <param name="Nozzle">The nozzle the jet leaves.</param>
/// <param name="Radius">Radius of the ball, m.</param>
/// <param name="Mass">Mass of the ball, kg.</param>
public sealed record BallOnJet(string Nozzle, double Radius, double Mass);
