using Fieldwright.Fields.Elements;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.Heat;

/// <summary>The weak form of heat conduction: ∫ρc·Ṫ·φ + ∫k(T)∇T·∇φ + ∮q(T)·φ = ∫p·φ over the nodes of the regions that take part and of the thin gaps between them.</summary>
/// <remarks>What is linear and does not change is summed once: conduction at constant conductivity, heat that follows temperature in a straight line. Surfaces, gaps and the rest are summed at each temperature.</remarks>
internal sealed class HeatRows
{
    private const int Entries = 21;
    private const int F = ElementTables.Functions;
    private static readonly LineRule Line = Quadrature.GaussLegendre(3);
    private readonly HeatModel model;
    private readonly FieldSpace space;
    private readonly int[] elements;
    private readonly int[] scatter;
    private readonly int[] edgeScatter;
    private readonly GapTriangle[] gaps;
    private readonly double[] gapConduction;
    private readonly (int Element, IReadOnlyList<SurfaceCooling> Cooling)[] ends;
    private readonly double[] linear;
    private readonly double[] load;
    private readonly (int From, int Middle, int To, int Region)[] edges;
    private readonly (IReadOnlyList<SurfaceCooling> Cooling, double Times)[] surface;
    private readonly ElementValues values = new();
    private readonly ElementTables tables;

    /// <summary>The rows of a model.</summary>
    /// <param name="model">The model.</param>
    /// <param name="like">Rows of a model with the same mesh, regions and gaps, whose numbering serves this one too; null for none.</param>
    public HeatRows(HeatModel model, HeatRows? like = null)
    {
        this.model = model;
        space = model.Mesh.Space;
        tables = ElementTables.Degree8;
        if (like is not null && ReferenceEquals(like.space, space) && like.model.Gaps?.Widest == model.Gaps?.Widest && like.model.Matter.Keys.ToHashSet().SetEquals(model.Matter.Keys))
        {
            (BodyCount, Count, elements, gaps, Unknown, Pattern, Analysis, scatter, edgeScatter, edges, gapConduction) =
                (like.BodyCount, like.Count, like.elements, like.gaps, like.Unknown, like.Pattern, like.Analysis, like.scatter, like.edgeScatter, like.edges, like.gapConduction);
        }
        else
        {
            int[] bodies = [.. Enumerable.Range(0, space.InsideCount).Where(e => model.Matter.ContainsKey(space.Region[e]))];
            if (bodies.Length == 0) throw new ArgumentException("No region of the mesh conducts heat.", nameof(model));
            gaps = model.Gaps is { } thin ? [.. GapTriangles.Of(space, model.Matter.ContainsKey, thin.Widest)] : [];
            BodyCount = bodies.Length;
            elements = [.. bodies, .. gaps.Select(g => g.Element)];
            Unknown = new int[space.NodeCount];
            Array.Fill(Unknown, -1);
            foreach (var e in elements)
                foreach (var node in space.Triangles.AsSpan(6 * e, 6))
                    if (Unknown[node] < 0) Unknown[node] = Count++;
            edges = FindEdges();
            var dofs = new int[6 * elements.Length];
            for (var k = 0; k < elements.Length; k++)
                for (var i = 0; i < 6; i++) dofs[(6 * k) + i] = Unknown[space.Triangles[(6 * elements[k]) + i]];
            Pattern = SymmetricPattern.FromElements(Count, dofs, 6, out scatter);
            Analysis = SparseAnalysis.Create(Pattern);
            edgeScatter = [.. edges.SelectMany(s =>
            {
                int[] n = [Unknown[s.From], Unknown[s.Middle], Unknown[s.To]];
                return Enumerable.Range(0, 3).SelectMany(i => Enumerable.Range(0, i + 1).Select(j => Pattern.IndexOf(n[i], n[j])));
            })];
            gapConduction = new double[Entries * gaps.Length];
            for (var g = 0; g < gaps.Length; g++) Conduction(gaps[g].Element, 1, 1, gapConduction.AsSpan(Entries * g, Entries));
        }
        surface = [.. edges.Select(CoolingOf)];
        ends = model.EndCooling is { } cooling && space.Symmetry == Symmetry.Long
            ? [.. Enumerable.Range(0, BodyCount).Select(k => (k, CoolingOfEnds(elements[k], cooling))).Where(k => k.Item2.Count > 0)] : [];
        Mass = MassValues();
        linear = new double[Pattern.EntryCount];
        load = new double[Count];
        AddLinear();
    }

