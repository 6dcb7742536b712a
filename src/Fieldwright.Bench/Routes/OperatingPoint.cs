using System.Numerics;
using Fieldwright.Numerics;

namespace Fieldwright.Bench.Routes;

/// <summary>A real value and the half-width within which its route believes it to lie; SI.</summary>
/// <param name="Value">The value.</param>
/// <param name="Bar">Half-width, not negative.</param>
public readonly record struct Estimate(double Value, double Bar)
{
    /// <summary>Half-width over size; zero for an exact zero.</summary>
    public double RelativeBar => Value == 0 ? (Bar == 0 ? 0 : double.PositiveInfinity) : Bar / Math.Abs(Value);

    /// <summary>The estimate times an exact factor.</summary>
    public Estimate Times(double factor) => new(Value * factor, Bar * Math.Abs(factor));
}

/// <summary>What an operating point must hold; a route may leave out the rest.</summary>
[Flags]
public enum Wanted
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>Forces on parts.</summary>
    Forces = 1,

    /// <summary>Heat in parts.</summary>
    Heat = 2,

    /// <summary>The impedance matrix of the windings.</summary>
    Impedance = 4,

    /// <summary>Flux in cores and the pull across their gaps.</summary>
    Flux = 8,

    /// <summary>Stiffness against sideways pushes.</summary>
    Sideways = 16,

    /// <summary>Nothing of an operating point: the route must be able to let a part go and follow it.</summary>
    Release = 32,

    /// <summary>Forces and torques in space on parts and coils, and the field at probes.</summary>
    Space = 1 << 10,

    /// <summary>Stiffnesses of free parts in all directions.</summary>
    Rest = 1 << 11,

    /// <summary>Shape of a foil loop and the forces in it.</summary>
    Foil = 1 << 12,

    /// <summary>What is measured of a box of discs.</summary>
    Gas = 1 << 20,

    /// <summary>Torque on cylinders about their own axes.</summary>
    Torque = 1 << 22,

    /// <summary>Points so cheap that a whole curve of them may be asked.</summary>
    Curve = 1 << 23,

    /// <summary>Inductances and the energy of the field, with their bounds; whoever serves <see cref="Impedance"/> serves them. In a steady state currents need none of it.</summary>
    Inductance = 1 << 24,

    /// <summary>Nothing of an operating point: the route must be able to throw a part and keep the books of its energy.</summary>
    Shot = 1 << 26,

    /// <summary>Nothing of an operating point: the route must be able to let a ball go in space.</summary>
    Flight = 1 << 29,

    /// <summary>Flows and potentials of a board of elements.</summary>
    Board = 1 << 27,

    /// <summary>Where each magnet works on its recoil line.</summary>
    Magnets = 1 << 28,

    /// <summary>Nothing of an operating point beyond heat and currents: the route must be able to follow the heat itself.</summary>
    Warmth = 1 << 30,
}

/// <summary>The state of an apparatus as one route computed it: currents, forces, heat, flux. Phasors are peak, exp(+jωt).</summary>
public sealed record OperatingPoint
{
    /// <summary>Current of each winding, A peak, positive in the winding's own sense.</summary>
    public required IReadOnlyDictionary<string, Complex> Currents { get; init; }

    /// <summary>Relative half-width of the currents; 0 when they are imposed.</summary>
    public double CurrentRelativeBar { get; init; }

