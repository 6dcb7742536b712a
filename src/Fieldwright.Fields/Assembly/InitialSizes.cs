using Fieldwright.Matter;
using Fieldwright.Geometry;

namespace Fieldwright.Fields;

/// <summary>Sizes of the first, coarse mesh: a part is some triangles across, the air grows away from it, and a skin depth inside a
/// conductor is at least one triangle.</summary>
internal sealed class InitialSizes
{
    private const double Growth = 0.5;

    /// <summary>Triangles on either side of an outline for each length of its size along it, the air that grows away from it included: counted on strips 100 and 2000 times as long as thick.</summary>
    private const double TrianglesPerStep = 13.5;
    private const double MostTriangles = 300_000;

    private readonly List<PartSize> parts = [];
    private readonly double fineness;

    public InitialSizes(FieldModel model, double fineness)
    {
        this.fineness = fineness;
        foreach (var outline in model.Parts)
        {
            var points = new List<Point>();
            foreach (var edge in outline.Edges)
                foreach (var p in OpenSpace.Samples(edge))
                    if (points.Count == 0 || points[^1] != p) points.Add(p);
            double width = points.Max(p => p.X) - points.Min(p => p.X), height = points.Max(p => p.Y) - points.Min(p => p.Y);
            // area over half the perimeter is the thickness of a thin part, and half the side of a square one
            var thickness = Math.Min(Math.Min(width, height), 2 * outline.Area / outline.Perimeter);
            var matter = model.MatterOf(outline.Region);
            var skin = double.PositiveInfinity;
            if (model.Frequency > 0 && matter.Conductivity > 0)
            {
                var mu = Matter.PhysicalConstants.MagneticConstant * (matter.Curve is null ? matter.RelativePermeability : 1000);
                skin = Math.Sqrt(2 / (model.AngularFrequency * mu * matter.Conductivity));
            }
            parts.Add(new(outline.Region, [.. points], thickness, skin));
        }
    }

    public double At(double x, double y)
    {
        var size = double.PositiveInfinity;
        foreach (var part in parts)
        {
            var distance = part.Distance(x, y, out var inside);
            var own = part.Thickness * 1.5;
            if (inside)
            {
                size = Math.Min(size, Math.Min(own, Math.Max(1.5 * part.SkinDepth, 0.7 * distance)));
            }
            else
            {
                size = Math.Min(size, Math.Min(own, 3 * part.SkinDepth) + (Growth * distance));
            }
        }
        return size / fineness;
    }

    /// <summary>Triangles to be expected beside the outlines of all parts; near the truth where a part is thin.</summary>
    public double Expected => parts.Sum(p => p.Expected) * fineness;

    /// <summary>Refuses a model whose first mesh alone would be out of proportion.</summary>
    /// <exception cref="TooThinForTrianglesException">More than 300,000 triangles are to be expected.</exception>
    public void Check()
    {
        if (Expected <= MostTriangles) return;
        var worst = parts.MaxBy(p => p.Expected)!;
        throw new TooThinForTrianglesException(worst.Region, 0.5 * worst.Perimeter / worst.Thin, Expected);
    }

    private sealed record PartSize(int Region, Point[] Points, double Thickness, double SkinDepth)
    {
        /// <summary>Thickness, or the skin's.</summary>
        public double Thin => Math.Min(Thickness, SkinDepth);

        public double Expected => TrianglesPerStep * Perimeter / (1.5 * Thin);

        public double Perimeter
        {
            get
            {
                var sum = 0.0;
                for (var i = 0; i + 1 < Points.Length; i++) sum += Points[i].DistanceTo(Points[i + 1]);
                return sum;
            }
        }

        /// <summary>Distance to the outline; inside by the even–odd rule.</summary>
        public double Distance(double x, double y, out bool inside)
        {
            inside = false;
            var least = double.PositiveInfinity;
            for (var i = 0; i + 1 < Points.Length; i++)
            {
                Point a = Points[i], b = Points[i + 1];
                double dx = b.X - a.X, dy = b.Y - a.Y;
                var length = (dx * dx) + (dy * dy);
                if (length == 0) continue;
                var t = Math.Clamp((((x - a.X) * dx) + ((y - a.Y) * dy)) / length, 0, 1);
                least = Math.Min(least, double.Hypot(x - a.X - (t * dx), y - a.Y - (t * dy)));
                if ((a.Y > y) != (b.Y > y) && x < a.X + ((y - a.Y) / dy * dx)) inside = !inside;
            }
            return least;
        }
    }
}
