namespace Fieldwright.Fields;

/// <summary>Which direction nothing changes along.</summary>
public enum Symmetry
{
    /// <summary>Round about the z axis. The plane is (r, z) with r ≥ 0; currents run in the φ direction, counter-clockwise seen from +z.</summary>
    Round,

    /// <summary>Long in one direction. The plane is (x, y); currents run along +z out of the page, over the depth of the model.</summary>
    Long,
}
