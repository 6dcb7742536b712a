using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Heat;

/// <summary>A triangle of air between two near faces.</summary>
/// <param name="Element">Its number.</param>
/// <param name="Width">Width of the gap there, m.</param>
/// <param name="From">Region on one side.</param>
/// <param name="To">Region on the other.</param>
internal readonly record struct GapTriangle(int Element, double Width, int From, int To);

/// <summary>Finds the triangles of air in thin gaps.</summary>
internal static class GapTriangles
{
    private static readonly (double X, double Y)[] Ways = [(1, 0), (0, 1), (Math.Sqrt(0.5), Math.Sqrt(0.5)), (Math.Sqrt(0.5), -Math.Sqrt(0.5))];

    /// <summary>All of them.</summary>
    /// <param name="space">The triangles.</param>
    /// <param name="takesPart">Whether a region conducts heat.</param>
    /// <param name="widest">Width, m.</param>
    public static IEnumerable<GapTriangle> Of(FieldSpace space, Func<int, bool> takesPart, double widest)
    {
        var c = space.Coordinates;
        var faces = Faces(space, takesPart);
        for (var e = 0; e < space.InsideCount; e++)
        {
            if (takesPart(space.Region[e])) continue;
            var nodes = space.Triangles.AsSpan(6 * e, 3);
            double x = (c[2 * nodes[0]] + c[2 * nodes[1]] + c[2 * nodes[2]]) / 3, y = (c[(2 * nodes[0]) + 1] + c[(2 * nodes[1]) + 1] + c[(2 * nodes[2]) + 1]) / 3;
            var near = faces.FindAll(f => f.Least(x, y) <= widest);
            if (near.Count < 2) continue;
            GapTriangle? best = null;
            foreach (var way in Ways)
                if (Across(way) is { } found && found.Width < (best?.Width ?? widest)) best = found;
            if (best is { } gap) yield return gap;

            GapTriangle? Across((double X, double Y) way)
            {
                double ahead = double.PositiveInfinity, behind = double.PositiveInfinity;
                int first = 0, second = 0;
                foreach (var f in near)
                {
                    if (f.Meets(x, y, way.X, way.Y) is not { } t) continue;
                    if (t > 0 && t < ahead) (ahead, first) = (t, f.Region);
                    if (t < 0 && -t < behind) (behind, second) = (-t, f.Region);
                }
                return double.IsFinite(ahead + behind) ? new(e, ahead + behind, first, second) : null;
            }
        }
    }

    /// <summary>Edges between matter that takes part and what does not, corner to corner.</summary>
    private static List<Face> Faces(FieldSpace space, Func<int, bool> takesPart)
    {
        var seen = new Dictionary<int, (int Times, int From, int To, int Region)>();
        for (var e = 0; e < space.InsideCount; e++)
        {
            if (!takesPart(space.Region[e])) continue;
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var k = 0; k < 3; k++)
                seen[nodes[3 + k]] = ((seen.TryGetValue(nodes[3 + k], out var before) ? before.Times : 0) + 1, nodes[k], nodes[(k + 1) % 3], space.Region[e]);
        }
        var c = space.Coordinates;
        return [.. seen.Values.Where(s => s.Times == 1).Select(s => new Face(c[2 * s.From], c[(2 * s.From) + 1], c[2 * s.To], c[(2 * s.To) + 1], s.Region))];
    }

    private readonly record struct Face(double X0, double Y0, double X1, double Y1, int Region)
    {
        /// <summary>A distance it is not nearer than.</summary>
        public double Least(double x, double y) =>
            Math.Max(Math.Max(Math.Min(X0, X1) - x, x - Math.Max(X0, X1)), Math.Max(Math.Min(Y0, Y1) - y, y - Math.Max(Y0, Y1)));

        /// <summary>How far along a way from a point the line through it meets the face; null where it does not.</summary>
        public double? Meets(double x, double y, double wx, double wy)
        {
            double dx = X1 - X0, dy = Y1 - Y0, det = (wx * -dy) + (wy * dx);
            if (Math.Abs(det) < 1e-9 * double.Hypot(dx, dy)) return null;
            double ex = X0 - x, ey = Y0 - y, s = ((wx * ey) - (wy * ex)) / det;
            return s is >= 0 and <= 1 ? ((ex * -dy) + (ey * dx)) / det : null;
        }
    }
}
