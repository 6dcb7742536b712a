using System.Numerics;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Tests.Tutorials;

internal static class NumericsTutorial
{
    private const int Side = 100; // nodes along one side of the sheet

    public sealed record Outcome(double StaticError, double DialError, double BackwardError, double Condition, long BytesForetold, double MeanError, Inertia Inertia, double CarriedError);

    private static (SymmetricPattern Pattern, double[] Values, double[] Places) Sheet()
    {
        var starts = new List<int> { 0 };
        var rows = new List<int>();
        var values = new List<double>();
        var places = new double[2 * Side * Side];
        for (var node = 0; node < Side * Side; node++)
        {
            (places[2 * node], places[2 * node + 1]) = (node % Side, node / Side);
            Add(node, 4);
            if (node % Side + 1 < Side)
                Add(node + 1, -1);
            if (node / Side + 1 < Side)
                Add(node + Side, -1);
            starts.Add(rows.Count);
        }
        return (new SymmetricPattern(Side * Side, [.. starts], [.. rows]), [.. values], places);

        void Add(int row, double value)
        {
            rows.Add(row);
            values.Add(value);
        }
    }

    public static Outcome Run()
    {
        var (pattern, conductance, places) = Sheet();
        var analysis = SparseAnalysis.Create(pattern, places);
        var foretold = 0L;
        try
        {
            RealLdl.Create(analysis, conductance, memoryLimit: 1_000_000);
        }
        catch (MemoryLimitException e)
        {
            foretold = e.Needed; // "the factorisation needs 4.4 MB, and 1.0 MB are allowed"
        }

        var lambda = 4 - 4 * Math.Cos(Math.PI / (Side + 1));
        var shape = new double[Side * Side];
        for (var node = 0; node < shape.Length; node++)
            shape[node] = Math.Sin(Math.PI * (node % Side + 1) / (Side + 1)) * Math.Sin(Math.PI * (node / Side + 1) / (Side + 1));
        var factor = RealLdl.Create(analysis, conductance);
        var potential = new double[shape.Length];
        factor.Solve(shape, potential); // currents of this shape make potentials of this shape, 1/λ as large
        var staticError = Enumerable.Range(0, shape.Length).Max(i => Math.Abs(lambda * potential[i] - shape[i]));
        var condition = factor.ConditionEstimate();

        var capacitance = new double[pattern.EntryCount];
        var harmonic = ComplexLdl.Create(analysis, conductance, capacitance);
        var phasor = new Complex[shape.Length];
        double dialError = 0, backward = 0;
        foreach (var omega in new[] { 0.001, 0.01, 0.1 })
        {
            for (var j = 0; j < pattern.Order; j++)
                capacitance[pattern.ColumnStarts[j]] = omega; // the first entry of a column is its diagonal
            harmonic.Refactor(conductance, capacitance);
            Complex[] currents = [.. shape.Select(s => new Complex(s, 0)), .. shape.Select(s => new Complex(0, 2 * s))];
            var both = new Complex[currents.Length];
            harmonic.Solve(currents, both, count: 2);
            var gain = 1 / new Complex(lambda, omega);
            for (var i = 0; i < shape.Length; i++)
                dialError = Math.Max(dialError, ((both[i] - gain * shape[i]).Magnitude + (both[shape.Length + i] - new Complex(0, 2) * gain * shape[i]).Magnitude) / gain.Magnitude);
            backward = harmonic.SolveRefined(currents.AsSpan(0, shape.Length), phasor);
        }

        int[] starts = new int[pattern.Order + 2], rows = new int[pattern.EntryCount + pattern.Order + 1];
        var held = new double[rows.Length];
        var end = 0;
        for (var j = 0; j < pattern.Order; j++)
        {
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
                (rows[end], held[end++]) = (pattern.RowIndices[p], conductance[p]);
            (rows[end], held[end++]) = (pattern.Order, 1.0 / pattern.Order); // its part in the mean
            starts[j + 1] = end;
        }
        (rows[end], held[end++]) = (pattern.Order, 0);
        starts[^1] = end;
        var constrained = IndefiniteLdl.Create(SparseAnalysis.Create(new SymmetricPattern(pattern.Order + 1, starts, rows)), held);
        var solution = new double[pattern.Order + 1];
        constrained.SolveRefined([.. shape, 3.0], solution);
        var meanError = Math.Abs(solution.Take(pattern.Order).Average() - 3);

        var (lower, upper) = ((double[])conductance.Clone(), (double[])conductance.Clone());
        for (var j = 0; j < pattern.Order; j++)
            for (var p = pattern.ColumnStarts[j] + 1; p < pattern.ColumnStarts[j + 1]; p++)
                if (pattern.RowIndices[p] == j + 1)
                    (lower[p], upper[p]) = (lower[p] - 0.4, upper[p] + 0.4);
        var carried = new double[pattern.Order];
        SparseLu.Create(analysis, lower, upper).Solve(shape, carried);
        var carriedError = 0.0;
        for (var i = 0; i < carried.Length; i++)
        {
            double At(bool inside, int node) => inside ? carried[node] : 0;
            var (left, right) = (At(i % Side > 0, i - 1), At(i % Side + 1 < Side, i + 1));
            var across = At(i / Side > 0, i - Side) + At(i / Side + 1 < Side, i + Side);
            carriedError = Math.Max(carriedError, Math.Abs(4 * carried[i] - left - right - across + 0.4 * (right - left) - shape[i]));
        }
        return new Outcome(staticError, dialError, backward, condition, foretold, meanError, constrained.Inertia, carriedError);
    }
}
