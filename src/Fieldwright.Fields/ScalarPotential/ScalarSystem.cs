using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.ScalarPotential;

/// <summary>The static field by its scalar potential: minimum over φ of ∫w'(|T − ∇φ|) + Remanence·(T − ∇φ) dV, convex when the BH curve is monotone.</summary>
/// <remarks>Newton's method with the line search of <see cref="Static.StaticSystem"/>; linear matter takes one step. The unknowns, their numbering and the analysis of the
/// factorisation are those of the vector potential on the same mesh. Outside a round model's rim φ = (R/ρ)·φ̂, its Kelvin transform in three dimensions, whose
/// energy is ½μ₀·2π[∫ r|∇φ̂|² dr dz + (1/R)∮ r φ̂² ds]; the same Green's identity as for A, one power of r instead of three.</remarks>
internal sealed class ScalarSystem
{
    private const int MostSteps = 60;
    private const double StepTolerance = 1e-10;
    private const int F = ElementTables.Functions;

    private readonly MeshedModel meshed;
    private readonly FieldSpace space;
    private readonly MaterialTable materials;
    private readonly PermeabilityLaw[] laws;
    private readonly Dictionary<int, int> rimOf;
    private readonly ElementValues values = new();
    private readonly bool isLinear;
    private RealLdl? factor;

    public ScalarSystem(MeshedModel meshed)
    {
        if (meshed.Model.Edges is not null) throw new ArgumentException("The scalar potential knows open space only; the model is one piece of a row.", nameof(meshed));
        this.meshed = meshed;
        space = meshed.Space;
        materials = new MaterialTable(meshed.Model, space);
        laws = [.. space.Regions.Select(r => PermeabilityLaw.Of(r > 0 ? meshed.Model.MatterOf(r) : RegionMatter.Air))];
        isLinear = laws.All(l => l.IsLinear);
        rimOf = space.RimEdges.ToDictionary(r => r.Element, r => r.Edge);
    }

    public List<double> History { get; } = [];

    public PermeabilityLaw Law(int element) => laws[space.RegionIndex[element]];

    /// <summary>The potential for a source field.</summary>
    /// <param name="source">Field whose curl is the current density.</param>
    /// <param name="magnets">Whether magnets count; false for the field that a winding adds.</param>
    /// <param name="firstPermeability">Permeability of nonlinear matter at point q of triangle e for the first step, H/m.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="FieldNotConvergedException">Newton's method did not settle.</exception>
    public double[] Solve(SourceField source, bool magnets, Func<int, int, double> firstPermeability, CancellationToken cancellation)
    {
        var potential = new double[space.NodeCount];
        if (isLinear && factor is not null)
        {
            Step(potential, Gradient(potential, source, magnets, null), 1);
            return potential;
        }
        Factor(Tangent(potential, source, firstPermeability));
        Step(potential, Gradient(potential, source, magnets, firstPermeability), 1);
        if (isLinear) return potential;
        for (var step = 0; step < MostSteps; step++)
        {
            cancellation.ThrowIfCancellationRequested();
            Factor(Tangent(potential, source, null));
            var gradient = Gradient(potential, source, magnets, null);
            var direction = SolveTangent([.. gradient.Select(g => -g)]);
            var descent = -NodeVectors.Dot(gradient, direction);
            if (!double.IsFinite(descent)) break;
            var scale = Search(potential, direction, descent, source, magnets);
            for (var n = 0; n < potential.Length; n++) potential[n] += scale * direction[n];
            var whole = Coenergy(potential, source, magnets, absolute: true);
            History.Add(whole > 0 ? Math.Sqrt(Math.Abs(descent) / whole) : 0);
            if (History[^1] < StepTolerance) return potential;
        }
        throw new FieldNotConvergedException($"The scalar potential did not settle in {MostSteps} Newton steps.", History);
    }

    /// <summary>Solves with the tangent last factored.</summary>
    public double[] SolveTangent(double[] loadOverNodes)
    {
        factor ??= RealLdl.Create(meshed.Analysis, Tangent(new double[space.NodeCount], null, null));
        var x = new double[meshed.UnknownCount];
        factor.Solve(NodeVectors.ToUnknowns(meshed, loadOverNodes), x);
        return NodeVectors.ToNodes(meshed, x);
    }

