using System.Diagnostics;
using System.Globalization;
using System.Text;
using Fieldwright.Geometry;

namespace Fieldwright.Benchmarks.Geometry;

/// <summary>Triangles per second of CPU time against the general mesher of Debian (package gmsh), on the same region, one thread each, in one run.</summary>
/// <remarks>The region: a disc of 0.2 m round a ring with a gap, two coil sections and a round bar. Ours makes six-node triangles with curved arcs,
/// neighbours and markers; the peer makes three-node triangles. Time of the peer is the CPU time it reports for meshing alone.</remarks>
internal static class MesherBenchmark
{
    public static string Name => "mesher";

    public static int Run(string[] arguments)
    {
        var peer = !arguments.Contains("--without-peer");
        Console.WriteLine("triangles asked   ours: triangles  CPU s   k/s  least angle   peer: triangles  CPU s   k/s   ratio");
        var drawing = Region();
        // The first meshes compile the code.
        for (var warm = 0; warm < 5; warm++)
            Mesher.Triangulate(drawing, new() { LargestSize = 0.003 });
        foreach (var wanted in (int[])[10_000, 100_000, 1_000_000])
        {
            var size = SizeFor(drawing, wanted);
            var (mesh, seconds) = Best(drawing, size, wanted < 500_000 ? 7 : 3);
            var ours = mesh.TriangleCount / seconds;
            var line = string.Create(CultureInfo.InvariantCulture, $"{wanted,15}   {mesh.TriangleCount,15}  {seconds,5:F3}  {ours / 1000,4:F0}  {LeastAngle(mesh),11:F1}");
            if (peer)
            {
                var (triangles, peerSeconds) = Peer(drawing, wanted);
                var theirs = triangles / peerSeconds;
                line += string.Create(CultureInfo.InvariantCulture, $"   {triangles,15}  {peerSeconds,5:F2}  {theirs / 1000,4:F0}  {ours / theirs,6:F1} ({(ours >= 5 * theirs ? "met" : "missed")}: 5)");
            }
            Console.WriteLine(line);
        }
        return 0;
    }

    private static Drawing Region() => new(Outline.Circle(0, new(0, 0), 0.2),
    [
        Outline.RingWithGap(1, new(0, 0), 0.06, 0.08, 0.002),
        Outline.Rectangle(2, -0.05, -0.03, -0.03, 0.03),
        Outline.Rectangle(3, -0.11, -0.03, -0.09, 0.03),
        Outline.Circle(4, new(0.02, 0.01), 0.02),
    ]);

    private static (Mesh Mesh, double Seconds) Best(Drawing drawing, double size, int times)
    {
        var best = double.PositiveInfinity;
        Mesh? mesh = null;
        for (var i = 0; i < times; i++)
        {
            GC.Collect();
            var before = Environment.CpuUsage.TotalTime;
            mesh = Mesher.Triangulate(drawing, new() { LargestSize = size });
            best = Math.Min(best, (Environment.CpuUsage.TotalTime - before).TotalSeconds);
        }
        return (mesh!, best);
    }

    /// <summary>The size that gives about as many triangles as wanted: two corrections by the square root law.</summary>
    private static double SizeFor(Drawing drawing, int wanted)
    {
        var size = Math.Sqrt(0.1257 * 4 / wanted);
        for (var i = 0; i < 2; i++)
            size *= Math.Sqrt(Mesher.Triangulate(drawing, new() { LargestSize = size }).TriangleCount / (double)wanted);
        return size;
    }

    private static (int Triangles, double Seconds) Peer(Drawing drawing, int wanted)
    {
        // The peer's mean side is about its characteristic length: √3/4·l² a triangle.
        var file = Path.GetTempFileName() + ".geo";
        File.WriteAllText(file, GeoFile(drawing, Math.Sqrt(0.1257 / 0.43 / wanted)));
        var start = new ProcessStartInfo("sh", [Path.Combine(Root(), "benchmarks", "peers", "mesher.sh"), file]) { RedirectStandardOutput = true };
        using var process = Process.Start(start)!;
        var words = process.StandardOutput.ReadToEnd().Split(' ', '\n');
        process.WaitForExit();
        File.Delete(file);
        return (int.Parse(words[0], CultureInfo.InvariantCulture), double.Parse(words[1], CultureInfo.InvariantCulture));
    }

    private static string Root()
    {
        var directory = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(directory, "Fieldwright.slnx")))
            directory = Path.GetDirectoryName(directory) ?? throw new InvalidOperationException("run inside the repository");
        return directory;
    }

    /// <summary>The drawing in the peer's input language; parts may not touch one another. Arcs are cut in three, each below half a turn.</summary>
    private static string GeoFile(Drawing drawing, double size)
    {
        var text = new StringBuilder();
        var (points, curves) = (0, 0);
        for (var i = 0; i < drawing.Outlines.Count; i++)
        {
            var pieces = drawing.Outlines[i].Edges.SelectMany(edge => Enumerable.Range(0, edge is ArcEdge ? 3 : 1).Select(k => (edge, At: k / 3.0))).ToArray();
            var (first, firstCurve) = (points + 1, curves + 1);
            foreach (var (edge, at) in pieces)
                AddPoint(edge.PointAt(at));
            for (var k = 0; k < pieces.Length; k++)
            {
                var (a, b) = (first + k, first + ((k + 1) % pieces.Length));
                if (pieces[k].edge is ArcEdge arc)
                {
                    var centre = AddPoint(arc.Centre);
                    text.AppendLine(CultureInfo.InvariantCulture, $"Circle({++curves}) = {{{a}, {centre}, {b}}};");
                    continue;
                }
                text.AppendLine(CultureInfo.InvariantCulture, $"Line({++curves}) = {{{a}, {b}}};");
            }
            text.AppendLine(CultureInfo.InvariantCulture, $"Curve Loop({i + 1}) = {{{string.Join(", ", Enumerable.Range(firstCurve, pieces.Length))}}};");
        }
        text.AppendLine(CultureInfo.InvariantCulture, $"Plane Surface(1) = {{{string.Join(", ", Enumerable.Range(1, drawing.Outlines.Count))}}};");
        for (var i = 1; i < drawing.Outlines.Count; i++)
            text.AppendLine(CultureInfo.InvariantCulture, $"Plane Surface({i + 1}) = {{{i + 1}}};");
        return text.ToString();

        int AddPoint(Point p)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"Point({++points}) = {{{p.X:R}, {p.Y:R}, 0, {size:R}}};");
            return points;
        }
    }

    private static double LeastAngle(Mesh mesh)
    {
        var least = 180.0;
        for (var t = 0; t < mesh.TriangleCount; t++)
        {
            for (var e = 0; e < 3; e++)
            {
                var p = mesh.NodeAt(mesh.Triangles[(6 * t) + e]);
                var u = mesh.NodeAt(mesh.Triangles[(6 * t) + ((e + 1) % 3)]) - p;
                var v = mesh.NodeAt(mesh.Triangles[(6 * t) + ((e + 2) % 3)]) - p;
                least = Math.Min(least, Math.Atan2((u.X * v.Y) - (u.Y * v.X), (u.X * v.X) + (u.Y * v.Y)) * 180 / Math.PI);
            }
        }
        return least;
    }
}
