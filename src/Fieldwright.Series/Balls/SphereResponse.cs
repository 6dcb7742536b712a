using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>
/// Quasi-static response of a layered ball to an alternating field, degree by degree: what a field of degree l, ψ = c rˡ C_lm, calls back as
/// ψ = T_l a^(2l+1) c r^(−l−1) C_lm, where H = ∇ψ outside and a is the radius of the ball.
/// </summary>
/// <remarks>
/// In each layer B = ∇×∇×(r f C_lm), f a sum of the modified spherical Bessel functions i_l(kr) and k_l(kr), k² = jωμσ. What is handed from layer
/// to layer is E = r f′/f − l, zero in empty space and free of cancellation for feeble conductors; only ratios of neighbouring orders appear, so
/// neither many skin depths nor high degrees overflow. T_l → l/(l+1) for a perfect conductor; Im T_l ≥ 0 is loss. Phasors exp(+jωt). Immutable.
/// </remarks>
/// <source key="Smythe1950" at="ch. X (degree 1); higher degrees and layers derived from the same boundary conditions"/>
public sealed class SphereResponse
{
    private readonly SphereBody body;
    private readonly Shell[] shells;

    /// <summary>Works out the response of a ball up to a degree.</summary>
    /// <param name="body">The ball.</param>
    /// <param name="frequency">Frequency, Hz; zero for a constant field, which only permeability answers.</param>
    /// <param name="degrees">Highest degree, 1 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The frequency is negative or not finite, or there is no degree.</exception>
    public SphereResponse(SphereBody body, double frequency, int degrees)
    {
        ArgumentNullException.ThrowIfNull(body);
        this.body = body;
        AngularFrequency = 2 * Math.PI * Guard.NotNegative(frequency);
        Degrees = Guard.Positive(degrees);
        shells = new Shell[body.Layers.Count];
        var inner = new Complex[degrees + 1]; // E of the layer below at their common radius
        var kept = body.Layers[0].RelativePermeability;
        double from = 0;
        var perfect = false;
        for (var j = 0; j < shells.Length; j++)
        {
            var layer = body.Layers[j];
            for (var l = 1; j > 0 && l <= degrees; l++)
                inner[l] = layer.RelativePermeability / kept * inner[l] + (l + 1) * (layer.RelativePermeability / kept - 1);
            shells[j] = new Shell(layer, from, AngularFrequency, degrees, inner, perfect);
            perfect = shells[j].IsPerfect;
            inner = shells[j].Excess;
            kept = layer.RelativePermeability;
            from = layer.OuterRadius;
        }
        var ratio = new Complex[degrees + 1];
        for (var l = 1; l <= degrees; l++)
        {
            // Outside μ_r = 1.
            var e = inner[l] / kept + (l + 1) * (1 / kept - 1);
            ratio[l] = perfect ? l / (l + 1.0) : l / (l + 1.0) * (e / (e + (2 * l + 1)));
        }
        Ratios = ratio;
    }

    /// <summary>Angular frequency, rad/s.</summary>
    public double AngularFrequency { get; }

    /// <summary>Highest degree.</summary>
    public int Degrees { get; }

    /// <summary>T_l by degree, a pure number; entry 0 is zero.</summary>
    public IReadOnlyList<Complex> Ratios { get; }

    /// <summary>Moment the ball takes on in an even field over that field, m³: m = α H, exp(+jωt), H peak in A/m gives m peak in A·m².</summary>
    public Complex Polarisability => -4 * Math.PI * Math.Pow(body.Radius, 3) * Ratios[1];

    /// <summary>Field at the centre over the even field applied far away; the whole cavity has it when the core is not conducting.</summary>
    public Complex CentreOverApplied
    {
        get
        {
            // Outside f(a) = μ₀H a/2·(1 − 2T₁); at the centre B = 2f/r.
            var small = 1e-4 * body.Layers[0].OuterRadius;
            Span<Complex> f = new Complex[2], slope = new Complex[2];
            RadialInto(small, f, slope);
            return (1 - 2 * Ratios[1]) * f[1] * body.Radius / small;
        }
    }

    /// <summary>Radial functions of every degree at one radius inside the ball, over their values at the surface.</summary>
    /// <param name="r">Radius, m; above zero and not beyond the surface.</param>
    /// <param name="f">Receives f_l(r)/f_l(a) for l below its length; entry 0 is left alone.</param>
    /// <param name="slope">Receives d(r f_l)/dr over f_l(a), as long as <paramref name="f"/>.</param>
    internal void RadialInto(double r, Span<Complex> f, Span<Complex> slope)
    {
        var j = 0;
        while (j < shells.Length - 1 && r > body.Layers[j].OuterRadius)
            j++;
        shells[j].RadialInto(r, f, slope);
        for (var above = j + 1; above < shells.Length; above++)
            for (var l = 1; l < f.Length; l++)
            {
                f[l] *= shells[above].InnerOverOuter[l];
                slope[l] *= shells[above].InnerOverOuter[l];
            }
    }

    /// <summary>Wave constant k of the layer at a radius, k² = jωμσ; zero where nothing conducts.</summary>
    internal SphereLayer LayerAt(double r)
    {
        var j = 0;
        while (j < shells.Length - 1 && r > body.Layers[j].OuterRadius)
            j++;
        return body.Layers[j];
    }

    /// <summary>One layer: f = U + gV between its radii, U growing and V falling, both 1 at the inner radius.</summary>
    private sealed class Shell
    {
        private readonly double b, c;
        private readonly Complex k;
        private readonly Complex[] g;
        private readonly Complex[] outer;