    public int Count { get; }

    /// <summary>Triangles of matter; those of gaps follow them.</summary>
    private int BodyCount { get; }

    /// <summary>Unknown of each node, −1 where no heat is followed.</summary>
    public int[] Unknown { get; }

    public SymmetricPattern Pattern { get; }

    public SparseAnalysis Analysis { get; }

    /// <summary>∫ρc·φ_i·φ_j in the order of the pattern.</summary>
    public double[] Mass { get; }

    /// <summary>Conduction and surfaces less sources for a temperature: the rows, and their symmetric part differentiated (the slope of k is left out).</summary>
    public (double[] Rows, double[] Slope) Evaluate(double[] temperature, double time)
    {
        double[] rows = Times(linear, temperature), slope = (double[])linear.Clone();
        for (var i = 0; i < Count; i++) rows[i] -= load[i];
        for (var k = 0; k < BodyCount; k++)
            if (model.Matter[space.Region[elements[k]]].Fixed is null || model.Source is not null) AddVolume(k, temperature, time, rows, slope);
        for (var g = 0; g < gaps.Length; g++) AddGap(g, temperature, rows, slope);
        for (var s = 0; s < edges.Length; s++)
        {
            var offset = 6 * s;
            EachPoint(s, temperature, (w, t, up, shape) =>
            {
                var (flux, change) = Flux(surface[s].Cooling, t, up);
                int[] n = [Unknown[edges[s].From], Unknown[edges[s].Middle], Unknown[edges[s].To]];
                var entry = 0;
                for (var i = 0; i < 3; i++)
                {
                    rows[n[i]] += w * flux * shape[i];
                    for (var j = 0; j <= i; j++) slope[edgeScatter[offset + entry++]] += w * change * shape[i] * shape[j];
                }
            });
        }
        EachEndPoint(temperature, (k, q, w, t, cooling) =>
        {
            var (flux, change) = Flux(cooling, t, 0);
            var entry = k * Entries;
            for (var i = 0; i < 6; i++)
            {
                var shape = ElementTables.Degree4.Shape[(q * F) + i];
                rows[Unknown[space.Triangles[(6 * elements[k]) + i]]] += w * flux * shape;
                for (var j = 0; j <= i; j++) slope[scatter[entry++]] += w * change * shape * ElementTables.Degree4.Shape[(q * F) + j];
            }
        });
        return (rows, slope);
    }

    /// <summary>Heat leaving all surfaces, cut faces of a long model included, W.</summary>
    public double SurfaceHeat(double[] temperature)
    {
        var sum = 0.0;
        for (var s = 0; s < edges.Length; s++)
            EachPoint(s, temperature, (w, t, up, _) => sum += w * surface[s].Cooling.Sum(c => c.Flux(t, up)));
        EachEndPoint(temperature, (_, _, w, t, cooling) => sum += w * cooling.Sum(c => c.Flux(t, 0)));
        return sum;
    }

    /// <summary>Heat being made, W.</summary>
    public double Made(double[] temperature, double time)
    {
        var sum = 0.0;
        EachVolumePoint(temperature, (w, t, region, x, y) =>
            sum += w * ((model.Source?.Invoke(region, x, y, time) ?? 0) + (model.Even.TryGetValue(region, out var even) ? even.Density * (1 + (even.Coefficient * (t - even.Reference))) : 0)));
        EachDeposit((e, shape, watts, coefficient, reference) =>
        {
            var t = 0.0;
            for (var i = 0; i < 6; i++) t += shape[i] * temperature[Unknown[space.Triangles[(6 * e) + i]]];
            sum += watts * (1 + (coefficient * (t - reference)));
        });
        return sum;
    }

