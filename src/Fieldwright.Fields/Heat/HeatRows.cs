using Fieldwright.Fields.Elements;
using Fieldwright.Numerics;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.Heat;

/// <summary>The weak form of heat conduction: ∫ρc·Ṫ·φ + ∫k(T)∇T·∇φ + ∮q(T)·φ = ∫p·φ over the nodes of the regions that take part.</summary>
internal sealed class HeatRows
{
    private const int Entries = 21;
    private const int F = ElementTables.Functions;
    private static readonly LineRule Line = Quadrature.GaussLegendre(4);
    private readonly HeatModel model;
    private readonly FieldSpace space;
    private readonly int[] elements;
    private readonly int[] scatter;
    private readonly int[] edgeScatter;
    private readonly List<(int From, int Middle, int To)> surface = [];
    private readonly ElementValues values = new();

    public HeatRows(HeatModel model)
    {
        this.model = model;
        space = model.Mesh.Space;
        elements = [.. Enumerable.Range(0, space.InsideCount).Where(e => model.Matter.ContainsKey(space.Region[e]))];
        if (elements.Length == 0) throw new ArgumentException("No region of the mesh conducts heat.", nameof(model));
        Unknown = new int[space.NodeCount];
        Array.Fill(Unknown, -1);
        foreach (var e in elements)
            foreach (var node in space.Triangles.AsSpan(6 * e, 6))
                if (Unknown[node] < 0) Unknown[node] = Count++;
        FindSurface();
        var dofs = new int[6 * elements.Length];
        for (var k = 0; k < elements.Length; k++)
            for (var i = 0; i < 6; i++) dofs[(6 * k) + i] = Unknown[space.Triangles[(6 * elements[k]) + i]];
        Pattern = SymmetricPattern.FromElements(Count, dofs, 6, out scatter);
        Analysis = SparseAnalysis.Create(Pattern);
        edgeScatter = [.. surface.SelectMany(s =>
        {
            int[] n = [Unknown[s.From], Unknown[s.Middle], Unknown[s.To]];
            return Enumerable.Range(0, 3).SelectMany(i => Enumerable.Range(0, i + 1).Select(j => Pattern.IndexOf(n[i], n[j])));
        })];
        Mass = MassValues();
    }

    public int Count { get; }

    /// <summary>Unknown of each node, −1 where no heat is followed.</summary>
    public int[] Unknown { get; }

    public SymmetricPattern Pattern { get; }

    public SparseAnalysis Analysis { get; }

    /// <summary>∫ρc·φ_i·φ_j in the order of the pattern.</summary>
    public double[] Mass { get; }

    /// <summary>Conduction and surfaces less sources for a temperature: the rows, and their symmetric part differentiated (the slope of k is left out).</summary>
    public (double[] Rows, double[] Slope) Evaluate(double[] temperature, double time)
    {
        double[] rows = new double[Count], slope = new double[Pattern.EntryCount];
        for (var k = 0; k < elements.Length; k++) AddVolume(k, temperature, time, rows, slope);
        for (var s = 0; s < surface.Count; s++)
        {
            var offset = 6 * s;
            EachPoint(s, temperature, (w, t, up, shape) =>
            {
                double flux = 0, change = 0;
                foreach (var cooling in model.Cooling)
                {
                    var step = 1e-4 * Math.Max(1, Math.Abs(t));
                    flux += cooling.Flux(t, up);
                    change += (cooling.Flux(t + step, up) - cooling.Flux(t - step, up)) / (2 * step);
                }
                int[] n = [Unknown[surface[s].From], Unknown[surface[s].Middle], Unknown[surface[s].To]];
                var entry = 0;
                for (var i = 0; i < 3; i++)
                {
                    rows[n[i]] += w * flux * shape[i];
                    for (var j = 0; j <= i; j++) slope[edgeScatter[offset + entry++]] += w * change * shape[i] * shape[j];
                }
            });
        }
        return (rows, slope);
    }

    /// <summary>Heat leaving all surfaces, W.</summary>
    public double SurfaceHeat(double[] temperature)
    {
        var sum = 0.0;
        for (var s = 0; s < surface.Count; s++)
            EachPoint(s, temperature, (w, t, up, _) => sum += w * model.Cooling.Sum(c => c.Flux(t, up)));
        return sum;
    }

    /// <summary>Sum over points of the named regions, all of them when none is named: weight in m³, temperature, region, place.</summary>
    public void EachVolumePoint(double[] temperature, Action<double, double, int, double, double> visit)
    {
        foreach (var e in elements)
        {
            values.Evaluate(space, e, ElementTables.Degree8);
            for (var q = 0; q < values.Points; q++)
            {
                var t = 0.0;
                for (var i = 0; i < 6; i++) t += ElementTables.Degree8.Shape[(q * F) + i] * temperature[Unknown[space.Triangles[(6 * e) + i]]];
                visit(values.Weight[q], t, space.Region[e], values.X[q], values.Y[q]);
            }
        }
    }

