namespace Fieldwright.Fields;

/// <summary>Two upright edges between which a long model is one piece of a row of equal ones along x: one pole pair, or with the sign turned over one pole, of a track.</summary>
/// <remarks>
/// Parts lie between the edges and may touch them; a sheet that runs on reaches from one to the other. Above and below, the air reaches one whole wavelength (twice the width when
/// the sign turns) beyond the parts, where A = 0 above and H is upright below. What that cut costs: the fundamental of the row arrives weakened by exp(−2π) = 0.2 % and comes back
/// weakened again, 4e-6 in all, higher harmonics far less; a mean field along x is exact.
/// </remarks>
/// <param name="Left">x of the left edge, m.</param>
/// <param name="Right">x of the right edge, m.</param>
/// <param name="SignTurns">True if the next piece carries the opposite currents and field.</param>
public sealed record RepeatingEdges(double Left, double Right, bool SignTurns = false)
{
    /// <summary>Length after which everything is the same again, m.</summary>
    public double Period => (SignTurns ? 2 : 1) * (Right - Left);
}
