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
        var (growingB, fallingB, growingC, fallingC, u, spread) = Pair(order, g * b, g * c);
        // p = z I′/I, s = −z K′/K; with t = (I_b/I_c)(K_c/K_b) and the Wronskian z(I′K − IK′) = 1.
        var bottom = mu * (1 - spread);
        var shift = shape == StackShape.Tubular ? 1 / mu : 0; // (rA)′/r adds A/r
        return new LayerElement((growingB * spread + fallingB) / bottom - shift, -u * (growingB + fallingB) / bottom, (growingC + fallingC * spread) / bottom + shift);
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
        var growing = Growing(Order(shape, kappa), Gamma(shape, kappa, conducting) * c);
        return new LayerElement(0, 0, (growing + (shape == StackShape.Tubular ? 1 : 0)) / mu);
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
        var falling = Falling(Order(shape, kappa), Gamma(shape, kappa, conducting) * b);
        return new LayerElement((falling - (shape == StackShape.Tubular ? 1 : 0)) / mu, 0, 0);
    }

    private static int Order(StackShape shape, double kappa) => shape == StackShape.Tubular ? 1 : (int)Math.Round(Math.Abs(kappa));

    private static Complex Gamma(StackShape shape, double kappa, Complex conducting) =>
        Complex.Sqrt(shape == StackShape.Tubular ? kappa * kappa + conducting : conducting);

    // z I′_m/I_m.
    private static Complex Growing(int order, Complex z) => order + z * RatioI(order, Over(z));

    // −z K′_m/K_m, from the ratios K_(n+1)/K_n upwards.
    private static Complex Falling(int order, Complex z)
    {
        var (k, next) = SpecialFunctions.BesselKScaledPair(z);
        Complex ratio = next * Over(k), falling = z * ratio, over = Over(z);
        for (var n = 1; n <= order; n++)
        {
            var back = Over(ratio);
            falling = n + z * back;
            ratio = back + 2 * n * over;
        }
        return falling;
    }

    /// <summary>Both slopes at two arguments of one direction, U = I_m(b)/I_m(c) and Spread = U·K_m(c)/K_m(b).</summary>
    /// <remarks>Sizes go order by order in ratios, which neither overflow nor vanish; that of order 0 comes from the Wronskian z(I₀K₁ + I₁K₀) = 1.</remarks>
    private static (Complex GrowingB, Complex FallingB, Complex GrowingC, Complex FallingC, Complex U, Complex Spread) Pair(int order, Complex b, Complex c)
    {
        Complex overB = Over(b), overC = Over(c), iB = RatioI(order, overB), iC = RatioI(order, overC);
        Complex growingB = order + b * iB, growingC = order + c * iC, u = 1;
        for (var n = order; n > 0; n--)
        {
            Complex upB = iB + 2 * n * overB, upC = iC + 2 * n * overC;
            (iB, iC) = (Over(upB), Over(upC));
            u *= iB * upC;
        }
        var (kB, nextB) = SpecialFunctions.BesselKScaledPair(b);
        var (kC, nextC) = SpecialFunctions.BesselKScaledPair(c);
        Complex rB = nextB * Over(kB), rC = nextC * Over(kC), decay = Complex.Exp(b - c), fall = kC * Over(kB) * decay;
        u *= c * kC * (rC + iC) * Over(b * kB * (rB + iB)) * decay;
        Complex fallingB = b * rB, fallingC = c * rC;
        for (var n = 1; n <= order; n++)
        {
            Complex backB = Over(rB), backC = Over(rC);
            (fallingB, fallingC) = (n + b * backB, n + c * backC);
            fall *= rC * backB;
            (rB, rC) = (backB + 2 * n * overB, backC + 2 * n * overC);
        }
        return (growingB, fallingB, growingC, fallingC, u, u * fall);
    }

    // I_(m+1)/I_m by its continued fraction 1/(2(m+1)/z + 1/(2(m+2)/z + …)), modified Lentz; given 1/z.
    private static Complex RatioI(int order, Complex over)
    {
        Complex f = 1e-100, c = f, d = 0;
        for (var j = 1; j < 1_000_000; j++)
        {
            var b = 2.0 * (order + j) * over;
            d = Over(b + d);
            c = b + Over(c);
            var change = c * d;
            f *= change;
            if (Math.Abs(change.Real - 1) + Math.Abs(change.Imaginary) < 1e-16)
                return f;
        }
        throw new NotConvergedException("The ratio of Bessel functions of a layer", double.NaN, 1_000_000);
    }

    // Nothing here is so large or small that a square of it overflows, so the plain quotient serves.
    private static Complex Over(Complex z)
    {
        var size2 = z.Real * z.Real + z.Imaginary * z.Imaginary;
        return new Complex(z.Real / size2, -z.Imaginary / size2);
    }
}
