using Fieldwright.Geometry;

namespace Fieldwright.Fields;

/// <summary>A magnetic field to be found: bodies, what they are made of, and what drives them, in open space without a boundary.</summary>
/// <remarks>Nothing about meshes, boundaries or element orders is asked for: the model owns its open space. All outlines are in the plane
/// of <see cref="Symmetry"/>, in m. The record is immutable; use <c>with</c> to turn a dial.</remarks>
public sealed record FieldModel
{
    /// <summary>Round about an axis, or long in one direction.</summary>
    public required Symmetry Symmetry { get; init; }

    /// <summary>Length in the long direction, m, over which energies, forces, losses and linkages are summed; not used when round.</summary>
    public double Depth { get; init; } = 1;

    /// <summary>The bodies. Each outline carries the number (positive) of the region inside it; outlines with the same number form one region.</summary>
    public required IReadOnlyList<Outline> Parts { get; init; }

    /// <summary>Matter of each region; a region that is not listed is filled with air.</summary>
    public required IReadOnlyDictionary<int, RegionMatter> Matter { get; init; }

    /// <summary>The windings.</summary>
    public IReadOnlyList<FieldWinding> Windings { get; init; } = [];

    /// <summary>Solid conductors of a long model that are joined or driven; the rest carry no net current each.</summary>
    public IReadOnlyList<SolidConductor> Conductors { get; init; } = [];

    /// <summary>Conducting regions in steady motion.</summary>
    public IReadOnlyDictionary<int, RigidMotion> Motion { get; init; } = new Dictionary<int, RigidMotion>();

    /// <summary>Edges between which a long model is one piece of a row; null for one that stands alone in open space.</summary>
    public RepeatingEdges? Edges { get; init; }

    /// <summary>Frequency, Hz; 0 for a static field.</summary>
    public double Frequency { get; init; }

    /// <summary>ω = 2πf, rad/s.</summary>
    public double AngularFrequency => 2 * Math.PI * Frequency;

    /// <summary>Whether nothing saturates and no conductor moves: fields then add up, and what one winding links of another's is the same either way.</summary>
    public bool IsLinearAtRest => Motion.Count == 0 && Matter.Values.All(m => m.Curve is null);

    /// <summary>Whether the current of every winding is given.</summary>
    public bool HasImposedCurrents => Windings.All(w => w.Drive is ImposedCurrent or OpenCircuit);

    /// <summary>Matter of a region; air where none is listed.</summary>
    /// <param name="region">Number of the region; 0 is the space round the parts.</param>
    public RegionMatter MatterOf(int region) => Matter.TryGetValue(region, out var matter) ? matter : RegionMatter.Air;

    /// <summary>Refuses what cannot be solved: sizes, frequencies and constants out of range, windings in regions that are not there.</summary>
    /// <exception cref="ArgumentException">Something is out of range; the message names it and the allowed range.</exception>
    public void Check() => ModelCheck.Check(this);
}
