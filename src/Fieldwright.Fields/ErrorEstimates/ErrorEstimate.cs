using System.Collections.Concurrent;
using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Harmonic;
using Fieldwright.Fields.Motion;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>What is known about the error of one goal.</summary>
/// <param name="Value">Value of the goal in the field as it stands.</param>
/// <param name="Correction">What the functions of order three add to it.</param>
/// <param name="Moved">Size of that as a phasor, its turn counted too.</param>
/// <param name="Removed">Size of the part of the correction that each triangle makes.</param>
/// <param name="Left">What is still wrong with the corrected value, by the roughness of each triangle: the sum, its sign dropped.</param>
/// <param name="Unsigned">Sum of the sizes of its contributions.</param>
/// <param name="Shares">Contribution of each triangle to that sum.</param>
internal sealed record GoalError(double Value, double Correction, double Moved, double[] Removed, double Left, double Unsigned, double[] Shares);

/// <summary>Goal-oriented error estimate by hierarchical surplus.</summary>
/// <remarks>
/// The error of a goal is the residual of the field applied to the dual solution. The part of the dual that the
/// quadratic space holds drops out by Galerkin orthogonality; the rest is found in the functions that lift the space to order three, by a few
/// conjugate gradient steps on their own well conditioned system. The dual itself costs one back substitution. Goals that are quadratic in the field
/// (energy, force, loss) add their quadratic part on the surplus of the field: for the energy of a linear field that is all there is.
/// The signed sum is what order three adds to the answer. What is left after it is guessed triangle by triangle: where field and dual go on to order three in ever smaller
/// parts little is left, at a sharp corner as much as was removed; the sizes of those parts say where to refine. In steel that saturates the dual has the slope of the law, not its secant: in a harmonic field that
/// makes the dual linear over the reals only, and the error of a complex goal is exact in phase with the goal and approximate across it.
/// <source key="BeckerRannacher2001" /> for the estimate, <source key="PierceGiles2000" /> for the correction.
/// </remarks>
internal sealed class ErrorEstimate
{
    private const int F = ElementTables.Functions;
    private const int Lifted = 4;
    private const int SurplusEntries = 10;
    private const double DualTolerance = 1e-3;
    private const double SurplusTolerance = 1e-2;

    private readonly MagneticField field;
    private readonly FieldSpace space;
    private readonly SurplusSpace surplus;
    private readonly GoalFunctional[] goals;
    private readonly Complex[][] nodal;
    private readonly Complex[][] ports;
    private readonly Complex rate;
    private readonly Complex[] blocks;
    private readonly Complex[] local;
    private readonly Dictionary<int, int> rimOf;

    /// <summary>Factor that turns a complex goal into the phase of its own value, where phase matters; else 1.</summary>
    private readonly Complex[] turns;

    /// <summary>Slope of saturating steel in a harmonic field, on the nodes and on the surplus; null if there is none.</summary>
    private readonly SaturationTerm? slope, surplusSlope;

    private ErrorEstimate(MagneticField field, IReadOnlyList<Goal> goals, CancellationToken cancellation)
    {
        this.field = field;
        space = field.Meshed.Space;
        surplus = field.Meshed.Surplus;
        rate = field.Rate(Complex.One);
        rimOf = space.RimEdges.ToDictionary(r => r.Element, r => r.Edge);
        this.goals = [.. goals.Select(g => GoalFunctional.Of(field, g))];
        if (field is HarmonicField && !field.Materials.IsLinear) (slope, surplusSlope) = Slopes();
        // problem 0 is the field itself, problem g + 1 the dual of goal g
        nodal = new Complex[goals.Count + 1][];
        ports = new Complex[goals.Count + 1][];
        (nodal[0], ports[0]) = (field.Nodal, [.. field.WindingCurrents, .. field.ConductorVoltages]);
        turns = new Complex[goals.Count];
        for (var g = 0; g < goals.Count; g++)
        {
            cancellation.ThrowIfCancellationRequested();
            (nodal[g + 1], ports[g + 1], turns[g]) = SolveDual(this.goals[g]);
        }
        blocks = new Complex[SurplusEntries * space.ElementCount];
        local = new Complex[Lifted * nodal.Length * space.ElementCount];
    }

