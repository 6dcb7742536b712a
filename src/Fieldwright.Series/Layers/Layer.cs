namespace Fieldwright.Series.Layers;

/// <summary>One layer of a stack: even in the directions of travel and across.</summary>
/// <param name="Thickness">Thickness, m. Positive infinity for the first and last layer of a flat stack and for the last of a round one; the first of a round one is the core and its thickness its radius.</param>
/// <param name="Conductivity">Conductivity, S/m; zero where nothing conducts along the current (air, laminated iron).</param>
/// <param name="RelativePermeability">Permeability over that of empty space, linear; positive.</param>
/// <param name="Moves">Whether the layer moves at the speed given when the field is asked for; otherwise it stands still like the winding.</param>
public readonly record struct Layer(double Thickness, double Conductivity = 0, double RelativePermeability = 1, bool Moves = false);

/// <summary>How the layers of a stack lie.</summary>
public enum StackShape
{
    /// <summary>Flat sheets, travel along x, layers counted upwards (y), current across (z).</summary>
    Flat,

    /// <summary>Tubes round an axis, travel along the axis (z), layers counted outwards (r), current round it (φ).</summary>
    Tubular,

    /// <summary>Tubes round an axis, travel round it (θ), layers counted outwards (r), current along the axis: a rotating machine. Speeds are angular.</summary>
    Rotating,
}
