using System.Collections.Concurrent;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Coils;

/// <summary>Gauss–Legendre rules mapped to [0, 1].</summary>
internal sealed class GaussRule
{
    private static readonly ConcurrentDictionary<int, GaussRule> Known = new();

    private GaussRule(int count)
    {
        var rule = Quadrature.GaussLegendre(count);
        Nodes = Array.ConvertAll(rule.Nodes, x => 0.5 * (1 + x));
        Weights = Array.ConvertAll(rule.Weights, w => 0.5 * w);
    }

    /// <summary>Nodes in ]0, 1[, rising.</summary>
    public double[] Nodes { get; }

    /// <summary>Weights, of sum one.</summary>
    public double[] Weights { get; }

    /// <summary>The rule with a given number of nodes.</summary>
    public static GaussRule WithNodes(int count) => Known.GetOrAdd(count, static n => new GaussRule(n));

    /// <summary>Number of nodes, at most 1000, for a small relative error on an interval whose nearest singularity lies off it by a given share of its length.</summary>
    /// <param name="distanceOverLength">Distance of the singularity from the interval over the interval's length.</param>
    /// <param name="halfLog">Half the natural logarithm of one over the error wanted: 15.5 for 3e-14.</param>
    public static int NodesFor(double distanceOverLength, double halfLog = 15.5)
    {
        // The error falls as (half the sum of the axes of the largest ellipse of analyticity)^(-2n).
        var x = 1 + 2 * distanceOverLength;
        var rate = Math.Log(x + Math.Sqrt(x * x - 1));
        return (int)Math.Clamp(Math.Ceiling(halfLog / rate), 3, 1000);
    }
}
