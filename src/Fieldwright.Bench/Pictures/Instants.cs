using System.Numerics;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Pictures;

/// <summary>Instants of an alternating field.</summary>
internal static class Instants
{
    /// <summary>ωt in rad, −π/2 to π/2, when the sum of the squares of the flux function over the mesh is greatest; of the two such instants in a
    /// period the one nearer to the peak of the source. Zero for a static field.</summary>
    public static double Strongest(MagneticField field)
    {
        ArgumentNullException.ThrowIfNull(field);
        if (field is not HarmonicField)
            return 0;
        // (Re ψ e^jθ)² = ½|ψ|² + ½ Re(ψ² e^2jθ).
        Complex sum = 0;
        foreach (var psi in field.NodalFluxFunction())
            sum += psi * psi;
        double angle = -0.5 * sum.Phase;
        return Math.Abs(angle) < 1e-3 ? 0 : angle;
    }
}
