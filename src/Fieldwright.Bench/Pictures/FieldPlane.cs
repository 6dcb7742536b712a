using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>The part of the plane that a picture shows, m: (r, z) when round, x and r being the same, or (x, y).</summary>
internal readonly record struct View(double Left, double Bottom, double Right, double Top)
{
    /// <summary>Whether a box touches the view.</summary>
    public bool Meets(double left, double bottom, double right, double top) => right >= Left && left <= Right && top >= Bottom && bottom <= Top;
}

/// <summary>A field at one instant on small flat triangles: flux function at their corners, and flux density and current density at each corner of each.</summary>
/// <remarks>
/// Every curved triangle of the field's mesh is cut into n² pieces and its own quadratic functions are evaluated at the cuts, so that lines drawn
/// through the pieces keep to the solution. Beyond the rim of the mesh, rings of points carry the mapped outside.
/// </remarks>
internal sealed class FieldPlane
{
    private const int FinestCut = 10;
    private readonly List<Point> points = [];
    private readonly List<double> flux = [];
    private readonly List<int> triangles = [];
    private readonly List<PlaneVector> density = [];
    private readonly List<double> current = [];
    private readonly List<int> regions = [];
    private readonly MagneticField field;
    private readonly double angle;
    private readonly bool round;

    private FieldPlane(MagneticField field, double angle)
    {
        this.field = field;
        this.angle = angle;
        round = field.Model.Symmetry == Symmetry.Round;
    }

    /// <summary>Corners, m.</summary>
    public IReadOnlyList<Point> Points => points;

    /// <summary>Flux function at each corner, Wb: through the whole turn when round, through the depth when long.</summary>
    public IReadOnlyList<double> Flux => flux;

    /// <summary>Three corners a triangle.</summary>
    public IReadOnlyList<int> Triangles => triangles;

    /// <summary>Flux density, T, three a triangle: it jumps where matter changes.</summary>
    public IReadOnlyList<PlaneVector> Density => density;

    /// <summary>Current density along φ (round) or towards the reader (long), A/m², three a triangle.</summary>
    public IReadOnlyList<double> Current => current;

    /// <summary>Region of each triangle.</summary>
    public IReadOnlyList<int> Regions => regions;

    /// <summary>Cuts up the field in a view.</summary>
    /// <param name="field">The field.</param>
    /// <param name="angle">ωt of the instant, rad; without meaning in a static field.</param>
    /// <param name="view">What is shown.</param>
    /// <param name="piece">Size the pieces should have, m.</param>
    public static FieldPlane Of(MagneticField field, double angle, View view, double piece)
    {
        var plane = new FieldPlane(field, angle);
        plane.Cut(view, piece);
        return plane;
    }

    /// <summary>Flux density at a point, T, from the field itself.</summary>
    public PlaneVector DensityNear(Point place) => DensityAt(place.X, place.Y);

    /// <summary>Current density at a point along φ (round) or towards the reader (long), A/m², from the field itself.</summary>
    public double CurrentNear(Point place) => CurrentAt(place.X, place.Y);

