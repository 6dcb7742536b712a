namespace Fieldwright.Series.Coils;

/// <summary>A rectangular section in the half-plane (r, z), m.</summary>
internal readonly record struct Section(double InnerRadius, double OuterRadius, double ZFrom, double ZTo)
{
    public double Build => OuterRadius - InnerRadius;

    public double Height => ZTo - ZFrom;

    public double Area => Build * Height;

    /// <summary>Distance between two sections; zero when they touch or overlap.</summary>
    public static double Distance(in Section p, in Section q) => Math.Sqrt(
        Square(Apart(p.InnerRadius, p.OuterRadius, q.InnerRadius, q.OuterRadius)) + Square(Apart(p.ZFrom, p.ZTo, q.ZFrom, q.ZTo)));

    /// <summary>Whether two sections share an area (touching does not count).</summary>
    public static bool Overlap(in Section p, in Section q) =>
        Math.Min(p.OuterRadius, q.OuterRadius) - Math.Max(p.InnerRadius, q.InnerRadius) > 1e-12 * (p.OuterRadius + q.OuterRadius)
        && Math.Min(p.ZTo, q.ZTo) - Math.Max(p.ZFrom, q.ZFrom) > 1e-12 * (p.Height + q.Height);

    private static double Apart(double a0, double a1, double b0, double b1) => Math.Max(0, Math.Max(a0 - b1, b0 - a1));

    private static double Square(double x) => x * x;
}
