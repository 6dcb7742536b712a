namespace Fieldwright.Geometry;

/// <summary>A straight edge. See <see cref="ArcEdge"/> for the round one.</summary>
/// <param name="From">Where it starts, m.</param>
/// <param name="To">Where it ends, m.</param>
public sealed record LineEdge(Point From, Point To) : Edge(From, To)
{
    /// <inheritdoc/>
    public override double Length => From.DistanceTo(To);

    /// <inheritdoc/>
    public override Point PointAt(double fraction) =>
        fraction <= 0.5 ? From + (fraction * (To - From)) : To + ((1 - fraction) * (From - To));

    /// <inheritdoc/>
    public override Point DirectionAt(double fraction) => (1 / Length) * (To - From);

    /// <inheritdoc/>
    public override Edge Reversed => new LineEdge(To, From);

    /// <inheritdoc/>
    public override double DistanceTo(Point point, out double fraction)
    {
        var d = To - From;
        fraction = Math.Clamp(Point.Dot(point - From, d) / Point.Dot(d, d), 0, 1);
        return point.DistanceTo(PointAt(fraction));
    }

    internal override Edge Part(double from, double to, Point start, Point end) => new LineEdge(start, end);

    internal override double SweptArea(Point origin) => 0.5 * Point.Cross(From - origin, To - origin);

    internal override Box Bounds => Box.Of(From, To);
}