    /// <summary>Estimates the errors of goals of one field.</summary>
    public static IReadOnlyList<GoalError> Of(MagneticField field, IReadOnlyList<Goal> goals, CancellationToken cancellation) =>
        goals.Count == 0 ? [] : new ErrorEstimate(field, goals, cancellation).Estimate(cancellation);

    /// <summary>Dual of one goal over the nodes: the goal's change for a load of one on each node, to first order.</summary>
    public static Complex[] DualOf(MagneticField field, Goal goal) => new ErrorEstimate(field, [goal], default).nodal[1];

    /// <summary>What the functions of order three add to the flux that each winding links of one ampere in each other, H: the dual of a linkage is the field of its winding's current. Matter must be linear and at rest,
    /// and every winding's current imposed.</summary>
    public static Complex[,] LinkagesAdded(MagneticField field)
    {
        var n = field.Model.Windings.Count;
        var (residuals, lifted) = new ErrorEstimate(field, [.. field.Model.Windings.Select(w => new FluxLinkageGoal(w.Name, w.Name))], default).Lift(default);
        var added = new Complex[n, n];
        for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
                for (var k = 0; k < residuals[0].Length; k++) added[i, j] += residuals[i + 1][k] * lifted[j + 1][k];
        return added;
    }

    private List<GoalError> Estimate(CancellationToken cancellation)
    {
        var (residuals, lifted) = Lift(cancellation);
        var rough = Roughness(lifted);
        return [.. goals.Select((goal, g) => Combine(goal, turns[g], residuals[0], lifted[0], lifted[g + 1], rough[0], rough[g + 1]))];
    }

    /// <summary>Residuals on the surplus, and what they make there, of the field and of every dual.</summary>
    private (Complex[][] Residuals, Complex[][] Lifted) Lift(CancellationToken cancellation)
    {
        EachRange(range =>
        {
            var values = new ElementValues();
            for (var e = range.From; e < range.To; e++) ElementResiduals(e, values);
        });
        var residuals = Gather();
        var diagonal = new Complex[surplus.Count];
        for (var e = 0; e < space.ElementCount; e++)
            for (var k = 0; k < Lifted; k++) diagonal[surplus.Function[(Lifted * e) + k]] += blocks[(SurplusEntries * e) + (k * (k + 3) / 2)];
        var lifted = new Complex[nodal.Length][];
        for (var p = 0; p < lifted.Length; p++)
        {
            cancellation.ThrowIfCancellationRequested();
            lifted[p] = SolveSurplus(residuals[p], diagonal, dual: p > 0);
        }
        return (residuals, lifted);
    }

    private GoalError Combine(GoalFunctional goal, Complex turn, Complex[] residual, Complex[] error, Complex[] weight, double[] rough, double[] roughDual)
    {
        var value = goal.Phasor * turn;
        // what counts of a complex goal is in phase with it
        var phase = goal.IsReal || value == 0 ? Complex.One : Complex.Conjugate(value) / Complex.Abs(value);
        Complex correction = 0;
        double left = 0, unsigned = 0;
        double[] removed = new double[space.ElementCount], shares = new double[space.ElementCount];
        for (var e = 0; e < shares.Length; e++)
            for (var k = 0; k < Lifted; k++)
            {
                var function = surplus.Function[(Lifted * e) + k];
                var product = (k < 3 ? 0.5 : 1) * phase * residual[function] * weight[function];
                Count(e, rough[e] * roughDual[e], product, goal.IsReal ? Math.Abs(product.Real) : Complex.Abs(product));
            }
        if (goal.IsQuadratic)
        {
            var quadratic = Quadratic(goal, error);
            for (var e = 0; e < shares.Length; e++) Count(e, rough[e] * rough[e], quadratic[e], Math.Abs(quadratic[e]));
        }
        var added = goal.IsReal ? correction.Real : Complex.Abs(Complex.Abs(value) + correction) - Complex.Abs(value);
        return new(goal.Value, added, goal.IsReal ? Math.Abs(added) : Complex.Abs(correction), removed, Math.Abs(left), unsigned, shares);

        void Count(int e, double roughness, Complex contribution, double size)
        {
            var share = Math.Min(1, roughness);
            correction += contribution;
            removed[e] += size;
            left += share * contribution.Real;
            unsigned += share * size;
            shares[e] += share * size;
        }
    }