    /// <summary>Sum over points of matter: weight in m³, temperature, region, place.</summary>
    public void EachVolumePoint(double[] temperature, Action<double, double, int, double, double> visit)
    {
        foreach (var e in elements.AsSpan(0, BodyCount))
        {
            values.Evaluate(space, e, tables);
            var share = LengthShare(e);
            for (var q = 0; q < values.Points; q++)
            {
                var t = 0.0;
                for (var i = 0; i < 6; i++) t += tables.Shape[(q * F) + i] * temperature[Unknown[space.Triangles[(6 * e) + i]]];
                visit(values.Weight[q] * share, t, space.Region[e], values.X[q], values.Y[q]);
            }
        }
    }

    /// <summary>Highest temperature at any node of regions.</summary>
    public double Highest(double[] temperature, IReadOnlyList<int> regions)
    {
        var most = double.NegativeInfinity;
        foreach (var e in elements.AsSpan(0, BodyCount))
            if (regions.Contains(space.Region[e]))
                foreach (var node in space.Triangles.AsSpan(6 * e, 6)) most = Math.Max(most, temperature[Unknown[node]]);
        return most;
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

    private static (double Flux, double Change) Flux(IReadOnlyList<SurfaceCooling> cooling, double t, double up)
    {
        // a slope good to a thousandth serves the iteration as well as a better one
        double flux = 0, above = 0, step = 1e-4 * Math.Max(1, Math.Abs(t));
        foreach (var one in cooling)
        {
            flux += one.Flux(t, up);
            above += one.Flux(t + step, up);
        }
        return (flux, (above - flux) / step);
    }

    private IReadOnlyList<SurfaceCooling> CoolingOfEnds(int e, Func<int, double, double, IReadOnlyList<SurfaceCooling>> cooling)
    {
        var c = space.Coordinates;
        var n = space.Triangles.AsSpan(6 * e, 3);
        return cooling(space.Region[e], (c[2 * n[0]] + c[2 * n[1]] + c[2 * n[2]]) / 3, (c[(2 * n[0]) + 1] + c[(2 * n[1]) + 1] + c[(2 * n[2]) + 1]) / 3);
    }

    private double LengthShare(int e) => space.Symmetry == Symmetry.Long && model.Matter.TryGetValue(space.Region[e], out var matter) && matter.Length is { } length ? length / space.Depth : 1;

    /// <summary>∫k∇φ_i·∇φ_j of a triangle, lower triangle by rows.</summary>
    private void Conduction(int e, double first, double second, Span<double> into)
    {
        values.Evaluate(space, e, tables);
        var share = LengthShare(e);
        for (var q = 0; q < values.Points; q++)
        {
            var entry = 0;
            for (var i = 0; i < 6; i++)
                for (var j = 0; j <= i; j++)
                    into[entry++] += share * values.Weight[q] * ((first * values.Nx[(q * F) + i] * values.Nx[(q * F) + j]) + (second * values.Ny[(q * F) + i] * values.Ny[(q * F) + j]));
        }
    }

    private void AddLinear()
    {
        Span<double> own = stackalloc double[Entries];
        for (var k = 0; k < BodyCount; k++)
        {
            var e = elements[k];
            var matter = model.Matter[space.Region[e]];
            if (matter.Fixed is { } conductivity)
            {
                Refuse(matter, conductivity, double.NaN);
                own.Clear();
                Conduction(e, conductivity, conductivity * matter.Anisotropy, own);
                for (var n = 0; n < Entries; n++) linear[scatter[(k * Entries) + n]] += own[n];
            }
            if (!model.Even.TryGetValue(space.Region[e], out var even)) continue;
            values.Evaluate(space, e, tables);
            var share = LengthShare(e);
            for (var q = 0; q < values.Points; q++)
                AddHeat(k, tables.Shape.AsSpan(q * F, 6), share * values.Weight[q] * even.Density, even.Coefficient, even.Reference);
        }
        var index = elements.Select((e, k) => (e, k)).ToDictionary(p => p.e, p => p.k);
        EachDeposit((e, shape, watts, coefficient, reference) => AddHeat(index[e], shape, watts, coefficient, reference));
    }

    /// <summary>Heat p(1 + c(T − T₀)) at a point of triangle k: −p·c·φ_i·φ_j in the matrix, p(1 − cT₀)·φ_i in the load.</summary>
    private void AddHeat(int k, ReadOnlySpan<double> shape, double watts, double coefficient, double reference)
    {
        var entry = k * Entries;
        for (var i = 0; i < 6; i++)
        {
            load[Unknown[space.Triangles[(6 * elements[k]) + i]]] += watts * (1 - (coefficient * reference)) * shape[i];
            for (var j = 0; j <= i; j++) linear[scatter[entry++]] -= watts * coefficient * shape[i] * shape[j];
        }
    }

    private delegate void Deposit(int element, ReadOnlySpan<double> shape, double watts, double coefficient, double reference);

    private void EachDeposit(Deposit visit)
    {
        Span<double> shape = stackalloc double[F], gx = stackalloc double[F], gy = stackalloc double[F];
        foreach (var deposits in model.Deposits)
        {
            var regions = deposits.Regions.Where(model.Matter.ContainsKey).ToHashSet();
            foreach (var point in deposits.Points)
            {
                if (!model.Mesh.Inside.TryLocate(point.X, point.Y, out var e, out var xi, out var eta, element => regions.Contains(space.Region[element])))
                    throw new ArgumentException($"Heat is put in at ({point.X}, {point.Y}), where none is followed.");
                ElementTables.Evaluate(xi, eta, shape, gx, gy);
                visit(e, shape[..6], point.Watts, deposits.Coefficient, deposits.Reference);
            }
        }
    }

    /// <summary>Air, or what fills the gap, at the mean temperature of the triangle; the slope of its conductivity is left out.</summary>
    private void AddGap(int g, double[] temperature, double[] rows, double[] slope)
    {
        var gap = gaps[g];
        Span<double> t = stackalloc double[6];
        for (var i = 0; i < 6; i++) t[i] = temperature[Unknown[space.Triangles[(6 * gap.Element) + i]]];
        var mean = (t[3] + t[4] + t[5]) / 3;
        var conductivity = model.Gaps!.Filling?.Invoke(gap.From, gap.To) ?? (model.Gaps.AirFactor * StillAir.Conductivity(mean))
            + (4 * PhysicalConstants.StefanBoltzmann * mean * mean * mean * gap.Width / ((1 / model.Matter[gap.From].Emissivity) + (1 / model.Matter[gap.To].Emissivity) - 1));
        // A gap that lies on turns longer than the depth is as long as they are.
        conductivity *= Math.Max(model.Matter[gap.From].Length ?? space.Depth, model.Matter[gap.To].Length ?? space.Depth) is var length && space.Symmetry == Symmetry.Long ? length / space.Depth : 1;
        var own = gapConduction.AsSpan(Entries * g, Entries);
        int entry = 0, k = BodyCount + g;
        for (var i = 0; i < 6; i++)
            for (var j = 0; j <= i; j++, entry++)
            {
                slope[scatter[(k * Entries) + entry]] += conductivity * own[entry];
                rows[Unknown[space.Triangles[(6 * gap.Element) + i]]] += conductivity * own[entry] * t[j];
                if (i != j) rows[Unknown[space.Triangles[(6 * gap.Element) + j]]] += conductivity * own[entry] * t[i];
            }
    }

    /// <summary>Conduction of matter whose conductivity changes, and heat that changes with place and time.</summary>
    private void AddVolume(int k, double[] temperature, double time, double[] rows, double[] slope)
    {
        var e = elements[k];
        var matter = model.Matter[space.Region[e]];
        values.Evaluate(space, e, tables);
        var share = LengthShare(e);
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
            // what does not change stands in the linear part already
            double first = 0, second = 0;
            if (matter.Fixed is null)
            {
                first = matter.Conductivity(t);
                Refuse(matter, first, t);
                second = first * matter.Anisotropy;
            }
            var source = model.Source?.Invoke(space.Region[e], values.X[q], values.Y[q], time) ?? 0;
            var w = share * values.Weight[q];
            var entry = k * Entries;
            for (var i = 0; i < 6; i++)
            {
                double nx = first * values.Nx[(q * F) + i], ny = second * values.Ny[(q * F) + i];
                rows[n[i]] += w * ((nx * tx) + (ny * ty) - (source * tables.Shape[(q * F) + i]));
                for (var j = 0; j <= i; j++) slope[scatter[entry++]] += w * ((nx * values.Nx[(q * F) + j]) + (ny * values.Ny[(q * F) + j]));
            }
        }
    }

