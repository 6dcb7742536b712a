namespace Fieldwright.Series;

/// <summary>Where an axisymmetric thing stands: its origin, its axis, and two directions across.</summary>
internal readonly struct Frame
{
    private readonly Vector acrossX, acrossY;

    public Frame(Vector origin, Vector? axis)
    {
        if (!origin.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(origin), origin, "must be finite");
        Origin = origin;
        Axis = axis?.Unit() ?? Vector.AlongZ;
        var helper = Math.Abs(Axis.Z) > 0.9 ? new Vector(1, 0, 0) : Vector.AlongZ;
        acrossX = (helper - Vector.Dot(helper, Axis) * Axis).Unit();
        acrossY = Vector.Cross(Axis, acrossX);
    }

    public Vector Origin { get; }

    public Vector Axis { get; }

    /// <summary>Distance from the axis, height along it, and the unit vector outwards (any one on the axis itself).</summary>
    public (double R, double Z, Vector Outward) Local(Vector point)
    {
        var rel = point - Origin;
        var z = Vector.Dot(rel, Axis);
        var across = rel - z * Axis;
        var r = across.Length;
        return (r, z, r > 0 ? 1 / r * across : acrossX);
    }

    /// <summary>The two directions across, φ = 0 and φ = 90°.</summary>
    public (Vector X, Vector Y) Across => (acrossX, acrossY);

    public Vector PointAt(double r, double cos, double sin, double z) => Origin + r * cos * acrossX + r * sin * acrossY + z * Axis;

    /// <summary>Unit vector along +φ at an angle.</summary>
    public Vector Along(double cos, double sin) => -sin * acrossX + cos * acrossY;

    /// <summary>Whether another frame shares the axis line, its origin's height here, and whether its axis points the same way (+1) or back (−1).</summary>
    public bool IsCoaxial(in Frame other, double scale, out double height, out int sense)
    {
        var (r, z, _) = Local(other.Origin);
        height = z;
        sense = Vector.Dot(Axis, other.Axis) < 0 ? -1 : 1;
        return r < 1e-13 * scale && Vector.Cross(Axis, other.Axis).Length < 1e-13;
    }
}
