using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures.Live;

/// <summary>A field on its own curved triangles, in the plain numbers that a drawing device takes. Immutable by agreement: arrays are handed out, not copied.</summary>
/// <remarks>
/// The unknown of the mesh, u = A_φ/r when round and A when long, is quadratic in each triangle; whoever draws it evaluates it anywhere, so that lines
/// stay smooth at any scale: flux function ψ = 2πr²u or depth·u, flux density its slopes, current density J = source − jωσA. Beyond the rim of the
/// mesh, rings of triangles carry the mapped outside to four times its radius.
/// </remarks>
public sealed class StageGrid
{
    private const int Rings = 6;
    private const double Reach = 4, Brightest = 0.995;
    private readonly MagneticField field;
    private readonly List<float> nodes = [];
    private readonly List<int> triangles = [];
    private readonly List<float> sources = [];
    private readonly bool round;

    private StageGrid(MagneticField field)
    {
        this.field = field;
        round = field.Model.Symmetry == Symmetry.Round;
    }

    /// <summary>Four a node: x, y in m, real and imaginary part of u.</summary>
    public float[] Nodes => [.. nodes];

    /// <summary>Six nodes a triangle: three corners, then the middles of the sides between 0 and 1, 1 and 2, 2 and 0.</summary>
    public int[] Triangles => [.. triangles];

    /// <summary>Four a triangle: real and imaginary part of the source of the current density along φ or towards the reader, A/m²; ωσ, S·rad/(m·s); and the <see cref="StageMatter"/>, 0 for air.</summary>
    public float[] Sources => [.. sources];

    /// <summary>Flux density that the strongest two hundredth of the plane inside the rim exceeds at its peak, T.</summary>
    public double MostFluxDensity { get; private set; }

    /// <summary>Greatest current density at its peak, A/m².</summary>
    public double MostCurrentDensity { get; private set; }

    /// <summary>Least and greatest flux function within the parts' surroundings at the strongest instant, Wb.</summary>
    public (double Least, double Most) Flux { get; private set; }

    /// <summary>A field in plain numbers.</summary>
    internal static StageGrid Of(MagneticField field, IReadOnlyDictionary<int, StageMatter> matter)
    {
        var grid = new StageGrid(field);
        grid.AddInside(matter);
        grid.AddOutside();
        return grid;
    }

    private void AddInside(IReadOnlyDictionary<int, StageMatter> matter)
    {
        var (mesh, places) = (field.Mesh, field.Meshed.Coordinates.ToArray());
        var unknown = field.NodalUnknown;
        var psi = field.NodalFluxFunction();
        var (sin, cos) = Math.SinCos(Instants.Strongest(field));
        double least = 0, most = 0;
        for (int n = 0; n < psi.Length; n++)
        {
            nodes.AddRange([(float)places[2 * n], (float)places[2 * n + 1], (float)unknown[n].Real, (float)unknown[n].Imaginary]);
            double now = psi[n].Real * cos - psi[n].Imaginary * sin;
            (least, most) = (Math.Min(least, now), Math.Max(most, now));
        }

        Flux = (least, most);
        triangles.AddRange(mesh.Triangles);
        var wound = field.Model.Windings.SelectMany(w => w.Sides).Select(s => s.Region).ToHashSet();
        double[] strengths = new double[mesh.TriangleCount], areas = new double[mesh.TriangleCount];
        field.EachMiddle((t, potential, density, current) =>
        {
            int region = mesh.Regions[t];
            var source = Complex.Zero;
            double sigma = field.Model.MatterOf(region).Conductivity, omegaSigma = field.Model.AngularFrequency * sigma;
            if (sigma > 0 || wound.Contains(region))
            {
                source = current + Complex.ImaginaryOne * omegaSigma * potential;
                MostCurrentDensity = Math.Max(MostCurrentDensity, CornerCurrent(places, mesh.Triangles.AsSpan(6 * t, 3), psi, source, omegaSigma, current));
            }

            sources.AddRange([(float)source.Real, (float)source.Imaginary, (float)omegaSigma, matter.TryGetValue(region, out var kind) ? (float)kind : 0]);
            (strengths[t], areas[t]) = (density.Peak, Area(places, mesh.Triangles.AsSpan(6 * t, 3)));
        });
        MostFluxDensity = Exceeded(strengths, areas);
    }

