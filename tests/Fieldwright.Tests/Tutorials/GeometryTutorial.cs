using Fieldwright.Geometry;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Tests.Tutorials;

internal static class GeometryTutorial
{
    private const int Air = 0, Wire = 1, Foil = 2, Iron = 3;

    public sealed record Outcome(int Triangles, double FoilArea, double[] WireAreaErrors, double Perimeter, int RegionInFoil, bool OutsideIsOutside, int Coarsened, int MatrixEntries);

    public static Outcome Run()
    {
        var drawing = new Drawing(
            Outline.Rectangle(Air, 0, 0, 0.1, 0.1),
            [
                Outline.Circle(Wire, new Point(0.03, 0.06), 0.003),
                Outline.Rectangle(Iron, 0.02, 0.01, 0.08, 0.03),
                Outline.Rectangle(Foil, 0.04, 0.03, 0.06, 0.03001),
            ]);

        var mesh = Mesher.Triangulate(drawing, new MeshOptions
        {
            LargestSize = 0.01,
            RegionSizes = new Dictionary<int, double> { [Wire] = 0.001, [Iron] = 0.004 },
        });
        var foilArea = mesh.AreaOfRegion(Foil);

        var finer = mesh;
        var errors = new double[3];
        for (var round = 0; round < errors.Length; round++)
        {
            errors[round] = Math.Abs(finer.AreaOfRegion(Wire) - Math.PI * 0.003 * 0.003);
            var marks = new bool[finer.TriangleCount];
            for (var t = 0; t < marks.Length; t++)
                marks[t] = finer.Regions[t] == Wire;
            finer = finer.Refine(marks).Mesh;
        }

        var perimeter = 0.0;
        foreach (var edge in finer.InterfaceEdges)
        {
            if (finer.Regions[edge.Left] == Wire || finer.Regions[edge.Right] == Wire)
                perimeter += finer.NodeAt(edge.From).DistanceTo(finer.NodeAt(edge.Middle)) + finer.NodeAt(edge.Middle).DistanceTo(finer.NodeAt(edge.To));
        }

        var inFoil = mesh.Locate(0.05, 0.030005);
        var outside = mesh.Locate(0.2, 0.05);

        var wanted = new double[finer.TriangleCount];
        for (var t = 0; t < wanted.Length; t++)
            wanted[t] = finer.Regions[t] == Wire ? 0.002 : 0.02;
        var field = SizeField.FromMesh(finer, wanted);
        var coarser = Mesher.Triangulate(drawing, new MeshOptions { SizeAt = field.At });

        var pattern = SymmetricPattern.FromElements(mesh.NodeCount, mesh.Triangles, 6, out var scatter);
        return new Outcome(mesh.TriangleCount, foilArea, errors, perimeter, mesh.Regions[inFoil.Triangle], !outside.IsInside, finer.TriangleCount - coarser.TriangleCount,
            scatter.Length == 21 * mesh.TriangleCount ? pattern.EntryCount : 0);
    }
}
