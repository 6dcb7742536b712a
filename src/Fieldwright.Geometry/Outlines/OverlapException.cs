using System.Globalization;

namespace Fieldwright.Geometry;

/// <summary>Two outlines of a drawing overlap in part: neither lies inside the other, yet they share area.</summary>
public sealed class OverlapException : ArgumentException
{
    /// <summary>Names the two regions that overlap.</summary>
    /// <param name="first">Region of the earlier outline.</param>
    /// <param name="second">Region of the later outline.</param>
    /// <param name="at">A point inside both, m.</param>
    /// <param name="finding">What was found, in words.</param>
    public OverlapException(int first, int second, Point at, string finding)
        : base(string.Create(CultureInfo.InvariantCulture, $"regions {first} and {second} {finding} near ({at.X:G6}, {at.Y:G6})"))
    {
        First = first;
        Second = second;
        At = at;
    }

    /// <summary>Region of the earlier outline.</summary>
    public int First { get; }

    /// <summary>Region of the later outline.</summary>
    public int Second { get; }

    /// <summary>A point near the overlap, m.</summary>
    public Point At { get; }
}
