using System.Numerics;
using Fieldwright.Circuits.Elements;

namespace Fieldwright.Circuits.Solving;

/// <summary>Solves (∂f/∂x + jω ∂q/∂x) x = sources, again and again while elements depend on their own amplitude.</summary>
internal static class PhasorSolve
{
    private const int MostSteps = 200;

    public static PhasorState Run(Network network, Layout layout, Balance s, double omega)
    {
        int n = layout.Order;
        var linear = new Complex[n * n];
        for (int i = 0; i < linear.Length; i++)
            linear[i] = new Complex(s.SlopeF[i], omega * s.SlopeQ[i]);
        var right = new Complex[n];
        foreach (var e in network.Elements)
            e.Excite(right);
        var own = network.Elements.Where(e => e.HasPhasorLaw).ToList();
        var x = new Complex[n];
        var history = new List<double>();
        double share = 1;
        for (int step = 0; step < MostSteps; step++)
        {
            var matrix = (Complex[])linear.Clone();
            foreach (var e in own)
                e.EvaluatePhasor(matrix, n, omega, x);
            int column = DenseLu<Complex>.TryFactor(matrix, n, out var lu);
            if (column >= 0)
                throw NewtonSolve.Singular(layout, [.. lu.LooseAt(column).Select(Complex.Abs)]);
            var next = (Complex[])right.Clone();
            lu.Solve(next);
            double change = 0, size = 0;
            for (int i = 0; i < n; i++)
            {
                change = Math.Max(change, Complex.Abs(next[i] - x[i]));
                size = Math.Max(size, Complex.Abs(next[i]));
                x[i] += (step == 0 ? 1 : share) * (next[i] - x[i]);
            }

            double relative = size == 0 ? 0 : change / size;
            if (relative < 1e-10 || step == 1 && own.All(e => e is ImpedancePorts))
                return new(network, layout, x, (e, port, at) => Flow(e, port, at, s, n, omega));
            // Steps that grow again mean the fixed point is being overshot: go half way from now on.
            if (history.Count > 0 && step > 1 && relative > 0.7 * history[^1])
                share = Math.Max(0.2, share * 0.7);
            history.Add(relative);
        }

        throw new NetworkNotConvergedException("The amplitudes did not settle.", history);
    }

    // Row of the first node, of the element alone.
    private static Complex Flow(Element e, int port, Complex[] x, Balance operating, int n, double omega)
    {
        var at = e.At;
        var probe = (int[])at.Clone();
        probe[2 * port] = n;
        int wide = n + 1;
        var full = new Complex[wide];
        x.CopyTo(full, 0);
        full[n] = at[2 * port] < 0 ? 0 : x[at[2 * port]];
        var matrix = new Complex[wide * wide];
        var right = new Complex[wide + 1];
        try
        {
            e.At = probe;
            if (e.HasPhasorLaw)
                e.EvaluatePhasor(matrix, wide, omega, full);
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

        Complex sum = -right[n];
        for (int j = 0; j < wide; j++)
            sum += matrix[n * wide + j] * full[j];
        return sum;
    }
}
