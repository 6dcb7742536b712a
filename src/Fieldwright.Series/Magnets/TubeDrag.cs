using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Magnets;

/// <summary>Drag on a magnet that falls along the axis of a conducting tube, for slow fall.</summary>
/// <remarks>The induced currents' own field is left out: valid while μ₀σ·(wall)·(speed) is well below one (for copper and 1 mm: well below 14 m/s).</remarks>
public static class TubeDrag
{
    /// <summary>Drag over speed of a point dipole along the axis of a thin long tube, N·s/m.</summary>
    /// <param name="moment">Moment along the axis, A·m².</param>
    /// <param name="radius">Mean radius of the wall, m.</param>
    /// <param name="wall">Wall, m; much thinner than the radius.</param>
    /// <param name="conductivity">Conductivity, S/m.</param>
    /// <returns>45μ₀²m²σw/(1024a⁴).</returns>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive.</exception>
    /// <source key="Saslow1992" at="magnet falling in a tube"/>
    public static double OfDipole(double moment, double radius, double wall, double conductivity)
    {
        Guard.Finite(moment);
        var b = PhysicalConstants.MagneticConstant * moment / (Guard.Positive(radius) * radius);
        return 45 * b * b * Guard.Positive(conductivity) * Guard.Positive(wall) / 1024;
    }

    /// <summary>Drag over speed of a magnet along the axis of a tube of any wall and length, N·s/m.</summary>
    /// <param name="magnet">The magnet; only its shape and polarisation matter here, its axis is taken along the tube.</param>
    /// <param name="innerRadius">Inner radius of the tube, m; larger than the magnet's.</param>
    /// <param name="outerRadius">Outer radius, m.</param>
    /// <param name="conductivity">Conductivity, S/m.</param>
    /// <param name="before">Length of tube ahead of the magnet's centre, m; infinite allowed.</param>
    /// <param name="behind">Length of tube behind it, m; infinite allowed.</param>
    /// <returns>σ∫2πr B_r² dr dz over the wall, relative error below 1e-8.</returns>
    /// <exception cref="ArgumentException">A size is out of range or the magnet does not fit.</exception>
    /// <source key="Saslow1992" at="each ring of wall feels the motional voltage 2πr B_r v"/>
    public static double OfMagnet(CylinderMagnet magnet, double innerRadius, double outerRadius, double conductivity,
        double before = double.PositiveInfinity, double behind = double.PositiveInfinity)
    {
        ArgumentNullException.ThrowIfNull(magnet);
        Guard.Positive(innerRadius);
        Guard.Positive(outerRadius);
        Guard.Positive(conductivity);
        if (innerRadius <= magnet.Radius || outerRadius <= innerRadius)
            throw new ArgumentException("The tube's inner radius must be larger than the magnet's and smaller than its own outer radius.");
        if (!(before >= 0) || !(behind >= 0))
            throw new ArgumentOutOfRangeException(nameof(before), before, "must be zero or more, as must the length behind");
        var upright = new CylinderMagnet(magnet.Radius, magnet.Length, magnet.Polarisation, default, null, magnet.BoreRadius);
        // Along z: panels of the clearance's size about each end of the magnet, doubling outwards; the field falls as z⁻⁴, its square as z⁻⁸.
        var panel = innerRadius - 0.9 * magnet.Radius;
        return conductivity * (Side(before, 1) + Side(behind, -1));

        double Side(double length, int sign)
        {
            double total = 0, done = 0;
            var far = Math.Min(length, 0.5 * magnet.Length + 300 * outerRadius);
            while (done < far)
            {
                var beyond = Math.Abs(done - 0.5 * magnet.Length);
                var step = Math.Min(far - done, Math.Max(panel, 0.7 * beyond));
                total += Panel(sign * done, sign * (done + step));
                done += step;
            }
            return total;
        }

        double Panel(double from, double to)
        {
            GaussRule along = GaussRule.WithNodes(16), across = GaussRule.WithNodes(16);
            double total = 0;
            for (var i = 0; i < 16; i++)
                for (var j = 0; j < 16; j++)
                {
                    var r = innerRadius + (outerRadius - innerRadius) * across.Nodes[j];
                    var b = upright.FluxDensity(new Vector(r, 0, from + (to - from) * along.Nodes[i])).X;
                    total += along.Weights[i] * across.Weights[j] * 2 * Math.PI * r * b * b;
                }
            return total * Math.Abs(to - from) * (outerRadius - innerRadius);
        }
    }
}
