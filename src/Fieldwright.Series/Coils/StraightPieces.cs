using Fieldwright.Matter;

namespace Fieldwright.Series.Coils;

/// <summary>The field of a thin current along straight pieces from corner to corner.</summary>
/// <remarks>Not closed unless the corners are: a part of a circuit, to be added to the rest of it. Exact for a wire without thickness; singular on the line itself.</remarks>
/// <source key="Smythe1950" at="Biot–Savart law of a straight piece; from memory"/>
public static class StraightPieces
{
    /// <summary>Flux density per ampere at a point, T/A.</summary>
    /// <param name="corners">Corners in the order the current passes them, m.</param>
    /// <param name="point">Where, m; off the pieces.</param>
    /// <returns>B in the axes of space, T/A, right-handed about the current.</returns>
    public static Vector FluxDensity(IReadOnlyList<Vector> corners, Vector point)
    {
        ArgumentNullException.ThrowIfNull(corners);
        var sum = default(Vector);
        for (int i = 1; i < corners.Count; i++)
        {
            Vector a = corners[i - 1] - point, b = corners[i] - point;
            double la = a.Length, lb = b.Length, below = la * lb * (la * lb + Vector.Dot(a, b));
            if (below > 0)
                sum += (la + lb) / below * Vector.Cross(a, b);
        }

        return PhysicalConstants.MagneticConstant / (4 * Math.PI) * sum;
    }
}