        public Shell(SphereLayer layer, double from, double omega, int degrees, Complex[] below, bool belowIsPerfect)
        {
            (b, c) = (from, layer.OuterRadius);
            IsPerfect = double.IsPositiveInfinity(layer.Conductivity);
            Excess = new Complex[degrees + 1];
            InnerOverOuter = new Complex[degrees + 1];
            g = new Complex[degrees + 1];
            outer = new Complex[degrees + 1];
            if (IsPerfect)
                return;
            k = Complex.Sqrt(new Complex(0, omega * PhysicalConstants.MagneticConstant * layer.RelativePermeability * layer.Conductivity));
            var core = b == 0;
            Basis atC = new(k, c, degrees);
            if (core)
            {
                for (var l = 1; l <= degrees; l++)
                {
                    outer[l] = 1;
                    Excess[l] = atC.Growing[l];
                }
                return;
            }
            Basis atB = new(k, b, degrees);
            Span<Complex> u = new Complex[degrees + 1], v = new Complex[degrees + 1];
            Basis.RatiosInto(atC, atB, u, v);
            for (var l = 1; l <= degrees; l++)
            {
                // (p − W)/(W − q) with W = below + l + 1, p = Growing + l + 1, q = −Falling − l.
                g[l] = belowIsPerfect ? -1 : (atB.Growing[l] - below[l]) / (below[l] + (2 * l + 1) + atB.Falling[l]);
                var t = g[l] * v[l]; // v is V(c)/U(c)
                outer[l] = 1 + t;
                Excess[l] = (atC.Growing[l] - (2 * l + 1 + atC.Falling[l]) * t) / (1 + t);
                InnerOverOuter[l] = (1 + g[l]) * u[l] / (1 + t); // u is U(b)/U(c)
            }
        }

        public bool IsPerfect { get; }

        /// <summary>r f′/f − l at the outer radius.</summary>
        public Complex[] Excess { get; }

        /// <summary>f at the inner radius over f at the outer one.</summary>
        public Complex[] InnerOverOuter { get; }

        public void RadialInto(double r, Span<Complex> f, Span<Complex> slope)
        {
            var count = f.Length - 1;
            if (IsPerfect)
            {
                f[1..].Clear();
                slope[1..].Clear();
                return;
            }
            Basis at = new(k, r, count), atC = new(k, c, count);
            Span<Complex> u = new Complex[count + 1], v = new Complex[count + 1];
            Basis.RatiosInto(atC, at, u, v); // U(r)/U(c), and V(c)U(r)/(V(r)U(c))
            Span<Complex> atInner = [], spread = [];
            if (b > 0)
            {
                atInner = new Complex[count + 1];
                spread = new Complex[count + 1];
                Basis.RatiosInto(at, new Basis(k, b, count), atInner, spread); // spread is V(r)/U(r) with both 1 at b
            }
            for (var l = 1; l <= count; l++)
            {
                var t = b > 0 ? g[l] * spread[l] : 0;
                var scale = u[l] / outer[l];
                f[l] = scale * (1 + t);
                slope[l] = scale * (l + 1 + at.Growing[l] - (l + at.Falling[l]) * t);
            }
        }
    }

    /// <summary>Logarithmic slopes of the growing and the falling solution at one radius: r u′/u = l + Growing, r v′/v = −(l+1) − Falling.</summary>
    private readonly struct Basis
    {
        private readonly Complex z;
        private readonly double r;
        private readonly Complex[] i, k;

        public Basis(Complex waveConstant, double radius, int degrees)
        {
            r = radius;
            z = waveConstant * radius;
            Growing = new Complex[degrees + 1];
            Falling = new Complex[degrees + 1];
            i = k = [];
            if (z == Complex.Zero)
                return;
            i = new Complex[degrees + 1];
            k = new Complex[degrees + 1];
            i[degrees] = SpecialFunctions.SphericalIRatio(degrees, z);
            for (var n = degrees; n > 0; n--)
                i[n - 1] = 1 / (i[n] + (2 * n + 1) / z);
            k[0] = 1 + 1 / z;
            for (var n = 1; n <= degrees; n++)
                k[n] = 1 / k[n - 1] + (2 * n + 1) / z;
            for (var l = 1; l <= degrees; l++)
            {
                Growing[l] = z * i[l];
                Falling[l] = z / k[l - 1];
            }
        }

        public Complex[] Growing { get; }

        public Complex[] Falling { get; }

        /// <summary>u = U(inner)/U(outer) and spread = V(outer)U(inner)/(V(inner)U(outer)), by degree.</summary>
        public static void RatiosInto(Basis outer, Basis inner, Span<Complex> u, Span<Complex> spread)
        {
            if (outer.z == Complex.Zero)
            {
                var x = inner.r / outer.r;
                for (var l = 1; l < u.Length; l++)
                {
                    u[l] = Math.Pow(x, l);
                    spread[l] = Math.Pow(x, 2 * l + 1);
                }
                return;
            }
            var fall = inner.r / outer.r * Complex.Exp(inner.z - outer.z);
            var grow = SinhRatio(inner.z, outer.z) * (outer.r / inner.r);
            for (var l = 1; l < u.Length; l++)
            {
                grow *= inner.i[l - 1] / outer.i[l - 1];
                fall *= outer.k[l - 1] / inner.k[l - 1];
                u[l] = grow;
                spread[l] = fall * grow;
            }
        }

        private static Complex SinhRatio(Complex x, Complex y) => y.Real < 20
            ? Complex.Sinh(x) / Complex.Sinh(y)
            : Complex.Exp(x - y) * (x.Real < 1 ? 2 * Complex.Sinh(x) * Complex.Exp(-x) : 1 - Complex.Exp(-2 * x));
    }
}
