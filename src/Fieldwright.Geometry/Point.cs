using System.Globalization;

namespace Fieldwright.Geometry;

/// <summary>A point of the plane, or a vector in it; m. In a round model X is the radius r and Y the height z.</summary>
/// <param name="X">x or r, m.</param>
/// <param name="Y">y or z, m.</param>
public readonly record struct Point(double X, double Y)
{
    /// <summary>Sum of two vectors.</summary>
    public static Point operator +(Point a, Point b) => new(a.X + b.X, a.Y + b.Y);

    /// <summary>Vector from <paramref name="b"/> to <paramref name="a"/>.</summary>
    public static Point operator -(Point a, Point b) => new(a.X - b.X, a.Y - b.Y);

    /// <summary>A vector stretched by a number.</summary>
    public static Point operator *(double s, Point a) => new(s * a.X, s * a.Y);

    /// <summary>Length of the vector, m.</summary>
    public double Length => double.Hypot(X, Y);

    /// <summary>Distance to another point, m.</summary>
    public double DistanceTo(Point other) => double.Hypot(X - other.X, Y - other.Y);

    /// <summary>The vector turned a quarter turn counter-clockwise.</summary>
    public Point TurnedLeft => new(-Y, X);

    /// <summary>Whether both coordinates are finite.</summary>
    public bool IsFinite => double.IsFinite(X) && double.IsFinite(Y);

    /// <summary>Both coordinates in round brackets, in the invariant culture.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"({X:G9}, {Y:G9})");

    internal static double Dot(Point a, Point b) => (a.X * b.X) + (a.Y * b.Y);

    internal static double Cross(Point a, Point b) => (a.X * b.Y) - (a.Y * b.X);
}
