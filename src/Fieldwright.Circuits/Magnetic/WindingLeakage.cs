using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Magnetic;

/// <summary>Flux of a coil on a limb that does not go round with the rest.</summary>
public static class WindingLeakage
{
    /// <summary>Leakage permeance of a coil, H: flux linkage through clearance and winding, over turns squared and current.</summary>
    /// <remarks>The textbook sum for a coil on a limb whose flux returns outside it: μ₀ U (c + b/3) / l. Rough: a factor of two either way is no surprise for a short coil.</remarks>
    /// <param name="meanTurn">Mean length of a turn U, m.</param>
    /// <param name="clearance">Space between limb and wire c, m.</param>
    /// <param name="build">Thickness of the winding b, m.</param>
    /// <param name="length">Length along the limb l, m.</param>
    /// <source key="Richter1954"/>
    public static double Permeance(double meanTurn, double clearance, double build, double length) =>
        PhysicalConstants.MagneticConstant * Guard.Positive(meanTurn) * (Guard.NotNegative(clearance) + Guard.Positive(build) / 3) / Guard.Positive(length);
}