    /// <summary>Force on each part along the first axis (x; nothing when round), N, mean over a cycle.</summary>
    public IReadOnlyDictionary<string, Estimate> ForceX { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Force on each part along the second axis (z when round, y when long), N, mean over a cycle.</summary>
    public IReadOnlyDictionary<string, Estimate> ForceUp { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Least stiffness of each part against a push in the horizontal plane, N/m; negative when it runs away.</summary>
    public IReadOnlyDictionary<string, Estimate> Sideways { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>How floating discs and rings are pushed back when they slide and tilt; found when it is asked for.</summary>
    public IReadOnlyDictionary<string, Lazy<DiscStray>> Strays { get; init; } = new Dictionary<string, Lazy<DiscStray>>();

    /// <summary>Heat in each part, W, mean over a cycle.</summary>
    public IReadOnlyDictionary<string, Estimate> Heat { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Where the heat of each part is made, W at places of the section, adding up to <see cref="Heat"/>; only a route that knows.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<Fields.PointHeat>> HeatPoints { get; init; } = new Dictionary<string, IReadOnlyList<Fields.PointHeat>>();

    /// <summary>Impedance matrix of the windings in the order of the apparatus, ohm, wire resistance included; null when not wanted. At direct current it holds resistances only.</summary>
    public Complex[,]? Impedance { get; init; }

    /// <summary>Inductance matrix, H: flux linkages over currents, with the metal in place; null when not wanted.</summary>
    public double[,]? Inductance { get; init; }

    /// <summary>Bounds of the inductances from two complementary solutions, H; null where there are none, as for eddy currents.</summary>
    public Bracket?[,]? InductanceBounds { get; init; }

    /// <summary>Energy of the field, J, mean over a cycle; null when it is to be had from the inductances.</summary>
    public Estimate? StoredEnergy { get; init; }

    /// <summary>Bounds of <see cref="StoredEnergy"/>, J; null where there are none.</summary>
    public Bracket? StoredEnergyBounds { get; init; }

    /// <summary>Relative half-width of the impedance and inductance matrices' entries against √(Zᵢᵢ Zⱼⱼ).</summary>
    public double ImpedanceRelativeBar { get; init; }

    /// <summary>Flux density of each magnet along its remanence, mean over its volume, T.</summary>
    public IReadOnlyDictionary<string, Estimate> Working { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Flux along each core, Wb peak.</summary>
    public IReadOnlyDictionary<string, Estimate> Flux { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Pull that closes the gap of each core, N, mean over a cycle.</summary>
    public IReadOnlyDictionary<string, Estimate> GapPull { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Where the ampere-turns of each core are spent, and what leaks.</summary>
    public IReadOnlyDictionary<string, CoreBudget> Cores { get; init; } = new Dictionary<string, CoreBudget>();

    /// <summary>Force and torque on each part and coil in space.</summary>
    public IReadOnlyDictionary<string, SpaceLoad> Loads { get; init; } = new Dictionary<string, SpaceLoad>();

    /// <summary>Flux density at each probe.</summary>
    public IReadOnlyDictionary<string, SpaceField> Probes { get; init; } = new Dictionary<string, SpaceField>();

    /// <summary>The three stiffnesses of each free part where it stands, N/m, the softest first.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<Estimate>> Stiffnesses { get; init; } = new Dictionary<string, IReadOnlyList<Estimate>>();

    /// <summary>The shape of each foil loop.</summary>
    public IReadOnlyDictionary<string, FoilState> Foil { get; init; } = new Dictionary<string, FoilState>();

    /// <summary>Force of magnets on each foil loop.</summary>
    public IReadOnlyDictionary<string, SpaceLoad> FoilLoads { get; init; } = new Dictionary<string, SpaceLoad>();

    /// <summary>What was measured of a box of discs, SI, by the name of the measure.</summary>
    public IReadOnlyDictionary<string, Estimate> Gas { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Flow through each element of a board, SI.</summary>
    public IReadOnlyDictionary<string, Estimate> BoardFlows { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Potential of each node of a board against its ground, SI.</summary>
    public IReadOnlyDictionary<string, Estimate> BoardPotentials { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Torque on each cylinder about its own axis, N·m, counter-clockwise positive, mean over a cycle.</summary>
    public IReadOnlyDictionary<string, Estimate> Torque { get; init; } = new Dictionary<string, Estimate>();

    /// <summary>Flux density across each channel of liquid, T, root mean square over a cycle and along the row.</summary>
    public Lazy<IReadOnlyDictionary<string, Estimate>> FieldAcross { get; init; } = new(new Dictionary<string, Estimate>());

    /// <summary>The part of <see cref="ImpedanceRelativeBar"/> that concerns reactance only, from what the ends of a long apparatus add.</summary>
    public double EndRelativeBar { get; init; }

    /// <summary>What a reader must know about these answers; empty when nothing.</summary>
    public string Remark { get; init; } = "";
}
