using Fieldwright.Bench.Pictures;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Analogues;

/// <summary>What drives the flux of a field round each of its lines: the ampere-turns it goes round, and in a magnet the line's way through it times remanence over permeability.</summary>
/// <remarks>A magnet of remanence Bᵣ is a shell of current that drives Bᵣ/(μ₀ μᵣ) for each metre of a line along its remanence, and then matter of μᵣ; every line of it closes through it or through another.</remarks>
internal static class TubeDrive
{
    /// <summary>Ampere-turns that drive the line at a level of the flux function, A.</summary>
    public static double Of(FieldPlane plane, FieldModel model, double level)
    {
        double sum = 0;
        for (int t = 0; t < plane.Triangles.Count / 3; t++)
        {
            int a = plane.Triangles[3 * t], b = plane.Triangles[3 * t + 1], c = plane.Triangles[3 * t + 2];
            double j = (plane.Current[3 * t] + plane.Current[3 * t + 1] + plane.Current[3 * t + 2]) / 3;
            if (j != 0)
            {
                var (p, q, r) = (plane.Points[a], plane.Points[b], plane.Points[c]);
                double area = 0.5 * Math.Abs((q.X - p.X) * (r.Y - p.Y) - (r.X - p.X) * (q.Y - p.Y)), above = Above(plane.Flux[a], plane.Flux[b], plane.Flux[c], level);
                sum += j * area * (level >= 0 ? above : above - 1);
            }

            if (model.Frequency == 0 && model.MatterOf(plane.Regions[t]) is { IsMagnet: true } magnet)
                sum += InMagnet(plane, t, level, magnet);
        }

        return Math.Max(0, sum);
    }

    // The stretch of the line within a triangle, run the way the flux goes.
    private static double InMagnet(FieldPlane plane, int t, double level, RegionMatter magnet)
    {
        Span<double> ends = stackalloc double[4];
        int found = 0;
        for (int side = 0; side < 3 && found < 4; side++)
        {
            int a = plane.Triangles[3 * t + side], b = plane.Triangles[3 * t + (side + 1) % 3];
            double from = plane.Flux[a] - level, to = plane.Flux[b] - level;
            if (from < 0 == to < 0)
                continue;
            double s = from / (from - to);
            (ends[found], ends[found + 1]) = (plane.Points[a].X + s * (plane.Points[b].X - plane.Points[a].X), plane.Points[a].Y + s * (plane.Points[b].Y - plane.Points[a].Y));
            found += 2;
        }

        if (found < 4)
            return 0;
        double dx = ends[2] - ends[0], dy = ends[3] - ends[1], bx = 0, by = 0;
        for (int corner = 0; corner < 3; corner++)
            (bx, by) = (bx + plane.Density[3 * t + corner].X, by + plane.Density[3 * t + corner].Y);
        double along = (magnet.Remanence.X * dx + magnet.Remanence.Y * dy) / (PhysicalConstants.MagneticConstant * magnet.RelativePermeability);
        return bx * dx + by * dy >= 0 ? along : -along;
    }

    // Share of a triangle where a flat function lies above a level.
    private static double Above(double x, double y, double z, double level)
    {
        double low = Math.Min(x, Math.Min(y, z)), high = Math.Max(x, Math.Max(y, z)), middle = x + y + z - low - high;
        if (level <= low)
            return 1;
        if (level >= high)
            return 0;
        return level < middle ? 1 - (level - low) * (level - low) / ((middle - low) * (high - low)) : (high - level) * (high - level) / ((high - low) * (high - middle));
    }
}
