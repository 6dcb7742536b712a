using System.Numerics;

namespace Fieldwright.Fields.Assembly;

/// <summary>Between vectors over the nodes and vectors over the unknowns.</summary>
internal static class NodeVectors
{
    /// <summary>Loads over the nodes; those of tied nodes add, so this is not for values unless nothing is tied.</summary>
    public static double[] ToUnknowns(MeshedModel meshed, ReadOnlySpan<double> nodes)
    {
        var result = new double[meshed.UnknownCount];
        var dof = meshed.DegreeOfFreedom;
        for (var n = 0; n < dof.Length; n++)
            if (dof[n] >= 0) result[dof[n]] += Sign(meshed, n) * nodes[n];
        return result;
    }

    public static double[] ToNodes(MeshedModel meshed, ReadOnlySpan<double> unknowns)
    {
        var dof = meshed.DegreeOfFreedom;
        var result = new double[dof.Length];
        for (var n = 0; n < dof.Length; n++)
            if (dof[n] >= 0) result[n] = Sign(meshed, n) * unknowns[dof[n]];
        return result;
    }

    public static Complex[] ToUnknowns(MeshedModel meshed, ReadOnlySpan<Complex> nodes)
    {
        var result = new Complex[meshed.UnknownCount];
        var dof = meshed.DegreeOfFreedom;
        for (var n = 0; n < dof.Length; n++)
            if (dof[n] >= 0) result[dof[n]] += Sign(meshed, n) * nodes[n];
        return result;
    }

    public static Complex[] ToNodes(MeshedModel meshed, ReadOnlySpan<Complex> unknowns)
    {
        var dof = meshed.DegreeOfFreedom;
        var result = new Complex[dof.Length];
        for (var n = 0; n < dof.Length; n++)
            if (dof[n] >= 0) result[n] = Sign(meshed, n) * unknowns[dof[n]];
        return result;
    }

    private static double Sign(MeshedModel meshed, int node) => meshed.Signs is null ? 1 : meshed.Signs[node];

    public static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }

    public static Complex Dot(double[] a, Complex[] b)
    {
        double re = 0, im = 0;
        for (var i = 0; i < a.Length; i++)
        {
            re += a[i] * b[i].Real;
            im += a[i] * b[i].Imaginary;
        }
        return new(re, im);
    }
}
