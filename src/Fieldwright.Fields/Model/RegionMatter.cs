using Fieldwright.Matter;

namespace Fieldwright.Fields;

/// <summary>What a region of the plane is made of, as far as the magnetic field is concerned.</summary>
/// <param name="Name">Name used in messages.</param>
/// <param name="Conductivity">Conductivity for eddy currents, S/m; 0 for an insulator, for a laminated core and for a stranded winding.</param>
/// <param name="RelativePermeability">Relative permeability of linear matter (for a magnet: of its recoil line); at least 1e-6. Not used when <see cref="Curve"/> is given.</param>
public sealed record RegionMatter(string Name, double Conductivity = 0, double RelativePermeability = 1)
{
    /// <summary>BH curve of soft steel, or null for linear matter.</summary>
    public BhCurve? Curve { get; init; }

    /// <summary>Share of steel in a laminated stack, in (0, 1], the sheets lying in the plane of the model: steel and insulation see the
    /// same H, so the stack carries B = f·B_steel(H) + (1 − f)·μ0·H.</summary>
    public double StackingFactor { get; init; } = 1;

    /// <summary>Remanence in T, components (r, z) or (x, y): B = Remanence + μ0·RelativePermeability·H. Zero for matter that is no magnet.</summary>
    public PlaneVector Remanence { get; init; }

    /// <summary>Magnetic field strength at the knee of the demagnetising curve along the remanence, A/m, negative; null when not known.
    /// A static solution reports where a magnet's working point lies beyond it.</summary>
    public double? KneeFieldStrength { get; init; }

    /// <summary>True if the matter is a magnet.</summary>
    public bool IsMagnet => Remanence.X != 0 || Remanence.Y != 0;

    /// <summary>Air: insulating, relative permeability 1.</summary>
    public static RegionMatter Air { get; } = new("air");
}