    public double[] Times(double[] matrix, double[] x)
    {
        var y = new double[Count];
        for (var j = 0; j < Count; j++)
            for (var p = Pattern.ColumnStarts[j]; p < Pattern.ColumnStarts[j + 1]; p++)
            {
                var i = Pattern.RowIndices[p];
                y[i] += matrix[p] * x[j];
                if (i != j) y[j] += matrix[p] * x[i];
            }
        return y;
    }

    private void AddVolume(int k, double[] temperature, double time, double[] rows, double[] slope)
    {
        var e = elements[k];
        var matter = model.Matter[space.Region[e]];
        var tables = ElementTables.Degree8;
        values.Evaluate(space, e, tables);
        Span<int> n = stackalloc int[6];
        for (var i = 0; i < 6; i++) n[i] = Unknown[space.Triangles[(6 * e) + i]];
        for (var q = 0; q < values.Points; q++)
        {
            double t = 0, tx = 0, ty = 0;
            for (var i = 0; i < 6; i++)
            {
                t += tables.Shape[(q * F) + i] * temperature[n[i]];
                tx += values.Nx[(q * F) + i] * temperature[n[i]];
                ty += values.Ny[(q * F) + i] * temperature[n[i]];
            }
            var conductivity = matter.Conductivity(t);
            if (!(conductivity > 0)) throw new ArgumentException($"{matter.Name} has a thermal conductivity of {conductivity} W/(m·K) at {t} K; it must be positive.", nameof(temperature));
            var source = model.Source?.Invoke(space.Region[e], values.X[q], values.Y[q], time) ?? 0;
            var w = values.Weight[q];
            var entry = k * Entries;
            for (var i = 0; i < 6; i++)
            {
                double nx = values.Nx[(q * F) + i], ny = values.Ny[(q * F) + i];
                rows[n[i]] += w * ((conductivity * ((nx * tx) + (ny * ty))) - (source * tables.Shape[(q * F) + i]));
                for (var j = 0; j <= i; j++) slope[scatter[entry++]] += w * conductivity * ((nx * values.Nx[(q * F) + j]) + (ny * values.Ny[(q * F) + j]));
            }
        }
    }

    private double[] MassValues()
    {
        var result = new double[Pattern.EntryCount];
        for (var k = 0; k < elements.Length; k++)
        {
            var capacity = model.Matter[space.Region[elements[k]]].HeatCapacity;
            values.Evaluate(space, elements[k], ElementTables.Degree8);
            for (var q = 0; q < values.Points; q++)
            {
                var shape = ElementTables.Degree8.Shape.AsSpan(q * F, 6);
                var entry = k * Entries;
                for (var i = 0; i < 6; i++)
                    for (var j = 0; j <= i; j++) result[scatter[entry++]] += values.Weight[q] * capacity * shape[i] * shape[j];
            }
        }
        return result;
    }

    /// <summary>An edge whose middle node belongs to one triangle only is surface.</summary>
    private void FindSurface()
    {
        var seen = new Dictionary<int, (int Times, int From, int To)>();
        foreach (var e in elements)
            for (var k = 0; k < 3; k++)
            {
                var nodes = space.Triangles.AsSpan(6 * e, 6);
                var times = seen.TryGetValue(nodes[3 + k], out var before) ? before.Times : 0;
                seen[nodes[3 + k]] = (times + 1, nodes[k], nodes[(k + 1) % 3]);
            }
        foreach (var (middle, (times, from, to)) in seen.OrderBy(s => s.Key))
        {
            var onAxis = space.Symmetry == Symmetry.Round && Math.Abs(space.Coordinates[2 * from]) + Math.Abs(space.Coordinates[2 * to]) < 1e-12 * space.Radius;
            if (times == 1 && !onAxis) surface.Add((from, middle, to));
        }
    }

    private void EachPoint(int s, double[] temperature, Action<double, double, double, double[]> visit)
    {
        var (from, middle, to) = surface[s];
        var c = space.Coordinates;
        var shape = new double[3];
        for (var p = 0; p < Line.Count; p++)
        {
            var x = Line.Nodes[p];
            (shape[0], shape[1], shape[2]) = (0.5 * x * (x - 1), 1 - (x * x), 0.5 * x * (x + 1));
            var (d0, d1, d2) = (x - 0.5, -2 * x, x + 0.5);
            double dx = (d0 * c[2 * from]) + (d1 * c[2 * middle]) + (d2 * c[2 * to]), dy = (d0 * c[(2 * from) + 1]) + (d1 * c[(2 * middle) + 1]) + (d2 * c[(2 * to) + 1]);
            var r = (shape[0] * c[2 * from]) + (shape[1] * c[2 * middle]) + (shape[2] * c[2 * to]);
            var length = double.Hypot(dx, dy);
            var w = Line.Weights[p] * length * (space.Symmetry == Symmetry.Round ? 2 * Math.PI * r : space.Depth);
            var t = (shape[0] * temperature[Unknown[from]]) + (shape[1] * temperature[Unknown[middle]]) + (shape[2] * temperature[Unknown[to]]);
            // triangles run counter-clockwise: out of the body is to the right
            visit(w, t, -dx / length, shape);
        }
    }
}
