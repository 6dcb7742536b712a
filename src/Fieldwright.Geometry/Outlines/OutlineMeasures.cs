namespace Fieldwright.Geometry;

public sealed partial class Outline
{
    /// <summary>Area inside, m², arcs included exactly; positive whichever way the loop runs.</summary>
    public double Area => Math.Abs(SignedArea);

    /// <summary>Length of the loop, m.</summary>
    public double Perimeter => Edges.Sum(edge => edge.Length);

    /// <summary>Area, positive if the loop runs counter-clockwise.</summary>
    internal double SignedArea => Edges.Sum(edge => edge.SweptArea(Edges[0].From));
}
