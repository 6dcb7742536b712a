using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Motion;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>Goal-oriented error estimate by hierarchical surplus.</summary>
/// <remarks>
/// The error of a goal is the residual of the field applied to the dual solution (Becker and Rannacher 2001). The part of the dual that the
/// quadratic space holds drops out by Galerkin orthogonality; the rest is found in the functions that lift the space to order three, by a few
/// conjugate gradient steps on their own well conditioned system. The dual itself costs one back substitution. Goals that are quadratic in the field
/// (energy, force, loss) add their quadratic part on the surplus of the field: for the energy of a linear field that is all there is.
/// The signed sum estimates the error, the unsigned shares say where it is made.
/// <source key="BeckerRannacher2001" />
/// </remarks>
internal sealed class ErrorEstimate
{
    private const int F = ElementTables.Functions;
    private const int SurplusEntries = 10;

    private readonly MagneticField field;
    private readonly FieldSpace space;
    private readonly SurplusSpace surplus;
    private readonly Complex[] blocks;
    private readonly Complex[] diagonal;
    private readonly Complex[] primal;
    private Complex[]? error;

    public ErrorEstimate(MagneticField field)
    {
        this.field = field;
        space = field.Meshed.Space;
        surplus = field.Meshed.Surplus;
        blocks = new Complex[SurplusEntries * space.ElementCount];
        diagonal = new Complex[surplus.Count];
        primal = Residual(field.Nodal, [.. field.WindingCurrents, .. field.ConductorVoltages], null, isPrimal: true);
    }

    /// <summary>Estimated error of a goal: signed sum (size when the goal is complex), unsigned sum, and the unsigned share of each triangle.</summary>
    public (double Value, double Signed, double Unsigned, double[] Shares) Of(Goal goal)
    {
        var functional = GoalFunctional.Of(field, goal);
        var (dual, ports) = SolveDual(functional);
        var right = Residual(dual, ports, functional, isPrimal: false);
        var weight = SolveSurplus(right);
        Complex signed = 0;
        var unsigned = 0.0;
        var share = new double[surplus.Count];
        for (var i = 0; i < share.Length; i++)
        {
            var product = primal[i] * weight[i];
            signed += product;
            share[i] = functional.IsReal ? Math.Abs(product.Real) : Complex.Abs(product);
            unsigned += share[i];
        }
        var shares = new double[space.ElementCount];
        for (var e = 0; e < shares.Length; e++)
            for (var k = 0; k < 4; k++)
                shares[e] += (k < 3 ? 0.5 : 1) * share[surplus.Function[(4 * e) + k]];
        if (functional.IsReal) signed += AddQuadratic(functional, shares, ref unsigned);
        return (functional.Value, functional.IsReal ? Math.Abs(signed.Real) : Complex.Abs(signed), unsigned, shares);
    }

