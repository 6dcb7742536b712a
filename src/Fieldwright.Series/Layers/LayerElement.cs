using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Layers;

/// <summary>
/// One layer as seen from its two faces for one harmonic: w·H at the faces as a linear function of the potential A there.
/// At the outer face w H = Coupling·A_inner + Outer·A_outer − load, at the inner face −w H = Inner·A_inner + Coupling·A_outer − load,
/// H the tangential field taken as (1/μ)∂A/∂y (flat, w = 1), (1/μ)∂A/∂r (rotating, w = r), (1/μr)∂(rA)/∂r (tubular, w = r).
/// </summary>
/// <remarks>Only decaying ratios appear, so thick layers, many skin depths and high harmonics neither overflow nor cancel.</remarks>
internal readonly record struct LayerElement(Complex Inner, Complex Coupling, Complex Outer)
{
    /// <summary>A layer between two faces.</summary>
    /// <param name="shape">Flat, tubular or rotating.</param>
    /// <param name="layer">Its matter.</param>
    /// <param name="b">Height or radius of the inner face, m.</param>
    /// <param name="c">Outer face, m.</param>
    /// <param name="kappa">Wave number along the travel, 1/m (whole number of waves round a rotating stack); not zero.</param>
    /// <param name="slipFrequency">ω − κ·speed, rad/s.</param>
    public static LayerElement Between(StackShape shape, in Layer layer, double b, double c, double kappa, double slipFrequency)
    {
        var mu = PhysicalConstants.MagneticConstant * layer.RelativePermeability;
        var conducting = new Complex(0, mu * layer.Conductivity * slipFrequency);
        if (shape == StackShape.Flat)
        {
            var gamma = Complex.Sqrt(kappa * kappa + conducting);
            var e = Complex.Exp(-gamma * (c - b));
            var eta = gamma / mu / (1 - e * e);
            var face = eta * (1 + e * e);
            return new LayerElement(face, -2 * eta * e, face);
        }
        if (shape == StackShape.Rotating && conducting == Complex.Zero)
        {
            var m = Math.Abs(kappa);
            var x = Math.Pow(b / c, m);
            var scale = m / mu / (1 - x * x);
            return new LayerElement(scale * (1 + x * x), -2 * scale * x, scale * (1 + x * x));
        }
        var order = Order(shape, kappa);
        var g = Gamma(shape, kappa, conducting);
        Radial atB = new(order, g * b), atC = new(order, g * c);
        var (u, spread) = Radial.Ratios(atB, atC, order);
        // p = z I′/I, s = −z K′/K; with t = (I_b/I_c)(K_c/K_b) and the Wronskian z(I′K − IK′) = 1.
        var bottom = mu * (1 - spread);
        var shift = shape == StackShape.Tubular ? 1 / mu : 0; // (rA)′/r adds A/r
        return new LayerElement((atB.Growing * spread + atB.Falling) / bottom - shift, -u * (atB.Growing + atB.Falling) / bottom, (atC.Growing + atC.Falling * spread) / bottom + shift);
    }

    /// <summary>Everything inside the first face: half-space or core. Only <see cref="Outer"/> is used.</summary>
    public static LayerElement Within(StackShape shape, in Layer layer, double c, double kappa, double slipFrequency)
    {
        var mu = PhysicalConstants.MagneticConstant * layer.RelativePermeability;
        var conducting = new Complex(0, mu * layer.Conductivity * slipFrequency);
        if (shape == StackShape.Flat)
            return new LayerElement(0, 0, Complex.Sqrt(kappa * kappa + conducting) / mu);
        if (shape == StackShape.Rotating && conducting == Complex.Zero)
            return new LayerElement(0, 0, Math.Abs(kappa) / mu);
        var at = new Radial(Order(shape, kappa), Gamma(shape, kappa, conducting) * c);
        return new LayerElement(0, 0, (at.Growing + (shape == StackShape.Tubular ? 1 : 0)) / mu);
    }

    /// <summary>Everything beyond the last face. Only <see cref="Inner"/> is used.</summary>
    public static LayerElement Beyond(StackShape shape, in Layer layer, double b, double kappa, double slipFrequency)
    {
        var mu = PhysicalConstants.MagneticConstant * layer.RelativePermeability;
        var conducting = new Complex(0, mu * layer.Conductivity * slipFrequency);
        if (shape == StackShape.Flat)
            return new LayerElement(Complex.Sqrt(kappa * kappa + conducting) / mu, 0, 0);
        if (shape == StackShape.Rotating && conducting == Complex.Zero)
            return new LayerElement(Math.Abs(kappa) / mu, 0, 0);
        var at = new Radial(Order(shape, kappa), Gamma(shape, kappa, conducting) * b);
        return new LayerElement((at.Falling - (shape == StackShape.Tubular ? 1 : 0)) / mu, 0, 0);
    }

    private static int Order(StackShape shape, double kappa) => shape == StackShape.Tubular ? 1 : (int)Math.Round(Math.Abs(kappa));

    private static Complex Gamma(StackShape shape, double kappa, Complex conducting) =>
        Complex.Sqrt(shape == StackShape.Tubular ? kappa * kappa + conducting : conducting);

    /// <summary>Logarithmic slopes of I_m and K_m at one argument, with the ratios of neighbouring orders they come from.</summary>
    private readonly struct Radial
    {
        private readonly Complex z;
        private readonly Complex[] i, k;

        public Radial(int order, Complex z)
        {
            this.z = z;
            i = new Complex[order + 1];
            k = new Complex[order + 1];
            i[order] = RatioI(order, z);
            for (var n = order; n > 0; n--)
                i[n - 1] = 1 / (i[n] + 2 * n / z);
            k[0] = SpecialFunctions.BesselKScaled(1, z) / SpecialFunctions.BesselKScaled(0, z);
            for (var n = 1; n <= order; n++)
                k[n] = 1 / k[n - 1] + 2 * n / z;
            Growing = order + z * i[order];
            Falling = order > 0 ? order + z / k[order - 1] : z * k[0];
        }

        /// <summary>z I′_m/I_m.</summary>
        public Complex Growing { get; }

        /// <summary>−z K′_m/K_m.</summary>
        public Complex Falling { get; }

        /// <summary>I_m(b)/I_m(c), and that times K_m(c)/K_m(b).</summary>
        public static (Complex U, Complex Spread) Ratios(in Radial b, in Radial c, int order)
        {
            // Scaled by e^(−Re z) and e^z.
            var grow = SpecialFunctions.BesselIScaled(0, b.z) / SpecialFunctions.BesselIScaled(0, c.z) * Math.Exp(b.z.Real - c.z.Real);
            var fall = SpecialFunctions.BesselKScaled(0, c.z) / SpecialFunctions.BesselKScaled(0, b.z) * Complex.Exp(b.z - c.z);
            for (var n = 0; n < order; n++)
            {
                grow *= b.i[n] / c.i[n];
                fall *= c.k[n] / b.k[n];
            }
            return (grow, grow * fall);
        }

        // I_(m+1)/I_m by its continued fraction 1/(2(m+1)/z + 1/(2(m+2)/z + …)), modified Lentz.
        private static Complex RatioI(int order, Complex z)
        {
            Complex f = 1e-300, c = f, d = 0;
            for (var j = 1; j < 1_000_000; j++)
            {
                var b = 2.0 * (order + j) / z;
                d = 1 / (b + d);
                c = b + 1 / c;
                var change = c * d;
                f *= change;
                if (Math.Abs(change.Real - 1) + Math.Abs(change.Imaginary) < 1e-16)
                    return f;
            }
            throw new NotConvergedException("The ratio of Bessel functions of a layer", double.NaN, 1_000_000);
        }
    }
}