    private static void Refuse(HeatMatter matter, double conductivity, double t)
    {
        if (!(conductivity > 0)) throw new ArgumentException($"{matter.Name} has a thermal conductivity of {conductivity} W/(m·K) at {t} K; it must be positive.");
    }

    private double[] MassValues()
    {
        var result = new double[Pattern.EntryCount];
        for (var k = 0; k < elements.Length; k++)
        {
            var capacity = k < BodyCount ? model.Matter[space.Region[elements[k]]].HeatCapacity * LengthShare(elements[k]) : StillAir.HeatCapacity;
            values.Evaluate(space, elements[k], tables);
            for (var q = 0; q < values.Points; q++)
            {
                var shape = tables.Shape.AsSpan(q * F, 6);
                var entry = k * Entries;
                for (var i = 0; i < 6; i++)
                    for (var j = 0; j <= i; j++) result[scatter[entry++]] += values.Weight[q] * capacity * shape[i] * shape[j];
            }
        }
        return result;
    }

    /// <summary>An edge whose middle node belongs to one triangle only, and to one of matter, is surface.</summary>
    private (int From, int Middle, int To, int Region)[] FindEdges()
    {
        var seen = new Dictionary<int, (int Times, int From, int To, int Element)>();
        foreach (var e in elements)
            for (var k = 0; k < 3; k++)
            {
                var nodes = space.Triangles.AsSpan(6 * e, 6);
                var times = seen.TryGetValue(nodes[3 + k], out var before) ? before.Times : 0;
                seen[nodes[3 + k]] = (times + 1, nodes[k], nodes[(k + 1) % 3], e);
            }
        var c = space.Coordinates;
        bool OnAxis(int from, int to) => space.Symmetry == Symmetry.Round && Math.Abs(c[2 * from]) + Math.Abs(c[2 * to]) < 1e-12 * space.Radius;
        return [.. seen.Where(s => s.Value.Times == 1 && !OnAxis(s.Value.From, s.Value.To) && model.Matter.ContainsKey(space.Region[s.Value.Element]))
            .OrderBy(s => s.Key).Select(s => (s.Value.From, s.Key, s.Value.To, space.Region[s.Value.Element]))];
    }