    private void Cut(View view, double piece)
    {
        var mesh = field.Mesh;
        var places = field.Meshed.Coordinates.ToArray();
        double[] potential = Potentials(places);
        var shown = Enumerable.Range(0, mesh.TriangleCount).Where(t => IsShown(mesh, places, t, view)).ToList();
        int n = Cuts(mesh, places, shown, piece);
        var onEdges = new Dictionary<(int, int), int>();
        var atNodes = new Dictionary<int, int>();
        int[,] ids = new int[n + 1, n + 1];
        var local = new PlaneVector[n + 1, n + 1];
        double[,] currents = new double[n + 1, n + 1];
        foreach (int t in shown)
        {
            var element = new QuadraticTriangle(places, potential, mesh.Triangles.AsSpan(6 * t, 6));
            double[]? nodal = NodalCurrents(element, mesh.Regions[t]);
            for (int i = 0; i <= n; i++)
                for (int j = 0; i + j <= n; j++)
                {
                    var at = element.At((double)i / n, (double)j / n);
                    ids[i, j] = Identify(mesh.Triangles.AsSpan(6 * t, 6), i, j, n, atNodes, onEdges, at);
                    local[i, j] = FluxDensity(at);
                    currents[i, j] = nodal is null ? 0 : element.Interpolate(nodal, (double)i / n, (double)j / n);
                }

            void Add(int i0, int j0, int i1, int j1, int i2, int j2)
            {
                triangles.AddRange([ids[i0, j0], ids[i1, j1], ids[i2, j2]]);
                density.AddRange([local[i0, j0], local[i1, j1], local[i2, j2]]);
                current.AddRange([currents[i0, j0], currents[i1, j1], currents[i2, j2]]);
                regions.Add(mesh.Regions[t]);
            }

            for (int i = 0; i < n; i++)
                for (int j = 0; i + j < n; j++)
                {
                    Add(i, j, i + 1, j, i, j + 1);
                    if (i + j < n - 1)
                        Add(i + 1, j, i + 1, j + 1, i, j + 1);
                }
        }

        AddOutside(mesh, places, view, n, atNodes, onEdges);
    }

    // u = A_φ/r when round, A when long: the quadratic unknown of the mesh, at the instant.
    private double[] Potentials(double[] places)
    {
        var nodal = field.NodalFluxFunction();
        double[] values = new double[nodal.Length];
        for (int n = 0; n < values.Length; n++)
        {
            double psi = Now(nodal[n]), r = places[2 * n];
            values[n] = !round ? psi / field.Model.Depth : r > 0 ? psi / (2 * Math.PI * r * r) : 0.5 * DensityAt(0, places[2 * n + 1]).Y;
        }

        return values;
    }

    private double Now(Complex phasor) => phasor.Real * Math.Cos(angle) - phasor.Imaginary * Math.Sin(angle);

    private PlaneVector DensityAt(double x, double y) => field switch
    {
        HarmonicField harmonic => harmonic.FluxDensity(x, y).At(angle),
        StaticField still => still.FluxDensity(x, y),
        _ => throw new InvalidOperationException($"A {field.GetType().Name} cannot be drawn."),
    };

    private double FluxAt(double x, double y) => field switch
    {
        HarmonicField harmonic => Now(harmonic.FluxFunction(x, y)),
        StaticField still => still.FluxFunction(x, y),
        _ => throw new InvalidOperationException($"A {field.GetType().Name} cannot be drawn."),
    };

    private double CurrentAt(double x, double y) => field switch
    {
        HarmonicField harmonic => Now(harmonic.CurrentDensity(x, y)),
        StaticField still => still.CurrentDensity(x, y),
        _ => throw new InvalidOperationException($"A {field.GetType().Name} cannot be drawn."),
    };

    private double FluxFunction(LocalPotential at) => round ? 2 * Math.PI * at.Place.X * at.Place.X * at.Value : field.Model.Depth * at.Value;

    private PlaneVector FluxDensity(LocalPotential at) =>
        round ? new(-at.Place.X * at.AlongY, 2 * at.Value + at.Place.X * at.AlongX) : new(at.AlongY, -at.AlongX);

    private bool Carries(int region) =>
        field.Model.MatterOf(region).Conductivity > 0 || field.Model.Windings.Any(w => w.Sides.Any(s => s.Region == region));

    // Taken a little inside the triangle, so that the neighbour's matter is never asked.
    private double[]? NodalCurrents(QuadraticTriangle element, int region)
    {
        if (!Carries(region))
            return null;
        double[] values = new double[6];
        var middle = element.At(1.0 / 3, 1.0 / 3).Place;
        for (int k = 0; k < 6; k++)
        {
            var node = element.Node(k);
            values[k] = CurrentAt(node.X + 0.02 * (middle.X - node.X), node.Y + 0.02 * (middle.Y - node.Y));
        }

        return values;
    }

