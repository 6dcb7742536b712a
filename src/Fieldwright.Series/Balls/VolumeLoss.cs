using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>Heat of the currents inside a ball, summed over the volume; shares nothing with the loss taken from the field outside but the radial functions.</summary>
internal static class VolumeLoss
{
    /// <summary>Mean heat of each layer, W.</summary>
    public static double[] ByLayer(SphereBody body, SphereResponse response, ReadOnlySpan<Complex> c, int degrees)
    {
        var heat = new double[body.Layers.Count];
        var omega = response.AngularFrequency;
        Complex[] f = new Complex[degrees + 1], slope = new Complex[degrees + 1];
        // |f_l(a)|² l(l+1) Σ|c|²·4π/(2l+1): E = −jω f ∇₁C × r̂ with f(a) = μ₀ĉ/(l+1)·(1 − (l+1)T/l).
        var weight = new double[degrees + 1];
        for (var l = 1; l <= degrees; l++)
        {
            var surface = PhysicalConstants.MagneticConstant / (l + 1) * (1 - (l + 1.0) / l * response.Ratios[l]);
            weight[l] = Size(surface) * l * (l + 1) * 4 * Math.PI / (2 * l + 1) * BallForces.Size2(c, l);
        }
        double from = 0;
        for (var j = 0; j < heat.Length; j++)
        {
            var layer = body.Layers[j];
            if (layer.Conductivity > 0 && double.IsFinite(layer.Conductivity) && omega > 0)
            {
                var skin = Math.Sqrt(2 / (omega * PhysicalConstants.MagneticConstant * layer.RelativePermeability * layer.Conductivity));
                // Panels growing inwards from the outer radius, where fields of high degree and short skin depth crowd.
                var panel = Math.Min(skin, layer.OuterRadius / degrees);
                var rule = Quadrature.GaussLegendre(12);
                for (var to = layer.OuterRadius; to > from; to -= panel, panel *= 1.5)
                {
                    var low = Math.Max(from, to - panel);
                    if (low - from < 0.3 * panel)
                        low = from;
                    for (var i = 0; i < rule.Count; i++)
                    {
                        var r = 0.5 * (low + to) + 0.5 * (to - low) * rule.Nodes[i];
                        response.RadialInto(r, f, slope);
                        double sum = 0;
                        for (var l = 1; l <= degrees; l++)
                            sum += weight[l] * Size(f[l]);
                        heat[j] += 0.5 * layer.Conductivity * omega * omega * r * r * sum * rule.Weights[i] * 0.5 * (to - low);
                    }
                    if (low == from)
                        break;
                }
            }
            from = layer.OuterRadius;
        }
        return heat;
    }

    private static double Size(Complex z) => z.Real * z.Real + z.Imaginary * z.Imaginary;
}