    // Eddy currents are densest at the skin, so the corners are asked too.
    private double CornerCurrent(double[] places, ReadOnlySpan<int> corners, Complex[] psi, Complex source, double omegaSigma, Complex middle)
    {
        double most = middle.Magnitude;
        if (omegaSigma == 0)
            return most;
        foreach (int n in corners)
        {
            double r = places[2 * n];
            var potential = round ? (r > 0 ? psi[n] / (2 * Math.PI * r) : 0) : psi[n] / field.Model.Depth;
            most = Math.Max(most, (source - Complex.ImaginaryOne * omegaSigma * potential).Magnitude);
        }

        return most;
    }

    private static double Exceeded(double[] strengths, double[] areas)
    {
        double all = areas.Sum(), sum = 0;
        Array.Sort(strengths, areas);
        for (int t = 0; t < strengths.Length; t++)
            if ((sum += areas[t]) >= Brightest * all)
                return strengths[t];
        return 0;
    }

    private static double Area(double[] places, ReadOnlySpan<int> n)
    {
        double ax = places[2 * n[0]], ay = places[2 * n[0] + 1], bx = places[2 * n[1]], by = places[2 * n[1] + 1], cx = places[2 * n[2]], cy = places[2 * n[2] + 1];
        return 0.5 * Math.Abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay));
    }

    // Rings round the rim through the rim's own nodes: two curved triangles for each rim edge and ring.
    private void AddOutside()
    {
        var mesh = field.Mesh;
        var places = field.Meshed.Coordinates.ToArray();
        var rim = mesh.BoundaryEdges.Where(e => !(round && places[2 * e.From] == 0 && places[2 * e.To] == 0)).ToList();
        if (rim.Count == 0)
            return;
        double left = rim.Min(e => places[2 * e.From]), right = rim.Max(e => places[2 * e.From]);
        double bottom = rim.Min(e => Math.Min(places[2 * e.From + 1], places[2 * e.To + 1])), top = rim.Max(e => Math.Max(places[2 * e.From + 1], places[2 * e.To + 1]));
        var centre = new Point(round ? 0 : 0.5 * (left + right), 0.5 * (bottom + top));
        var spokes = new Dictionary<int, int[]>();
        foreach (var edge in rim)
        {
            int[] a = Spoke(spokes, edge.From, centre), m = Spoke(spokes, edge.Middle, centre), b = Spoke(spokes, edge.To, centre);
            for (int k = 0; k < Rings; k++)
            {
                // The triangle inside lies on the left of From → To, so outwards is on its right.
                triangles.AddRange([b[2 * k], a[2 * k], a[2 * k + 2], m[2 * k], a[2 * k + 1], m[2 * k + 1]]);
                triangles.AddRange([b[2 * k], a[2 * k + 2], b[2 * k + 2], m[2 * k + 1], m[2 * k + 2], b[2 * k + 1]]);
                sources.AddRange([0, 0, 0, 0, 0, 0, 0, 0]);
            }
        }
    }

    private int[] Spoke(Dictionary<int, int[]> spokes, int foot, Point centre)
    {
        if (spokes.TryGetValue(foot, out int[]? spoke))
            return spoke;
        spoke = new int[2 * Rings + 1];
        spoke[0] = foot;
        double dx = nodes[4 * foot] - centre.X, dy = nodes[4 * foot + 1] - centre.Y;
        for (int k = 1; k < spoke.Length; k++)
        {
            double outwards = Math.Pow(Reach, (double)k / (2 * Rings)), x = centre.X + outwards * dx, y = centre.Y + outwards * dy;
            var u = !round ? FluxFunction(x, y) / field.Model.Depth : x > 0 ? FluxFunction(x, y) / (2 * Math.PI * x * x) : 0.5 * AlongAxis(y);
            spoke[k] = nodes.Count / 4;
            nodes.AddRange([(float)x, (float)y, (float)u.Real, (float)u.Imaginary]);
        }

        return spokes[foot] = spoke;
    }

    // On the axis A/r is half the flux density along it.
    private Complex AlongAxis(double y) => field switch
    {
        HarmonicField harmonic => harmonic.FluxDensity(0, y).Y,
        StaticField still => still.FluxDensity(0, y).Y,
        _ => 0,
    };

    private Complex FluxFunction(double x, double y) => field switch
    {
        HarmonicField harmonic => harmonic.FluxFunction(x, y),
        StaticField still => still.FluxFunction(x, y),
        _ => 0,
    };
}
