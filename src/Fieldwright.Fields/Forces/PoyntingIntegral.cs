using System.Numerics;
using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Forces;

/// <summary>Power carried into a body, W: in air the Poynting vector S = E×H has no sources, so the flux into the body is ∫∇γ·S dV over the air, γ being 1 on the body and 0 on all else.</summary>
internal static class PoyntingIntegral
{
    /// <summary>Time mean, for the virtual displacement of the body.</summary>
    public static double Evaluate(HarmonicField field, VirtualDisplacement displacement)
    {
        var space = field.Meshed.Space;
        var values = new ElementValues();
        var sense = StressIntegral.CurrentSense(space.Symmetry);
        var power = 0.0;
        foreach (var e in displacement.Elements)
        {
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                var local = field.Local(e, q, values);
                var (_, gx, gy) = StressIntegral.Weight(space, e, q, values, displacement.NodeWeights);
                // E along the current, E×H = sense·E·(−H_y, H_x)
                var electric = -field.Rate(field.Potential(e, q, values));
                power += values.Weight[q] * sense * field.MeanProduct(electric, (gy * local.Hx) - (gx * local.Hy));
            }
        }
        return power;
    }
}