    private (IReadOnlyList<SurfaceCooling> Cooling, double Times) CoolingOf((int From, int Middle, int To, int Region) edge)
    {
        var c = space.Coordinates;
        var (from, middle, to, region) = edge;
        // triangles run counter-clockwise: out of the body is to the right
        double dx = c[2 * to] - c[2 * from], dy = c[(2 * to) + 1] - c[(2 * from) + 1], length = double.Hypot(dx, dy);
        var own = model.CoolingAt?.Invoke(new SurfacePlace(region, c[2 * middle], c[(2 * middle) + 1], dy / length, -dx / length)) ?? [];
        var along = model.Matter[region].SurfaceLength ?? model.Matter[region].Length;
        return ([.. model.Cooling, .. own], space.Symmetry == Symmetry.Long && along is { } there ? there / space.Depth : 1);
    }

    private void EachEndPoint(double[] temperature, Action<int, int, double, double, IReadOnlyList<SurfaceCooling>> visit)
    {
        var coarse = ElementTables.Degree4;
        foreach (var (k, cooling) in ends)
        {
            values.Evaluate(space, elements[k], coarse);
            for (var q = 0; q < values.Points; q++)
            {
                var t = 0.0;
                for (var i = 0; i < 6; i++) t += coarse.Shape[(q * F) + i] * temperature[Unknown[space.Triangles[(6 * elements[k]) + i]]];
                visit(k, q, 2 * values.Weight[q] / space.Depth, t, cooling);
            }
        }
    }

    private void EachPoint(int s, double[] temperature, Action<double, double, double, double[]> visit)
    {
        if (surface[s].Cooling.Count == 0) return;
        var ((from, middle, to, _), times) = (edges[s], surface[s].Times);
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
            var w = Line.Weights[p] * length * (space.Symmetry == Symmetry.Round ? 2 * Math.PI * r : times * space.Depth);
            var t = (shape[0] * temperature[Unknown[from]]) + (shape[1] * temperature[Unknown[middle]]) + (shape[2] * temperature[Unknown[to]]);
            visit(w, t, -dx / length, shape);
        }
    }
}
