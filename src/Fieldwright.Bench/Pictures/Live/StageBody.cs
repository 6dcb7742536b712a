using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures.Live;

/// <summary>What a body on the stage is, as far as drawing goes.</summary>
public enum StageMatter
{
    /// <summary>A part that is neither steel nor a magnet.</summary>
    Plain = 1,

    /// <summary>Steel or a magnet.</summary>
    Magnetic = 2,

    /// <summary>A winding.</summary>
    Winding = 3,
}

/// <summary>A part or a winding of a live stage.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Matter">What it is.</param>
/// <param name="Loops">Its outlines, m: (r, z) of the right half when round, (x, y) when long.</param>
/// <param name="Details">What is said of it under its name.</param>
/// <param name="Force">Force on it, N, mean over a cycle; null for a body that is fixed.</param>
/// <param name="Weight">Its weight, N; null when not known or when it is fixed.</param>
/// <param name="MagnetisedDegrees">Direction of a magnet's remanence in its own half of the section, degrees from the x or r axis; null for no magnet.</param>
public sealed record StageBody(
    string Name,
    StageMatter Matter,
    IReadOnlyList<IReadOnlyList<Point>> Loops,
    IReadOnlyList<string> Details,
    (double X, double Y)? Force,
    double? Weight,
    double? MagnetisedDegrees);
