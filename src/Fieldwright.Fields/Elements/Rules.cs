using MathNet.Numerics.Integration;

namespace Fieldwright.Fields.Elements;

/// <summary>A point of a rule on the reference triangle.</summary>
internal readonly record struct TrianglePoint(double Xi, double Eta, double Weight)
{
    /// <summary>Conical product rule.</summary>
    public static IReadOnlyList<TrianglePoint> Rule(int degree)
    {
        var n = (degree / 2) + 1;
        var list = new List<TrianglePoint>();
        var g = new GaussLegendreRule(0, 1, n);
        var h = new GaussLegendreRule(0, 1, n + 1);
        for (var i = 0; i < n + 1; i++)
            for (var j = 0; j < n; j++)
            {
                var u = h.GetAbscissa(i);
                var v = g.GetAbscissa(j);
                list.Add(new(u, v * (1 - u), h.GetWeight(i) * g.GetWeight(j) * (1 - u)));
            }
        return list;
    }
}

/// <summary>A point of Gauss's rule on [0, 1].</summary>
internal static class LinePoint
{
    public static (double Position, double Weight)[] Rule { get; } = Make();

    private static (double, double)[] Make()
    {
        var g = new GaussLegendreRule(0, 1, 6);
        return [.. Enumerable.Range(0, 6).Select(i => (g.GetAbscissa(i), g.GetWeight(i)))];
    }
}