    /// <summary>The part of the goal quadratic in the error, evaluated on the surplus of the field itself.</summary>
    private double AddQuadratic(GoalFunctional functional, double[] shares, ref double unsigned)
    {
        error ??= SolveSurplus(primal);
        var values = new ElementValues();
        var sum = 0.0;
        for (var e = 0; e < space.ElementCount; e++)
        {
            if (!functional.Touches(e)) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, true), F);
            var own = 0.0;
            for (var q = 0; q < values.Points; q++)
            {
                Complex bx = 0, by = 0, a = 0;
                for (var k = 0; k < 4; k++)
                {
                    var u = surplus.Sign[(4 * e) + k] * error[surplus.Function[(4 * e) + k]];
                    bx += u * values.Bx[(q * F) + 6 + k];
                    by += u * values.By[(q * F) + 6 + k];
                    a += u * values.A[(q * F) + 6 + k];
                }
                own += values.Weight[q] * functional.Quadratic(e, q, values, bx, by, a);
            }
            sum += own;
            shares[e] += Math.Abs(own);
            unsigned += Math.Abs(own);
        }
        return sum;
    }

    private (Complex[] Field, Complex[] Ports) SolveDual(GoalFunctional functional)
    {
        var load = new Complex[space.NodeCount];
        var values = new ElementValues();
        for (var e = 0; e < space.ElementCount; e++)
        {
            if (!functional.Touches(e)) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                var (jx, jy, ja) = functional.Density(e, q, values);
                for (var i = 0; i < 6; i++)
                {
                    var k = (q * F) + i;
                    load[space.Triangles[(6 * e) + i]] += values.Weight[q] * ((jx * values.Bx[k]) + (jy * values.By[k]) + (ja * values.A[k]));
                }
            }
        }
        foreach (var (e, xi, eta, factor) in functional.Points)
        {
            values.EvaluateAt(space, e, xi, eta);
            for (var i = 0; i < 6; i++) load[space.Triangles[(6 * e) + i]] += factor * values.A[i];
        }
        var portCount = field.WindingCurrents.Length + field.ConductorVoltages.Length;
        if (field is HarmonicField harmonic) return harmonic.System.SolveDual(load, functional.Ports ?? new Complex[portCount]);
        var real = ((StaticField)field).System.SolveTangent([.. load.Select(v => v.Real)]);
        return ([.. real.Select(v => new Complex(v, 0))], new Complex[portCount]);
    }

    /// <summary>Residual on the surplus functions of a field with port quantities: sources (and the goal's densities for a dual) less the operator.
    /// The primal pass also fills the blocks of the surplus system.</summary>
    private Complex[] Residual(Complex[] nodal, Complex[] ports, GoalFunctional? functional, bool isPrimal)
    {
        var result = new Complex[surplus.Count];
        var gate = new Lock();
        var rimOf = space.RimEdges.ToDictionary(r => r.Element, r => r.Edge);
        Parallel.ForEach(System.Collections.Concurrent.Partitioner.Create(0, space.ElementCount, Math.Max(256, space.ElementCount / 8)), range =>
        {
            var values = new ElementValues();
            var local = new Complex[4 * (range.Item2 - range.Item1)];
            for (var e = range.Item1; e < range.Item2; e++)
                ElementResidual(e, values, nodal, ports, functional, isPrimal, rimOf, local.AsSpan(4 * (e - range.Item1), 4));
            lock (gate)
            {
                for (var e = range.Item1; e < range.Item2; e++)
                    for (var k = 0; k < 4; k++)
                    {
                        var target = surplus.Function[(4 * e) + k];
                        result[target] += surplus.Sign[(4 * e) + k] * local[(4 * (e - range.Item1)) + k];
                        if (isPrimal) diagonal[target] += blocks[(SurplusEntries * e) + (k * (k + 1) / 2) + k];
                    }
            }
        });
        if (functional is not null)
        {
            var values = new ElementValues();
            foreach (var (e, xi, eta, factor) in functional.Points)
            {
                values.EvaluateAt(space, e, xi, eta, F);
                for (var k = 0; k < 4; k++) result[surplus.Function[(4 * e) + k]] += surplus.Sign[(4 * e) + k] * factor * values.A[6 + k];
            }
        }
        return result;
    }

    private void ElementResidual(int e, ElementValues values, Complex[] nodal, Complex[] ports, GoalFunctional? functional, bool isPrimal, Dictionary<int, int> rimOf, Span<Complex> r)
    {
        values.Evaluate(space, e, space.TablesFor(e, true, true), F);
        var touches = functional?.Touches(e) == true;
        var sigma = field.Materials.Conductivity(e);
        var rate = field.Rate(Complex.One);
        var motion = sigma > 0 ? field.Model.Motion.GetValueOrDefault(space.Region[e]) : null;
        var source = SourceDensity(e, ports, sigma);
        // what motion adds to the row of the conductor's net current, seen from its dual voltage
        Complex along = motion is not null && rate != 0 && field.Meshed.Ports.ConductorOf.TryGetValue(space.Region[e], out var conductor)
            ? ports[field.WindingCurrents.Length + conductor] / (rate * field.Model.Depth)
            : 0;
        for (var q = 0; q < values.Points; q++)
        {
            var w = values.Weight[q];
            Complex bx = 0, by = 0, a = 0;
            for (var i = 0; i < 6; i++)
            {
                var u = nodal[space.Triangles[(6 * e) + i]];
                bx += u * values.Bx[(q * F) + i];
                by += u * values.By[(q * F) + i];
                a += u * values.A[(q * F) + i];
            }
            var (xx, xy, yy) = TangentAt(e, q, values);
            Complex hx, hy;
            if (isPrimal && !space.IsImage(e))
            {
                var p = field.Local(e, q, values);
                (hx, hy) = (p.Hx, p.Hy);
            }
            else
            {
                (hx, hy) = ((xx * bx) + (xy * by), (xy * bx) + (yy * by));
            }
            var current = source - (sigma * rate * a);
            var velocity = motion?.At(values.X[q], values.Y[q]) ?? default;
            // motion: σ(v×B) in the field's own equation; in the dual it is the test function that is carried along
            if (isPrimal) current += sigma * MotionTerm.Electromotive(space.Symmetry, velocity, bx, by);
            if (touches)
            {
                var (jx, jy, ja) = functional!.Density(e, q, values);
                hx -= jx;
                hy -= jy;
                current += ja;
            }
            for (var i = 0; i < 4; i++)
            {
                var k = (q * F) + 6 + i;
                if (!isPrimal) r[i] += w * sigma * (a - along) * MotionTerm.Electromotive(space.Symmetry, velocity, values.Bx[k], values.By[k]);
                r[i] += w * ((current * values.A[k]) - (hx * values.Bx[k]) - (hy * values.By[k]));
                if (!isPrimal) continue;
                var tx = (xx * values.Bx[k]) + (xy * values.By[k]);
                var ty = (xy * values.Bx[k]) + (yy * values.By[k]);
                for (var j = 0; j <= i; j++)
                {
                    var m = (q * F) + 6 + j;
                    blocks[(SurplusEntries * e) + (i * (i + 1) / 2) + j] += w * ((tx * values.Bx[m]) + (ty * values.By[m]) + (sigma * rate * values.A[k] * values.A[m]));
                }
            }
        }
        if (!rimOf.TryGetValue(e, out var edge)) return;
        Span<double> rim = stackalloc double[F * (F + 1) / 2];
        RimTerm.Evaluate(space, e, edge, rim);
        var nu = field.Materials.Law(e).Reluctivity(0);
        for (var i = 0; i < 4; i++)
        {
            var row = (6 + i) * (7 + i) / 2;
            for (var j = 0; j < 6; j++) r[i] -= nu * rim[row + j] * nodal[space.Triangles[(6 * e) + j]];
            if (isPrimal)
                for (var j = 0; j <= i; j++) blocks[(SurplusEntries * e) + (i * (i + 1) / 2) + j] += nu * rim[row + 6 + j];
        }
    }

    private Complex SourceDensity(int e, Complex[] ports, double sigma)
    {
        Complex source = 0;
        var region = space.Region[e];
        var windings = field.WindingCurrents.Length;
        for (var w = 0; w < windings; w++)
            if (field.Meshed.Ports.Density[w].TryGetValue(region, out var turns)) source += turns * ports[w];
        if (sigma > 0 && field.Meshed.Ports.ConductorOf.TryGetValue(region, out var p)) source += sigma / field.Model.Depth * ports[windings + p];
        return source;
    }

    private (double XX, double XY, double YY) TangentAt(int e, int q, ElementValues values)
    {
        var law = field.Materials.Law(e);
        if (law.IsLinear)
        {
            var constant = law.Reluctivity(0);
            return (constant, 0, constant);
        }
        var p = field.Local(e, q, values);
        var b = new PlanePhasor(p.Bx, p.By).Magnitude;
        var nu = law.Reluctivity(b);
        if (field is HarmonicField || b == 0) return (nu, 0, nu);
        var along = (law.DifferentialReluctivity(b) - nu) / (b * b);
        double x = p.Bx.Real, y = p.By.Real;
        return (nu + (along * x * x), along * x * y, nu + (along * y * y));
    }

    /// <summary>Conjugate gradients, in the bilinear form that suits complex symmetric matrices, with the diagonal as preconditioner.</summary>
    private Complex[] SolveSurplus(Complex[] right)
    {
        var n = right.Length;
        var x = new Complex[n];
        var r = (Complex[])right.Clone();
        var p = new Complex[n];
        Complex rho = 0;
        var start = 0.0;
        for (var step = 0; step < 40; step++)
        {
            Complex next = 0;
            var size = 0.0;
            for (var i = 0; i < n; i++)
            {
                var z = r[i] / diagonal[i];
                next += r[i] * z;
                size += Complex.Abs(r[i] * z);
            }
            if (step == 0) start = size;
            if (size <= 1e-4 * start || next == 0) break;
            var beta = step == 0 ? 0 : next / rho;
            rho = next;
            for (var i = 0; i < n; i++) p[i] = (r[i] / diagonal[i]) + (beta * p[i]);
            var q = Apply(p);
            Complex curvature = 0;
            for (var i = 0; i < n; i++) curvature += p[i] * q[i];
            if (curvature == 0) break;
            var alpha = rho / curvature;
            for (var i = 0; i < n; i++)
            {
                x[i] += alpha * p[i];
                r[i] -= alpha * q[i];
            }
        }
        return x;
    }

    private Complex[] Apply(Complex[] p)
    {
        var result = new Complex[p.Length];
        Span<Complex> v = stackalloc Complex[4];
        Span<Complex> y = stackalloc Complex[4];
        for (var e = 0; e < space.ElementCount; e++)
        {
            for (var k = 0; k < 4; k++) v[k] = surplus.Sign[(4 * e) + k] * p[surplus.Function[(4 * e) + k]];
            y.Clear();
            var n = SurplusEntries * e;
            for (var i = 0; i < 4; i++)
            {
                for (var j = 0; j < i; j++, n++)
                {
                    y[i] += blocks[n] * v[j];
                    y[j] += blocks[n] * v[i];
                }
                y[i] += blocks[n++] * v[i];
            }
            for (var k = 0; k < 4; k++) result[surplus.Function[(4 * e) + k]] += surplus.Sign[(4 * e) + k] * y[k];
        }
        return result;
    }
}
