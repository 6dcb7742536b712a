using Fieldwright.Fields.Elements;
using Fieldwright.Geometry;

namespace Fieldwright.Fields;

/// <summary>Meshes one piece of a row so that both its upright edges carry the same nodes.</summary>
internal static class RepeatingStrip
{
    public static FieldSpace Mesh(FieldModel model, RepeatingEdges edges, Func<double, double, double> sizeAt, double arcDegrees, CancellationToken cancellation)
    {
        var points = model.Parts.SelectMany(p => p.Edges).SelectMany(OpenSpace.Samples).ToList();
        double bottom = points.Min(p => p.Y) - edges.Period, top = points.Max(p => p.Y) + edges.Period, slack = 1e-9 * edges.Period;
        double Size(double x, double y) => Math.Min(sizeAt(x, y), 0.2 * edges.Period);
        // where parts meet either edge, both are divided
        double[] stops = [bottom, .. points.Where(p => p.X < edges.Left + slack || p.X > edges.Right - slack).Select(p => p.Y).Order(), top];
        var heights = new List<double> { bottom };
        foreach (var stop in stops)
            if (stop > heights[^1] + slack) Divide(heights[^1], stop);
        List<Point> corners = [.. heights.Select(y => new Point(edges.Right, y)), .. Enumerable.Reverse(heights).Select(y => new Point(edges.Left, y))];
        var boundary = Outline.Polygon(0, corners);
        var count = heights.Count - 1;
        // edges 0 … count − 1 run up the right side, then one along the top, then down the left side
        var fixedEdges = Enumerable.Range(0, count).Concat(Enumerable.Range(count + 1, count)).ToDictionary(k => k, _ => 1);
        var options = new MeshOptions { SizeAt = Size, MaximumArcDegrees = arcDegrees, PrescribedSegments = fixedEdges };
        var mesh = Mesher.Triangulate(new Drawing(boundary, model.Parts), options, cancellation);
        return new FieldSpace(model.Depth, mesh, edges, top);

        void Divide(double from, double to)
        {
            var middle = 0.5 * (from + to);
            var size = new[] { from, middle, to }.Min(y => Math.Min(Size(edges.Left, y), Size(edges.Right, y)));
            if (to - from > size)
            {
                Divide(from, middle);
                Divide(middle, to);
            }
            else
            {
                heights.Add(to);
            }
        }
    }
}
