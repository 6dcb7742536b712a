using Fieldwright.Geometry;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>What it costs that a curved edge is a parabola and not an arc.</summary>
/// <remarks>A parabola through the ends and the middle of an arc of angle θ leaves out θ⁴/480 of the area of its sector (by series of both areas).
/// That share, of the widest arc of the mesh, is taken as the relative change of the geometry, and an answer as changing by up to three times as much: common
/// practice, no source; a ball's moment goes with its volume, the heat of a thin wire with its section.</remarks>
internal static class ArcDefect
{
    /// <summary>Relative change of an answer for a relative change of area.</summary>
    public const double Sensitivity = 3;

    /// <summary>Largest θ⁴/480 among the curved edges between regions and on the rim.</summary>
    public static double Of(Mesh mesh)
    {
        var worst = 0.0;
        foreach (var edge in mesh.InterfaceEdges) worst = Math.Max(worst, Angle(mesh, edge));
        foreach (var edge in mesh.BoundaryEdges) worst = Math.Max(worst, Angle(mesh, edge));
        return Math.Pow(worst, 4) / 480;
    }

    /// <summary>Widest arc whose defect takes a tenth of a demanded relative error.</summary>
    public static double DegreesFor(double relativeError) =>
        Math.Clamp(Math.Pow(480 * 0.1 * relativeError / Sensitivity, 0.25) * 180 / Math.PI, 1, 30);

    private static double Angle(Mesh mesh, MeshEdge edge)
    {
        var (from, to, middle) = (mesh.NodeAt(edge.From), mesh.NodeAt(edge.To), mesh.NodeAt(edge.Middle));
        var sagitta = middle.DistanceTo(0.5 * (from + to));
        return 4 * Math.Atan(2 * sagitta / from.DistanceTo(to));
    }
}