    /// <summary>How rough each problem's solution is in each triangle: the size of its part of order three over that of its part of order two, 0 where both vanish.</summary>
    private double[][] Roughness(Complex[][] lifted)
    {
        var result = lifted.Select(_ => new double[space.ElementCount]).ToArray();
        EachRange(range =>
        {
            var values = new ElementValues();
            Span<Complex> parts = stackalloc Complex[F];
            for (var e = range.From; e < range.To; e++)
            {
                values.Evaluate(space, e, space.TablesFor(e, true, true), F);
                var nodes = space.Triangles.AsSpan(6 * e, 6);
                for (var p = 0; p < lifted.Length; p++)
                {
                    for (var k = 0; k < 3; k++) parts[3 + k] = nodal[p][nodes[3 + k]] - (0.5 * (nodal[p][nodes[k]] + nodal[p][nodes[(k + 1) % 3]]));
                    for (var k = 0; k < Lifted; k++) parts[6 + k] = surplus.Sign[(Lifted * e) + k] * lifted[p][surplus.Function[(Lifted * e) + k]];
                    double two = 0, three = 0;
                    for (var q = 0; q < values.Points; q++)
                    {
                        two += values.Weight[q] * SquareOf(parts, 3, 6, values, q);
                        three += values.Weight[q] * SquareOf(parts, 6, F, values, q);
                    }
                    result[p][e] = three > 0 ? Math.Sqrt(three / two) : 0;
                }
            }
        });
        return result;
    }

    private void EachRange(Action<(int From, int To)> work) =>
        Parallel.ForEach(Partitioner.Create(0, space.ElementCount, Math.Max(64, (space.ElementCount / 16) + 1)), range => work((range.Item1, range.Item2)));

    /// <summary>|B|² of some functions of a triangle at a point.</summary>
    private static double SquareOf(ReadOnlySpan<Complex> parts, int from, int to, ElementValues values, int q)
    {
        Complex x = 0, y = 0;
        for (var i = from; i < to; i++)
        {
            x += parts[i] * values.Bx[(q * F) + i];
            y += parts[i] * values.By[(q * F) + i];
        }
        return (x.Real * x.Real) + (x.Imaginary * x.Imaginary) + (y.Real * y.Real) + (y.Imaginary * y.Imaginary);
    }

