using Fieldwright.Numerics;
using Fieldwright.Series.Currents;

namespace Fieldwright.Series.Coils;

/// <summary>A flat-sided coil whose turns run round a rectangle with rounded corners (a racetrack when the short sides vanish), its section filled evenly, anywhere in space.</summary>
/// <remarks>Immutable; threads may share it. The corners of the winding are arcs about the corners' centres, so a corner radius of zero still rounds the outside.
/// Positive turns run right-handed about the axis.</remarks>
public sealed class RacetrackCoil : ICoil
{
    private readonly RacetrackField field;
    private readonly Vector ex, ey, ez;

    /// <summary>Describes a coil.</summary>
    /// <param name="length">Length of the opening along the coil's own x, m.</param>
    /// <param name="width">Width of the opening along its own y, m.</param>
    /// <param name="cornerRadius">Inner radius of the corners, m; zero, up to half the shorter side of the opening.</param>
    /// <param name="build">Thickness of the winding outwards from the opening, m.</param>
    /// <param name="height">Extent along the axis, m.</param>
    /// <param name="turns">Turns; negative for the other sense; not zero.</param>
    /// <param name="centre">Centre of the coil, m; the origin when left out.</param>
    /// <param name="axis">Direction of its axis; +z when left out.</param>
    /// <param name="along">Direction of its own x, square to the axis; +x when left out.</param>
    /// <exception cref="ArgumentException">A size is out of range or the directions are not square to one another.</exception>
    public RacetrackCoil(double length, double width, double cornerRadius, double build, double height, double turns, Vector centre = default, Vector? axis = null, Vector? along = null)
    {
        Length = Guard.Positive(length);
        Width = Guard.Positive(width);
        CornerRadius = Guard.InRange(cornerRadius, 0, 0.5 * Math.Min(length, width) * (1 + 1e-12));
        Build = Guard.Positive(build);
        Height = Guard.Positive(height);
        Turns = Guard.Finite(turns);
        if (turns == 0)
            throw new ArgumentOutOfRangeException(nameof(turns), turns, "must not be zero");
        Centre = centre;
        ez = (axis ?? Vector.AlongZ).Unit();
        ex = (along ?? new Vector(1, 0, 0)).Unit();
        if (!centre.IsFinite || Math.Abs(Vector.Dot(ex, ez)) > 1e-12)
            throw new ArgumentException("The centre must be finite, and the coil's own x square to its axis.", nameof(along));
        ey = Vector.Cross(ez, ex);
        field = new RacetrackField(length, width, Math.Min(cornerRadius, 0.5 * Math.Min(length, width)), build, height);
    }

    /// <summary>Length of the opening, m.</summary>
    public double Length { get; }

    /// <summary>Width of the opening, m.</summary>
    public double Width { get; }

    /// <summary>Inner radius of the corners, m.</summary>
    public double CornerRadius { get; }

    /// <summary>Thickness of the winding outwards, m.</summary>
    public double Build { get; }

    /// <summary>Extent along the axis, m.</summary>
    public double Height { get; }

    /// <summary>Turns, positive right-handed about the axis.</summary>
    public double Turns { get; }

    /// <inheritdoc/>
    public Vector Centre { get; }

    /// <summary>Flux density per ampere, T/A, inside the winding too.</summary>
    /// <param name="point">Point, m; not on an edge of the winding.</param>
    /// <returns>B in the axes of space. The height is integrated in closed form, the rest by panels graded towards the point: relative error below 1e-8 outside, 1e-6 inside.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is not finite.</exception>
    /// <source key="Smythe1950" at="Biot–Savart law; from memory"/>
    public Vector FluxDensity(Vector point)
    {
        var (b, _) = field.At(ToOwn(point), RacetrackField.Finest);
        return Turns * ToSpace(b);
    }

    /// <inheritdoc/>
    /// <remarks>Relative error as for <see cref="FluxDensity"/>.</remarks>
    public Vector VectorPotential(Vector point)
    {
        var (_, a) = field.At(ToOwn(point), RacetrackField.Finest);
        return Turns * ToSpace(a);
    }

    /// <summary>Self-inductance, H.</summary>
    /// <returns>L for current spread evenly over the section: the mean of A along the turns; its error is the change from five Gauss points to seven, 1e-5 or better for sections that are not very thin.</returns>
    /// <source key="Neumann1845"/>
    public Estimate<double> SelfInductance()
    {
        double rough = field.MeanLinkage(5), fine = field.MeanLinkage(7);
        return new(Turns * Turns * fine, Turns * Turns * Math.Abs(fine - rough));
    }

    /// <inheritdoc/>
    public void AddElements(int refinement, ICollection<CurrentElement> into)
    {
        ArgumentNullException.ThrowIfNull(into);
        foreach (var (point, along) in field.Turns(1 << refinement, 3 + 2 * refinement))
            into.Add(new(Centre + ToSpace(point), Turns * ToSpace(along)));
    }

    private Vector ToOwn(Vector point)
    {
        if (!point.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(point), point, "must be finite");
        var v = point - Centre;
        return new(Vector.Dot(v, ex), Vector.Dot(v, ey), Vector.Dot(v, ez));
    }

    private Vector ToSpace(Vector v) => v.X * ex + v.Y * ey + v.Z * ez;
}
