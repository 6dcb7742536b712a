namespace Fieldwright.Fields;

/// <summary>Heat conducted through some regions of a meshed model, made inside them and lost at their surfaces.</summary>
/// <remarks>Temperatures are absolute, K. Regions of <see cref="Matter"/> that touch conduct into one another; every other edge of theirs is surface, the axis of a round model and what lies on a
/// thin gap of air (<see cref="Gaps"/>) excepted.</remarks>
public sealed record HeatModel
{
    /// <summary>The mesh. Only its triangles inside the rim are used.</summary>
    public required MeshedModel Mesh { get; init; }

    /// <summary>How each region that takes part conducts and stores heat.</summary>
    public required IReadOnlyDictionary<int, HeatMatter> Matter { get; init; }

    /// <summary>Heat made, W/m³, in a region at a place (r or x, z or y; m) at a time, s; null for none.</summary>
    public Func<int, double, double, double, double>? Source { get; init; }

    /// <summary>Heat made evenly over a region, as in the wire of a winding that carries one current; it adds to the rest.</summary>
    public IReadOnlyDictionary<int, EvenHeat> Even { get; init; } = new Dictionary<int, EvenHeat>();

    /// <summary>Heat made at points, as the losses of a magnetic field on a mesh of its own; it adds to the rest.</summary>
    public IReadOnlyList<HeatDeposits> Deposits { get; init; } = [];

    /// <summary>What takes heat from all surfaces; their fluxes add.</summary>
    public IReadOnlyList<SurfaceCooling> Cooling { get; init; } = [];

    /// <summary>What takes heat from the surface at a place besides, asked once for each edge of the mesh; null for nothing.</summary>
    public Func<SurfacePlace, IReadOnlyList<SurfaceCooling>>? CoolingAt { get; init; }

    /// <summary>What takes heat from both cut faces of a long model at a place (region, x, y), asked once for each triangle; null when they are covered.</summary>
    public Func<int, double, double, IReadOnlyList<SurfaceCooling>>? EndCooling { get; init; }

    /// <summary>Thin gaps between bodies that heat crosses; null where every surface is on its own.</summary>
    public ThinGaps? Gaps { get; init; }
}

/// <summary>Matter as far as heat is concerned.</summary>
/// <param name="Name">Name used in messages.</param>
/// <param name="Conductivity">Thermal conductivity, W/(m·K), against temperature, K; positive.</param>
/// <param name="HeatCapacity">Heat capacity of a volume, J/(m³·K): density times specific heat. Taken as constant.</param>
public sealed record HeatMatter(string Name, Func<double, double> Conductivity, double HeatCapacity)
{
    /// <summary>Matter of constant conductivity.</summary>
    /// <param name="name">Name used in messages.</param>
    /// <param name="conductivity">Thermal conductivity, W/(m·K); positive.</param>
    /// <param name="heatCapacity">Heat capacity of a volume, J/(m³·K).</param>
    public static HeatMatter Constant(string name, double conductivity, double heatCapacity) => new(name, _ => conductivity, heatCapacity) { Fixed = conductivity };

    /// <summary>Conductivity along the second axis (y or z) over that along the first; 1 for matter that conducts alike both ways.</summary>
    public double Anisotropy { get; init; } = 1;

    /// <summary>Length in the long direction of a long model, m, when it is not the model's depth, as for turns that go round a limb; null for the depth.</summary>
    public double? Length { get; init; }

    /// <summary>Length of its free surfaces in the long direction of a long model, m; null for <see cref="Length"/>.</summary>
    public double? SurfaceLength { get; init; }

    /// <summary>Emissivity of its surface towards a thin gap, above 0, at most 1.</summary>
    public double Emissivity { get; init; } = 0.9;

    /// <summary>The conductivity where it does not change with temperature, W/(m·K); null where it does.</summary>
    internal double? Fixed { get; init; }
}

/// <summary>Heat made evenly over a region: W/m³ at a reference temperature, and in each place as much more as it is warmer there.</summary>
/// <param name="Density">W/m³ at the reference temperature.</param>
/// <param name="Coefficient">Change with temperature, 1/K: the temperature coefficient of a wire whose current is held.</param>
/// <param name="Reference">Reference temperature, K.</param>
public sealed record EvenHeat(double Density, double Coefficient, double Reference);

/// <summary>Heat at points, and how it changes with the temperature at each of them.</summary>
/// <param name="Regions">The regions they lie in; a point a hair outside, as where two meshes draw an arc differently, counts to the nearest triangle of them.</param>
/// <param name="Points">The points.</param>
/// <param name="Coefficient">Change with temperature, 1/K.</param>
/// <param name="Reference">Temperature, K, at which <see cref="PointHeat.Watts"/> hold.</param>
public sealed record HeatDeposits(IReadOnlyList<int> Regions, IReadOnlyList<PointHeat> Points, double Coefficient = 0, double Reference = 0);

/// <summary>Heat at a point of the plane.</summary>
/// <param name="X">r or x, m.</param>
/// <param name="Y">z or y, m.</param>
/// <param name="Watts">W, over the whole turn or the depth.</param>
public readonly record struct PointHeat(double X, double Y, double Watts);

/// <summary>A place on a surface.</summary>
/// <param name="Region">The region the surface belongs to.</param>
/// <param name="X">r or x, m.</param>
/// <param name="Y">z or y, m.</param>
/// <param name="OutwardX">Component along r or x of the unit normal that points out of the body.</param>
/// <param name="OutwardY">The same along z or y.</param>
public readonly record struct SurfacePlace(int Region, double X, double Y, double OutwardX, double OutwardY);

/// <summary>Gaps so thin that the air in them stands still: heat crosses them by conduction and radiation, and their faces are no free surfaces.</summary>
/// <remarks>
/// A triangle of air lies in a gap when a straight line through it, level, upright or slanting, meets matter on both sides within <paramref name="Widest"/>. Air between two level plates, the
/// lower the hotter, stays still to a Rayleigh number of 1708; between upright ones it does as good as nothing to some thousands. Radiation between near faces is that of
/// endless plates, 4σT³·width/(1/ε₁ + 1/ε₂ − 1) added to the conductivity. Whatever fills it stores heat like air.
/// </remarks>
/// <param name="Widest">Width, m, from which the air moves.</param>
/// <param name="AirFactor">Factor on the conductivity of the air in it, for studies of what stands open.</param>
/// <param name="Filling">Conductivity, W/(m·K), of what fills the gap between two regions instead of air, opaque; null for air. Null for air everywhere.</param>
/// <source key="Incropera2007" at="9.8"/>
public sealed record ThinGaps(double Widest, double AirFactor = 1, Func<int, int, double?>? Filling = null);
