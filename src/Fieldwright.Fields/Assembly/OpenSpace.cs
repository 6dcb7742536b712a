using Fieldwright.Fields.Elements;
using Fieldwright.Geometry;

namespace Fieldwright.Fields;

/// <summary>Puts a rim round the parts and meshes what is inside.</summary>
internal static class OpenSpace
{
    /// <summary>Rim radius over the radius of the parts: multipoles of order n reach the rim weakened by this to the power n.</summary>
    private const double Clearance = 1.5;

    public static FieldSpace Mesh(FieldModel model, Func<double, double, double> sizeAt, double arcDegrees, CancellationToken cancellation)
    {
        if (model.Edges is { } edges) return RepeatingStrip.Mesh(model, edges, sizeAt, arcDegrees, cancellation);
        var (centre, radius) = Rim(model);
        var options = new MeshOptions { SizeAt = (x, y) => Math.Min(sizeAt(x, y), 0.35 * radius), MaximumArcDegrees = arcDegrees };
        var mesh = Mesher.Triangulate(new Drawing(RimOutline(model.Symmetry, centre, radius), model.Parts), options, cancellation);
        return new FieldSpace(model.Symmetry, model.Depth, mesh, centre, radius);
    }

    /// <summary>Centre and radius of the rim.</summary>
    public static (Point Centre, double Radius) Rim(FieldModel model)
    {
        var points = model.Parts.SelectMany(p => p.Edges).SelectMany(Samples).ToList();
        double left = points.Min(p => p.X), right = points.Max(p => p.X), bottom = points.Min(p => p.Y), top = points.Max(p => p.Y);
        var centre = new Point(model.Symmetry == Symmetry.Round ? 0 : 0.5 * (left + right), 0.5 * (bottom + top));
        return (centre, Clearance * points.Max(p => double.Hypot(p.X - centre.X, p.Y - centre.Y)));
    }

    /// <summary>Points that pin down an edge: its ends and, on an arc, seven between.</summary>
    public static IEnumerable<Point> Samples(Edge edge)
    {
        var pieces = edge is ArcEdge ? 8 : 1;
        for (var k = 0; k <= pieces; k++) yield return edge.PointAt((double)k / pieces);
    }

    private static Outline RimOutline(Symmetry symmetry, Point centre, double radius) =>
        symmetry == Symmetry.Round ? Outline.HalfDisc(0, radius, centre.Y) : Outline.Circle(0, centre, radius);
}
