namespace Fieldwright.Geometry;

/// <summary>A piece of an outline with a direction: a straight line or a circular arc. Immutable; may be shared between threads.</summary>
/// <param name="From">Where it starts, m.</param>
/// <param name="To">Where it ends, m.</param>
public abstract record Edge(Point From, Point To)
{
    /// <summary>Length along the edge, m.</summary>
    public abstract double Length { get; }

    /// <summary>The point a given fraction of the length along the edge.</summary>
    /// <param name="fraction">0 at <see cref="From"/>, 1 at <see cref="To"/>; both ends are given back exactly.</param>
    public abstract Point PointAt(double fraction);

    /// <summary>Unit tangent in the direction of travel.</summary>
    /// <param name="fraction">0 at <see cref="From"/>, 1 at <see cref="To"/>.</param>
    public abstract Point DirectionAt(double fraction);

    /// <summary>The same edge travelled the other way.</summary>
    public abstract Edge Reversed { get; }

    /// <summary>Least distance of a point from the edge, m, and where on the edge it is taken.</summary>
    /// <param name="point">The point.</param>
    /// <param name="fraction">Fraction of the length at the nearest point, in [0, 1].</param>
    public abstract double DistanceTo(Point point, out double fraction);

    /// <summary>The part of the edge between two fractions, with exact ends where they are 0 or 1.</summary>
    internal abstract Edge Part(double from, double to, Point start, Point end);

    /// <summary>∫ ½(x dy − y dx) along the edge about an origin, m²: summed round a counter-clockwise loop it is the area.</summary>
    internal abstract double SweptArea(Point origin);

    /// <summary>Smallest upright box round the edge.</summary>
    internal abstract Box Bounds { get; }

    /// <summary>Kind and ends of the edge, for messages.</summary>
    public sealed override string ToString() => $"{(this is ArcEdge ? "arc" : "line")} from {From} to {To}";
}
