using System.Numerics;
using Fieldwright.Circuits.Elements;

namespace Fieldwright.Circuits.Solving;

/// <summary>Solves (∂f/∂x + jω ∂q/∂x) x = sources for phasors; elements with a law between amplitudes are met by Newton's method on real and imaginary parts.</summary>
internal static class PhasorSolve
{
    public static PhasorState Run(Network network, Layout layout, Balance s, double omega)
    {
        int n = layout.Order;
        var matrix = new Complex[n * n];
        for (int i = 0; i < matrix.Length; i++)
            matrix[i] = new Complex(s.SlopeF[i], omega * s.SlopeQ[i]);
        var right = new Complex[n];
        foreach (var e in network.Elements)
        {
            e.Excite(right);
            e.EvaluatePhasor(matrix, n);
        }

        var bent = network.Elements.OfType<FlowFromAmplitude>().ToList();
        var x = Linear(layout, matrix, right, bent, n);
        if (bent.Count > 0)
            x = Newton(layout, matrix, right, bent, x, n);
        return new(network, layout, x, (e, port, at) => Flow(e, port, at, s, n, omega));
    }

    // The start: everything as it is at rest. It also names what is singular.
    private static Complex[] Linear(Layout layout, Complex[] matrix, Complex[] right, List<FlowFromAmplitude> bent, int n)
    {
        var m = (Complex[])matrix.Clone();
        var x = (Complex[])right.Clone();
        foreach (var e in bent)
        {
            e.PeakFlow(0, out double slope);
            for (int k = 0; k < 2; k++)
            {
                if (e.At[k] < 0)
                    continue;
                double sign = k == 0 ? 1 : -1;
                x[e.At[k]] -= sign * slope * e.Drive;
                for (int j = 0; j < 2; j++)
                    if (e.At[j] >= 0)
                        m[e.At[k] * n + e.At[j]] += (j == k ? 1 : -1) * slope;
            }
        }

        int column = DenseLu<Complex>.TryFactor(m, n, out var lu);
        if (column >= 0)
            throw NewtonSolve.Singular(layout, [.. lu.LooseAt(column).Select(Complex.Abs)]);
        lu.Solve(x);
        return x;
    }

    private static Complex[] Newton(Layout layout, Complex[] matrix, Complex[] right, List<FlowFromAmplitude> bent, Complex[] start, int n)
    {
        var s = new Balance(2 * n);
        for (int i = 0; i < n; i++)
            (s.X[i], s.X[n + i]) = (start[i].Real, start[i].Imaginary);
        var slopes = new double[4 * n * n];
        void Residual(double[] r)
        {
            Array.Clear(slopes);
            for (int i = 0; i < n; i++)
            {
                var sum = -right[i];
                for (int j = 0; j < n; j++)
                {
                    if (matrix[i * n + j] == Complex.Zero)
                        continue;
                    sum += matrix[i * n + j] * new Complex(s.X[j], s.X[n + j]);
                    Add(i, j, matrix[i * n + j], Complex.Zero);
                }

                (r[i], r[n + i]) = (sum.Real, sum.Imaginary);
            }

            foreach (var e in bent)
            {
                var flow = e.PhasorFlow(At(e.At[0]) - At(e.At[1]), out var a, out var c);
                for (int k = 0; k < 2; k++)
                {
                    if (e.At[k] < 0)
                        continue;
                    double sign = k == 0 ? 1 : -1;
                    r[e.At[k]] += sign * flow.Real;
                    r[n + e.At[k]] += sign * flow.Imaginary;
                    for (int j = 0; j < 2; j++)
                        if (e.At[j] >= 0)
                            Add(e.At[k], e.At[j], (j == k ? 1 : -1) * a, (j == k ? 1 : -1) * c);
                }
            }
        }

        Complex At(int unknown) => unknown < 0 ? Complex.Zero : new Complex(s.X[unknown], s.X[n + unknown]);

        // a z + c conj(z) on the parts of z.
        void Add(int row, int column, Complex a, Complex c)
        {
            int w = 2 * n;
            slopes[row * w + column] += a.Real + c.Real;
            slopes[row * w + n + column] += -a.Imaginary + c.Imaginary;
            slopes[(n + row) * w + column] += a.Imaginary + c.Imaginary;
            slopes[(n + row) * w + n + column] += a.Real - c.Real;
        }

        var doubled = layout with { Order = 2 * n, AboveZero = new HashSet<int>() };
        if (!NewtonSolve.TryRun(doubled, s, Residual, slopes, out var history))
            throw new NetworkNotConvergedException("The amplitudes did not settle.", history);
        return [.. Enumerable.Range(0, n).Select(At)];
    }

    // Row of the first node, of the element alone.
    private static Complex Flow(Element e, int port, Complex[] x, Balance operating, int n, double omega)
    {
        var at = e.At;
        Complex Value(int unknown) => unknown < 0 ? Complex.Zero : x[unknown];
        if (e is FlowFromAmplitude bent)
            return bent.PhasorFlow(Value(at[0]) - Value(at[1]), out _, out _);
        var probe = (int[])at.Clone();
        probe[2 * port] = n;
        int wide = n + 1;
        var matrix = new Complex[wide * wide];
        var right = new Complex[wide];
        try
        {
            e.At = probe;
            if (e.HasPhasorMatrix)
            {
                e.EvaluatePhasor(matrix, wide);
            }
            else
            {
                var alone = new Balance(wide) { X = [.. operating.X, at[2 * port] < 0 ? 0 : operating.X[at[2 * port]]] };
                e.Evaluate(alone);
                for (int i = 0; i < matrix.Length; i++)
                    matrix[i] = new Complex(alone.SlopeF[i], omega * alone.SlopeQ[i]);
            }

            e.Excite(right);
        }
        finally
        {
            e.At = at;
        }

        var sum = -right[n] + matrix[n * wide + n] * Value(at[2 * port]);
        for (int j = 0; j < n; j++)
            sum += matrix[n * wide + j] * x[j];
        return sum;
    }
}