    /// <summary>∫w'(H) + Remanence·H over all space, J.</summary>
    /// <param name="potential">φ over the nodes, A.</param>
    /// <param name="source">T.</param>
    /// <param name="magnets">Whether magnets count.</param>
    /// <param name="absolute">Sum of the sizes of the contributions instead: a scale.</param>
    /// <param name="more">Told what each triangle has.</param>
    public double Coenergy(double[] potential, SourceField? source, bool magnets, bool absolute = false, Action<int, double>? more = null)
    {
        var sum = 0.0;
        Span<double> rim = stackalloc double[F * (F + 1) / 2];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var tables = space.TablesFor(e, true, false);
            values.Evaluate(space, e, tables);
            var law = Law(e);
            var matter = materials.Matter(e);
            var own = 0.0;
            for (var q = 0; q < values.Points; q++)
            {
                var (hx, hy) = FieldStrength(e, q, values, tables, potential, source);
                var density = law.CoenergyDensity(double.Hypot(hx, hy));
                if (magnets && matter.IsMagnet)
                {
                    var aligned = (matter.Remanence.X * hx) + (matter.Remanence.Y * hy);
                    density += absolute ? Math.Abs(aligned) : aligned;
                }
                own += values.Weight[q] * density;
            }
            if (rimOf.TryGetValue(e, out var edge))
            {
                RimTerm.Evaluate(space, e, edge, rim, 1);
                var nodes = space.Triangles.AsSpan(6 * e, 6);
                var n = 0;
                for (var i = 0; i < 6; i++)
                    for (var j = 0; j <= i; j++) own += (i == j ? 0.5 : 1) * law.Permeability(0) * rim[n++] * potential[nodes[i]] * potential[nodes[j]];
            }
            more?.Invoke(e, own);
            sum += own;
        }
        return sum;
    }

    /// <summary>H at point q of triangle e, for tables filled by <see cref="ElementValues.Evaluate"/>.</summary>
    public (double X, double Y) FieldStrength(int e, int q, ElementValues at, ElementTables tables, double[] potential, SourceField? source) =>
        FieldStrength(e, q, at, tables.Xi[q], tables.Eta[q], potential, source);

    /// <summary>H at point q of triangle e, whose local coordinates are handed along.</summary>
    public (double X, double Y) FieldStrength(int e, int q, ElementValues at, double xi, double eta, double[] potential, SourceField? source)
    {
        var (x, y) = source?.At(e, q, at, xi, eta) ?? default;
        var nodes = space.Triangles.AsSpan(6 * e, 6);
        for (var i = 0; i < 6; i++)
        {
            x -= potential[nodes[i]] * at.Nx[(q * F) + i];
            y -= potential[nodes[i]] * at.Ny[(q * F) + i];
        }
        return (x, y);
    }

    private void Factor(double[] tangent)
    {
        if (factor is null) factor = RealLdl.Create(meshed.Analysis, tangent);
        else factor.Refactor(tangent);
    }

    private void Step(double[] potential, double[] gradient, double scale)
    {
        var direction = SolveTangent([.. gradient.Select(g => -g)]);
        for (var n = 0; n < potential.Length; n++) potential[n] += scale * direction[n];
    }

    /// <summary>Length along the step where the slope has fallen to less than half its size: regula falsi on the slope.</summary>
    private double Search(double[] potential, double[] direction, double descent, SourceField source, bool magnets)
    {
        double low = 0, slopeLow = -descent, high = double.NaN, slopeHigh = 0, scale = 1;
        var trial = new double[potential.Length];
        for (var k = 0; k < 12; k++)
        {
            for (var n = 0; n < trial.Length; n++) trial[n] = potential[n] + (scale * direction[n]);
            var slope = NodeVectors.Dot(Gradient(trial, source, magnets, null), direction);
            if (Math.Abs(slope) <= 0.5 * descent) return scale;
            if (slope > 0) (high, slopeHigh) = (scale, slope);
            else (low, slopeLow) = (scale, slope);
            scale = double.IsNaN(high) ? 2 * scale : low + ((high - low) * Math.Clamp(-slopeLow / (slopeHigh - slopeLow), 0.1, 0.9));
        }
        return scale;
    }

    /// <summary>Derivative of the functional with respect to each node's value: −∫B·∇N and the rim.</summary>
    /// <param name="potential">φ over the nodes.</param>
    /// <param name="source">T.</param>
    /// <param name="magnets">Whether magnets count.</param>
    /// <param name="permeability">A permeability held for nonlinear matter; null for its law.</param>
    private double[] Gradient(double[] potential, SourceField source, bool magnets, Func<int, int, double>? permeability)
    {
        var g = new double[potential.Length];
        Span<double> rim = stackalloc double[F * (F + 1) / 2];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var tables = space.TablesFor(e, true, false);
            values.Evaluate(space, e, tables);
            var law = Law(e);
            var matter = materials.Matter(e);
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var q = 0; q < values.Points; q++)
            {
                var (hx, hy) = FieldStrength(e, q, values, tables, potential, source);
                var mu = law.IsLinear ? law.Permeability(0) : permeability?.Invoke(e, q) ?? law.Permeability(double.Hypot(hx, hy));
                double bx = mu * hx, by = mu * hy;
                if (magnets && matter.IsMagnet) (bx, by) = (bx + matter.Remanence.X, by + matter.Remanence.Y);
                for (var i = 0; i < 6; i++) g[nodes[i]] -= values.Weight[q] * ((bx * values.Nx[(q * F) + i]) + (by * values.Ny[(q * F) + i]));
            }
            if (!rimOf.TryGetValue(e, out var edge)) continue;
            RimTerm.Evaluate(space, e, edge, rim, 1);
            var n = 0;
            for (var i = 0; i < 6; i++)
                for (var j = 0; j <= i; j++, n++)
                {
                    g[nodes[i]] += law.Permeability(0) * rim[n] * potential[nodes[j]];
                    if (i != j) g[nodes[j]] += law.Permeability(0) * rim[n] * potential[nodes[i]];
                }
        }
        if (space.Symmetry == Symmetry.Long) g[space.InfinityNode] = 0;
        return g;
    }

    /// <summary>Values of the second derivative: μ·I + (dB/dH − μ)·HHᵀ/H² at each point.</summary>
    private double[] Tangent(double[] potential, SourceField? source, Func<int, int, double>? permeability)
    {
        var result = new double[meshed.Pattern.RowIndices.Length];
        Span<double> k = stackalloc double[ElementMatrices.Entries];
        Span<double> rim = stackalloc double[F * (F + 1) / 2];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var tables = space.TablesFor(e, true, false);
            values.Evaluate(space, e, tables);
            var law = Law(e);
            k.Clear();
            for (var q = 0; q < values.Points; q++)
            {
                double xx, xy = 0, yy;
                if (law.IsLinear || permeability is not null)
                {
                    xx = yy = law.IsLinear ? law.Permeability(0) : permeability!(e, q);
                }
                else
                {
                    var (hx, hy) = FieldStrength(e, q, values, tables, potential, source);
                    var h = double.Hypot(hx, hy);
                    var mu = law.Permeability(h);
                    var along = h > 0 ? (law.DifferentialPermeability(h) - mu) / (h * h) : 0;
                    (xx, xy, yy) = (mu + (along * hx * hx), along * hx * hy, mu + (along * hy * hy));
                }
                var n = 0;
                for (var i = 0; i < 6; i++)
                {
                    double ix = values.Nx[(q * F) + i], iy = values.Ny[(q * F) + i];
                    var bx = values.Weight[q] * ((xx * ix) + (xy * iy));
                    var by = values.Weight[q] * ((xy * ix) + (yy * iy));
                    for (var j = 0; j <= i; j++) k[n++] += (bx * values.Nx[(q * F) + j]) + (by * values.Ny[(q * F) + j]);
                }
            }
            if (rimOf.TryGetValue(e, out var edge))
            {
                RimTerm.Evaluate(space, e, edge, rim, 1);
                for (var i = 0; i < ElementMatrices.Entries; i++) k[i] += law.Permeability(0) * rim[i];
            }
            for (var i = 0; i < ElementMatrices.Entries; i++)
                if (meshed.Scatter[(e * ElementMatrices.Entries) + i] >= 0) result[meshed.Scatter[(e * ElementMatrices.Entries) + i]] += k[i];
        }
        return result;
    }
}