    private int Identify(ReadOnlySpan<int> nodes, int i, int j, int n, Dictionary<int, int> atNodes, Dictionary<(int, int), int> onEdges, LocalPotential at)
    {
        int corner = (i, j) == (0, 0) ? nodes[0] : (i, j) == (n, 0) ? nodes[1] : (i, j) == (0, n) ? nodes[2] : -1;
        if (corner >= 0)
            return Known(atNodes, corner, at);
        if (j == 0)
            return OnEdge(nodes[0], nodes[1], i, n, onEdges, at);
        if (i == 0)
            return OnEdge(nodes[0], nodes[2], j, n, onEdges, at);
        return i + j == n ? OnEdge(nodes[1], nodes[2], j, n, onEdges, at) : Add(at.Place, FluxFunction(at));
    }

    // Cut k of n from node a towards node b; the edge is keyed by its middle position in ascending order of the nodes.
    private int OnEdge(int a, int b, int k, int n, Dictionary<(int, int), int> onEdges, LocalPotential at)
    {
        var key = EdgeKey(a, b, k, n);
        if (!onEdges.TryGetValue(key, out int id))
            onEdges[key] = id = Add(at.Place, FluxFunction(at));
        return id;
    }

    private static (int, int) EdgeKey(int a, int b, int k, int n)
    {
        if (a > b)
            (a, b, k) = (b, a, n - k);
        return (a, b * (FinestCut + 1) + k);
    }

    private int Known(Dictionary<int, int> atNodes, int node, LocalPotential at)
    {
        if (!atNodes.TryGetValue(node, out int id))
            atNodes[node] = id = Add(at.Place, FluxFunction(at));
        return id;
    }

    private int Add(Point place, double value)
    {
        points.Add(place);
        flux.Add(value);
        return points.Count - 1;
    }

    // Rings round the rim, as far as the view reaches, through the rim's own points.
    private void AddOutside(Mesh mesh, double[] places, View view, int n, Dictionary<int, int> atNodes, Dictionary<(int, int), int> onEdges)
    {
        var rim = mesh.BoundaryEdges.Where(e => !(round && places[2 * e.From] == 0 && places[2 * e.To] == 0)).ToList();
        double top = rim.Max(e => places[2 * e.To + 1]), bottom = rim.Min(e => places[2 * e.From + 1]);
        top = Math.Max(top, rim.Max(e => places[2 * e.From + 1]));
        bottom = Math.Min(bottom, rim.Min(e => places[2 * e.To + 1]));
        double right = rim.Max(e => Math.Max(places[2 * e.From], places[2 * e.To])), left = rim.Min(e => Math.Min(places[2 * e.From], places[2 * e.To]));
        var centre = new Point(round ? 0 : 0.5 * (left + right), 0.5 * (bottom + top));
        double radius = new[] { view.Left, view.Right }.SelectMany(x => new[] { view.Bottom, view.Top }.Select(y => double.Hypot(x - centre.X, y - centre.Y))).Max();
        double inner = double.Hypot(places[2 * rim[0].Middle] - centre.X, places[2 * rim[0].Middle + 1] - centre.Y);
        double reach = 1.01 * radius / inner;
        if (reach <= 1)
            return;
        double step = rim.Average(e => double.Hypot(places[2 * e.From] - places[2 * e.To], places[2 * e.From + 1] - places[2 * e.To + 1])) / n / inner;
        int rings = Math.Max(1, (int)Math.Ceiling(Math.Log(reach) / (1.5 * step)));
        double growth = Math.Pow(reach, 1.0 / rings);
        var spokes = new Dictionary<int, int[]>();
        foreach (var edge in rim)
        {
            int[] along = new int[n + 1];
            for (int k = 0; k <= n; k++)
            {
                var foot = OnRim(places, edge, (double)k / n);
                int id = k == 0 ? atNodes.GetValueOrDefault(edge.From, -1) : k == n ? atNodes.GetValueOrDefault(edge.To, -1)
                    : onEdges.GetValueOrDefault(EdgeKey(edge.From, edge.To, k, n), -1);
                along[k] = id >= 0 ? id : k == 0 ? atNodes[edge.From] = Add(foot, FluxAt(foot.X, foot.Y)) : k == n ? atNodes[edge.To] = Add(foot, FluxAt(foot.X, foot.Y)) : Add(foot, FluxAt(foot.X, foot.Y));
            }

            for (int k = 0; k < n; k++)
                for (int ring = 0; ring < rings; ring++)
                {
                    int a = Spoke(spokes, along[k], centre, growth, rings)[ring], b = Spoke(spokes, along[k + 1], centre, growth, rings)[ring];
                    int c = spokes[along[k]][ring + 1], d = spokes[along[k + 1]][ring + 1];
                    AddOutside(a, b, c);
                    AddOutside(b, d, c);
                }
        }
    }