    /// <summary>The part of the goal quadratic in the error, evaluated triangle by triangle on the surplus of the field itself.</summary>
    private double[] Quadratic(GoalFunctional goal, Complex[] error)
    {
        var values = new ElementValues();
        var result = new double[space.ElementCount];
        for (var e = 0; e < result.Length; e++)
        {
            if (!goal.Touches(e)) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, true), F);
            for (var q = 0; q < values.Points; q++)
            {
                Complex bx = 0, by = 0, a = 0;
                for (var k = 0; k < Lifted; k++)
                {
                    var u = surplus.Sign[(Lifted * e) + k] * error[surplus.Function[(Lifted * e) + k]];
                    bx += u * values.Bx[(q * F) + 6 + k];
                    by += u * values.By[(q * F) + 6 + k];
                    a += u * values.A[(q * F) + 6 + k];
                }
                result[e] += values.Weight[q] * goal.Quadratic(e, q, values, bx, by, a);
            }
        }
        return result;
    }

    private (Complex[] Field, Complex[] Ports, Complex Turn) SolveDual(GoalFunctional goal)
    {
        var load = new Complex[space.NodeCount];
        var values = new ElementValues();
        for (var e = 0; e < space.ElementCount; e++)
        {
            if (!goal.Touches(e)) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                var (jx, jy, ja) = goal.Density(e, q, values);
                for (var i = 0; i < 6; i++)
                {
                    var k = (q * F) + i;
                    load[space.Triangles[(6 * e) + i]] += values.Weight[q] * ((jx * values.Bx[k]) + (jy * values.By[k]) + (ja * values.A[k]));
                }
            }
        }
        if (goal.Rim != 0) AddRimLoad(goal.Rim, load);
        foreach (var point in goal.Points)
        {
            values.EvaluateAt(space, point.Element, point.Xi, point.Eta);
            for (var i = 0; i < 6; i++) load[space.Triangles[(6 * point.Element) + i]] += point.On(values, i);
        }
        var portLoad = goal.Ports ?? new Complex[field.WindingCurrents.Length + field.ConductorVoltages.Length];
        if (field is HarmonicField harmonic)
        {
            if (slope is null) return Unturned(harmonic.System.SolveDual(load, portLoad));
            var turn = goal.IsReal ? Complex.One : TurnOf(load, portLoad);
            var (dual, dualPorts) = SolveSaturatedDual(harmonic.System, slope, [.. load.Select(v => turn * v)], [.. portLoad.Select(v => turn * v)]);
            return (dual, dualPorts, turn);
        }
        var (real, voltages) = ((StaticField)field).System.SolveDual([.. load.Select(v => v.Real)], [.. portLoad.Select(v => v.Real)]);
        return Unturned(([.. real.Select(v => new Complex(v, 0))], [.. voltages.Select(v => new Complex(v, 0))]));

        static (Complex[], Complex[], Complex) Unturned((Complex[] Field, Complex[] Ports) dual) => (dual.Field, dual.Ports, Complex.One);
    }

    /// <summary>Conjugate of the phase of a linear goal: its load on the field.</summary>
    private Complex TurnOf(Complex[] load, Complex[] portLoad)
    {
        Complex value = 0;
        for (var n = 0; n < load.Length; n++) value += load[n] * nodal[0][n];
        for (var p = 0; p < portLoad.Length; p++) value += portLoad[p] * ports[0][p];
        return value == 0 ? 1 : Complex.Conjugate(value) / Complex.Abs(value);
    }

    private static (Complex[] Field, Complex[] Ports) SolveSaturatedDual(HarmonicSystem system, SaturationTerm slope, Complex[] load, Complex[] portLoad)
    {
        var dead = new Complex[portLoad.Length];
        var start = system.SolveDual(load, portLoad).Field;
        var dual = Krylov.Solve(x => ReferenceEquals(x, load) ? start : system.SolveDual(x, dead).Field, Sloped, load, overReals: true, DualTolerance);
        var left = Sloped(dual);
        for (var n = 0; n < left.Length; n++) left[n] = load[n] - left[n];
        return system.SolveDual(left, portLoad);

        Complex[] Sloped(Complex[] x)
        {
            var result = new Complex[x.Length];
            slope.Add(x, result, dual: true);
            return result;
        }
    }

    private (SaturationTerm Nodes, SaturationTerm Surplus) Slopes()
    {
        SaturationTerm nodes = new(6), lifted = new(Lifted);
        var values = new ElementValues();
        Span<Complex> along = stackalloc Complex[F];
        for (var e = 0; e < space.InsideCount; e++)
        {
            var law = field.Materials.Law(e);
            if (law.IsLinear) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, true), F);
            for (var q = 0; q < values.Points; q++)
            {
                var b = field.FluxDensityAt(e, q, values);
                for (var i = 0; i < F; i++) along[i] = (b.X * values.Bx[(q * F) + i]) + (b.Y * values.By[(q * F) + i]);
                for (var k = 0; k < Lifted; k++) along[6 + k] *= surplus.Sign[(Lifted * e) + k];
                var weight = values.Weight[q] * SlopeOver(law, b.Magnitude);
                nodes.Add(weight, space.Triangles.AsSpan(6 * e, 6), along[..6]);
                lifted.Add(weight, surplus.Function.AsSpan(Lifted * e, Lifted), along[6..]);
            }
        }
        return (nodes, lifted);
    }

    /// <summary>(dν/dB)/B of a law.</summary>
    private static double SlopeOver(ReluctivityLaw law, double b) => b > 0 ? (law.DifferentialReluctivity(b) - law.Reluctivity(b)) / (b * b) : 0;

    /// <summary>Residuals of all problems on the four surplus functions of one triangle, sources (and a goal's densities in its dual) less the
    /// operator, and the block of the surplus system.</summary>
    private void ElementResiduals(int e, ElementValues values)
    {
        values.Evaluate(space, e, space.TablesFor(e, true, true), F);
        var sigma = field.Materials.Conductivity(e);
        var motion = field.Materials.Motion(e);
        var problems = nodal.Length;
        var r = local.AsSpan(Lifted * problems * e, Lifted * problems);
        var block = blocks.AsSpan(SurplusEntries * e, SurplusEntries);
        Span<Complex> source = stackalloc Complex[problems];
        for (var p = 0; p < problems; p++) source[p] = SourceDensity(e, ports[p], sigma);
        var nodes = space.Triangles.AsSpan(6 * e, 6);
        for (var q = 0; q < values.Points; q++)
        {
            var w = values.Weight[q];
            var bx = values.Bx.AsSpan(q * F, F);
            var by = values.By.AsSpan(q * F, F);
            var a = values.A.AsSpan(q * F, F);
            var (xx, xy, yy) = TangentAt(e, q, values);
            var velocity = motion?.At(values.X[q], values.Y[q]) ?? default;
            for (var p = 0; p < problems; p++)
            {
                Complex fx = 0, fy = 0, fa = 0;
                for (var i = 0; i < 6; i++)
                {
                    var u = nodal[p][nodes[i]];
                    fx += u * bx[i];
                    fy += u * by[i];
                    fa += u * a[i];
                }
                Complex hx = (xx * fx) + (xy * fy), hy = (xy * fx) + (yy * fy);
                var current = source[p] - (sigma * rate * fa);
                Complex carried = 0;
                if (p == 0)
                {
                    if (field.Materials.Matter(e).IsMagnet || !field.Materials.Law(e).IsLinear)
                    {
                        var here = field.Local(e, q, values);
                        (hx, hy) = (here.Hx, here.Hy);
                    }
                    // motion: σ(v×B) in the field's own equation; in a dual it is the test function that is carried along
                    if (motion is not null) current += sigma * MotionTerm.Electromotive(space.Symmetry, velocity, fx, fy);
                }
                else
                {
                    if (goals[p - 1].Touches(e))
                    {
                        var (jx, jy, ja) = goals[p - 1].Density(e, q, values);
                        hx -= turns[p - 1] * jx;
                        hy -= turns[p - 1] * jy;
                        current += turns[p - 1] * ja;
                    }
                    if (motion is not null) carried = sigma * (fa - DualVoltage(e, ports[p]));
                    if (slope is not null && field.Materials.Law(e) is { IsLinear: false } law)
                    {
                        var b = field.FluxDensityAt(e, q, values);
                        var change = SlopeOver(law, b.Magnitude) * ((b.X * fx) + (b.Y * fy)).Real;
                        hx += change * Complex.Conjugate(b.X);
                        hy += change * Complex.Conjugate(b.Y);
                    }
                }
                for (var k = 0; k < Lifted; k++)
                {
                    var entry = (current * a[6 + k]) - (hx * bx[6 + k]) - (hy * by[6 + k]);
                    if (motion is not null && p > 0) entry += carried * MotionTerm.Electromotive(space.Symmetry, velocity, bx[6 + k], by[6 + k]);
                    r[(Lifted * p) + k] += w * entry;
                }
            }
            var n = 0;
            for (var i = 6; i < F; i++)
            {
                double tx = w * ((xx * bx[i]) + (xy * by[i])), ty = w * ((xy * bx[i]) + (yy * by[i])), ta = w * sigma * a[i];
                for (var j = 6; j <= i; j++) block[n++] += (tx * bx[j]) + (ty * by[j]) + (ta * a[j] * rate);
            }
        }
        if (rimOf.TryGetValue(e, out var edge)) AddRim(e, edge, r, block, nodes);
    }

    private void AddRimLoad(double factor, Complex[] load)
    {
        Span<double> rim = stackalloc double[F * (F + 1) / 2];
        foreach (var (e, edge) in rimOf)
        {
            RimTerm.Evaluate(space, e, edge, rim);
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            var nu = factor * field.Materials.Law(e).Reluctivity(0);
            for (var i = 0; i < 6; i++)
                for (var j = 0; j < 6; j++) load[nodes[i]] += nu * rim[i >= j ? (i * (i + 1) / 2) + j : (j * (j + 1) / 2) + i] * Complex.Conjugate(nodal[0][nodes[j]]);
        }
    }

    private void AddRim(int e, int edge, Span<Complex> r, Span<Complex> block, ReadOnlySpan<int> nodes)
    {
        Span<double> rim = stackalloc double[F * (F + 1) / 2];
        RimTerm.Evaluate(space, e, edge, rim);
        var nu = field.Materials.Law(e).Reluctivity(0);
        var n = 0;
        for (var k = 0; k < Lifted; k++)
        {
            var row = (6 + k) * (7 + k) / 2;
            for (var p = 0; p < nodal.Length; p++)
                for (var j = 0; j < 6; j++)
                {
                    r[(Lifted * p) + k] -= nu * rim[row + j] * nodal[p][nodes[j]];
                    if (p > 0) r[(Lifted * p) + k] += nu * rim[row + j] * goals[p - 1].Rim * Complex.Conjugate(nodal[0][nodes[j]]);
                }
            for (var j = 0; j <= k; j++) block[n++] += nu * rim[row + 6 + j];
        }
    }

    private Complex[][] Gather()
    {
        var problems = nodal.Length;
        var result = new Complex[problems][];
        for (var p = 0; p < problems; p++)
        {
            var r = result[p] = new Complex[surplus.Count];
            for (var e = 0; e < space.ElementCount; e++)
                for (var k = 0; k < Lifted; k++)
                    r[surplus.Function[(Lifted * e) + k]] += surplus.Sign[(Lifted * e) + k] * local[(Lifted * ((problems * e) + p)) + k];
        }
        var values = new ElementValues();
        for (var g = 0; g < goals.Length; g++)
            foreach (var point in goals[g].Points)
            {
                values.EvaluateAt(space, point.Element, point.Xi, point.Eta, F);
                for (var k = 0; k < Lifted; k++)
                    result[g + 1][surplus.Function[(Lifted * point.Element) + k]] += surplus.Sign[(Lifted * point.Element) + k] * turns[g] * point.On(values, 6 + k);
            }
        return result;
    }

    private Complex SourceDensity(int e, Complex[] port, double sigma)
    {
        Complex source = 0;
        var windings = field.WindingCurrents.Length;
        for (var w = 0; w < windings; w++) source += field.Meshed.Ports.TurnDensity(w, e) * port[w];
        if (sigma > 0 && field.Meshed.Ports.ConductorOf(e) is >= 0 and var c) source += sigma / field.Model.Depth * port[windings + c];
        return source;
    }

    /// <summary>What motion adds to the row of a conductor's net current, seen from its dual voltage.</summary>
    private Complex DualVoltage(int e, Complex[] port) => field.Meshed.Ports.ConductorOf(e) is >= 0 and var c
        ? port[field.WindingCurrents.Length + c] / ((rate == 0 ? 1 : rate) * field.Model.Depth)
        : 0;

    private (double XX, double XY, double YY) TangentAt(int e, int q, ElementValues values)
    {
        var law = field.Materials.Law(e);
        if (law.IsLinear)
        {
            var constant = law.Reluctivity(0);
            return (constant, 0, constant);
        }
        var p = field.FluxDensityAt(e, q, values);
        var b = p.Magnitude;
        var nu = law.Reluctivity(b);
        if (field is HarmonicField) return (nu, 0, nu);
        var along = SlopeOver(law, b);
        double x = p.X.Real, y = p.Y.Real;
        return (nu + (along * x * x), along * x * y, nu + (along * y * y));
    }

    /// <summary>Conjugate gradients, in the bilinear form that suits complex symmetric matrices, with the diagonal as preconditioner.</summary>
    private Complex[] SolveSurplus(Complex[] right, Complex[] diagonal, bool dual)
    {
        if (surplusSlope is not null) return SolveSaturatedSurplus(surplusSlope, right, diagonal, dual);
        var n = right.Length;
        var x = new Complex[n];
        var r = (Complex[])right.Clone();
        var z = new Complex[n];
        var p = new Complex[n];
        var q = new Complex[n];
        Complex rho = 0;
        var start = 0.0;
        for (var step = 0; step < 40; step++)
        {
            Complex next = 0;
            var size = 0.0;
            for (var i = 0; i < n; i++)
            {
                z[i] = r[i] / diagonal[i];
                var product = r[i] * z[i];
                next += product;
                size += Math.Abs(product.Real) + Math.Abs(product.Imaginary);
            }
            if (step == 0) start = size;
            if (size <= 1e-4 * start || next == 0) break;
            var beta = step == 0 ? 0 : next / rho;
            rho = next;
            for (var i = 0; i < n; i++) p[i] = z[i] + (beta * p[i]);
            Apply(p, q);
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

    private Complex[] SolveSaturatedSurplus(SaturationTerm slope, Complex[] right, Complex[] diagonal, bool dual)
    {
        return Krylov.Solve(
            x => [.. x.Select((v, i) => v / diagonal[i])],
            x =>
            {
                var result = new Complex[x.Length];
                Apply(x, result);
                slope.Add(x, result, dual);
                for (var i = 0; i < x.Length; i++) result[i] -= diagonal[i] * x[i];
                return result;
            },
            right, overReals: true, SurplusTolerance);
    }

    private void Apply(Complex[] p, Complex[] result)
    {
        Array.Clear(result);
        Span<Complex> v = stackalloc Complex[Lifted];
        Span<Complex> y = stackalloc Complex[Lifted];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var function = surplus.Function.AsSpan(Lifted * e, Lifted);
            var sign = surplus.Sign.AsSpan(Lifted * e, Lifted);
            for (var k = 0; k < Lifted; k++) v[k] = sign[k] * p[function[k]];
            y.Clear();
            var n = SurplusEntries * e;
            for (var i = 0; i < Lifted; i++)
            {
                for (var j = 0; j < i; j++, n++)
                {
                    y[i] += blocks[n] * v[j];
                    y[j] += blocks[n] * v[i];
                }
                y[i] += blocks[n++] * v[i];
            }
            for (var k = 0; k < Lifted; k++) result[function[k]] += sign[k] * y[k];
        }
    }
}
