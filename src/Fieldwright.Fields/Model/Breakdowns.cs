namespace Fieldwright.Fields;

/// <summary>The iterations of a nonlinear field did not settle, so there is no field to report.</summary>
/// <param name="message">What was being solved.</param>
/// <param name="history">Relative size of the residual after each iteration.</param>
public sealed class FieldNotConvergedException(string message, IReadOnlyList<double> history) : Exception(message)
{
    /// <summary>Relative size of the residual after each iteration, oldest first.</summary>
    public IReadOnlyList<double> History { get; } = history;
}

/// <summary>A long model carries a net current, whose field in open space has no finite energy.</summary>
/// <param name="netCurrent">The sum of all currents, peak, A.</param>
public sealed class NetCurrentException(double netCurrent) : Exception(
    string.Create(System.Globalization.CultureInfo.InvariantCulture, $"All currents of a long model must add up to zero, for the energy of a net current in open space is infinite; here they add up to {netCurrent:G6} A. Add the return conductor."))
{
    /// <summary>The sum of all currents, peak, A.</summary>
    public double NetCurrent { get; } = netCurrent;
}

/// <summary>A first mesh would take more triangles than is sensible: a part is very thin for its length, and triangles are about as wide as they are high.</summary>
/// <param name="region">Region of the part that takes most of them.</param>
/// <param name="slenderness">Its length over its thickness or that of its skin.</param>
/// <param name="triangles">Triangles that were expected.</param>
public sealed class TooThinForTrianglesException(int region, double slenderness, double triangles) : Exception(
    string.Create(System.Globalization.CultureInfo.InvariantCulture, $"About {triangles:0,0} triangles would be needed: a part is {slenderness:0,0} times as long as it, or its skin, is thick, and triangles are about as wide as high. Draw a thin part thicker, of as much less conductivity."))
{
    /// <summary>Region of the part that takes most of them.</summary>
    public int Region { get; } = region;

    /// <summary>Triangles that were expected.</summary>
    public double Triangles { get; } = triangles;
}