    private int[] Spoke(Dictionary<int, int[]> spokes, int foot, Point centre, double growth, int rings)
    {
        if (spokes.TryGetValue(foot, out int[]? spoke))
            return spoke;
        spoke = new int[rings + 1];
        spoke[0] = foot;
        for (int ring = 1; ring <= rings; ring++)
        {
            var place = centre + Math.Pow(growth, ring) * (points[foot] - centre);
            place = round && place.X < 0 ? new Point(0, place.Y) : place;
            spoke[ring] = Add(place, FluxAt(place.X, place.Y));
        }

        return spokes[foot] = spoke;
    }

    private void AddOutside(int a, int b, int c)
    {
        triangles.AddRange([a, b, c]);
        foreach (int corner in (ReadOnlySpan<int>)[a, b, c])
        {
            density.Add(DensityAt(points[corner].X, points[corner].Y));
            current.Add(0);
        }

        regions.Add(0);
    }

    private static Point OnRim(double[] places, MeshEdge edge, double t)
    {
        double a = (1 - t) * (1 - 2 * t), m = 4 * t * (1 - t), b = t * (2 * t - 1);
        return new Point(
            a * places[2 * edge.From] + m * places[2 * edge.Middle] + b * places[2 * edge.To],
            a * places[2 * edge.From + 1] + m * places[2 * edge.Middle + 1] + b * places[2 * edge.To + 1]);
    }

    private static bool IsShown(Mesh mesh, double[] places, int t, View view)
    {
        double left = double.MaxValue, right = double.MinValue, bottom = double.MaxValue, top = double.MinValue;
        foreach (int node in mesh.Triangles.AsSpan(6 * t, 6))
        {
            (left, right) = (Math.Min(left, places[2 * node]), Math.Max(right, places[2 * node]));
            (bottom, top) = (Math.Min(bottom, places[2 * node + 1]), Math.Max(top, places[2 * node + 1]));
        }

        return view.Meets(left, bottom, right, top);
    }

    // Enough for nine triangles in ten; the few large ones lie far out, where lines are nearly straight.
    private static int Cuts(Mesh mesh, double[] places, List<int> shown, double piece)
    {
        var longest = shown.Select(t =>
        {
            var nodes = mesh.Triangles.AsSpan(6 * t, 3);
            double size = 0;
            for (int k = 0; k < 3; k++)
                size = Math.Max(size, double.Hypot(places[2 * nodes[k]] - places[2 * nodes[(k + 1) % 3]], places[2 * nodes[k] + 1] - places[2 * nodes[(k + 1) % 3] + 1]));
            return size;
        }).Order().ToList();
        return longest.Count == 0 ? 1 : (int)Math.Clamp(Math.Ceiling(longest[(int)(0.9 * (longest.Count - 1))] / piece), 2, FinestCut);
    }
}
