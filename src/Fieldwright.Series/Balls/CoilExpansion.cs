using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Balls;

/// <summary>
/// The field of one round coil near a point outside its winding, per ampere: H = ∇ψ, ψ = Σ ĉ_lm (r/a)^l C_lm about that point.
/// </summary>
/// <remarks>
/// Three ways. The quickest expands about a point Q of the coil's own axis, where the coefficients are the Taylor coefficients of the axial field
/// (Legendre polynomials of the ends, Gauss across the build only), and shifts to the point by the addition theorem; it converges as
/// (|PQ|/s)ⁿ, s the distance from Q to the winding. Where no Q serves, the field's series along the line through the point is taken
/// (<see cref="CoilLine"/>); a ball that is larger than its way from the axis and all but touches takes neither, and the radial field on its sphere is projected. A coil that leans is expanded in its own frame and turned (<see cref="Rotation"/>). Tests hold each against the field projected on a sphere.
/// </remarks>
/// <source key="EptonDembart1995" at="the addition theorem of regular solid harmonics"/>
internal static class CoilExpansion
{
    private const int MostAxisTerms = 165, FewAxisTerms = 40; // with the first n! stays finite
    private static readonly double[] RootFactorials = MakeRootFactorials();

    /// <summary>Coefficients of the field about a point, all orders of both signs.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="centre">The point, m.</param>
    /// <param name="a">Length of reference, m (radius of the ball), less than the distance to the winding.</param>
    /// <param name="degrees">Highest degree wanted.</param>
    /// <param name="tolerance">Relative error allowed in the force on a ball of radius a.</param>
    /// <param name="c">Receives ĉ_lm in A/A, (degrees+1)² entries at l²+l+m; degree 0 is zero.</param>
    public static void Into(ThickCoil coil, Vector centre, double a, int degrees, double tolerance, Span<Complex> c)
    {
        var (rho, z, cos, sin) = InPlane(coil, centre);
        var isUpright = Math.Abs(coil.Axis.Z) > 1 - 1e-15;
        var isTurnedOver = isUpright && coil.Axis.Z < 0;
        var section = isTurnedOver ? new Section(coil.InnerRadius, coil.OuterRadius, -coil.ZTo, -coil.ZFrom) : coil.Section;
        var turns = isTurnedOver ? -coil.Turns : coil.Turns;
        if (isTurnedOver)
            z = -z;
        Span<double> plane = stackalloc double[Index(degrees, degrees) + 1];
        // Away from the axis the line is the quicker of the two unless few terms serve.
        if (!TryFromAxis(section, turns, rho, z, a, degrees, tolerance, plane, rho < a ? MostAxisTerms : FewAxisTerms))
        {
            if (a > 1.3 * rho)
            {
                // Some degrees more, for the last ones suffer aliasing.
                var more = new Complex[SolidHarmonics.Count(degrees + 16)];
                FromSphere(point => coil.FieldPerAmpere(point).FluxDensity, centre, a, degrees + 16, more);
                more.AsSpan(0, SolidHarmonics.Count(degrees)).CopyTo(c);
                return;
            }
            CoilLine.Into(section, turns, rho, z, a, degrees, tolerance, plane);
        }
        if (isUpright)
        {
            Turn(plane, degrees, new Complex(cos, -sin), c);
            return;
        }
        Span<Complex> leaning = new Complex[c.Length];
        Turn(plane, degrees, new Complex(cos, -sin), leaning);
        Rotation.Into(leaning, degrees, coil.Axis, c);
    }

    // Orders m ≥ 0 only: l(l+1)/2 + m.
    internal static int Index(int l, int m) => l * (l + 1) / 2 + m;

    // Distance from the coil's axis, height along it, and the longitude about it: from x for an upright coil, else from the plane of the axis and z.
    private static (double Rho, double Z, double Cos, double Sin) InPlane(ThickCoil coil, Vector point)
    {
        var rel = point - coil.Position;
        var axis = coil.Axis;
        var z = Vector.Dot(rel, axis);
        var across = rel - z * axis;
        var rho = across.Length;
        if (rho == 0)
            return (0, z, 1, 0);
        var lean = double.Hypot(axis.X, axis.Y);
        if (Math.Abs(axis.Z) > 1 - 1e-15)
            return (rho, z, across.X / rho, across.Y / rho);
        double cosAlpha = axis.X / lean, sinAlpha = axis.Y / lean;
        return (rho, z, (axis.Z * (cosAlpha * across.X + sinAlpha * across.Y) - lean * across.Z) / rho, (cosAlpha * across.Y - sinAlpha * across.X) / rho);
    }

    internal static double Distance(in Section s, double rho, double z)
    {
        var dr = Math.Max(0, Math.Max(s.InnerRadius - rho, rho - s.OuterRadius));
        var dz = Math.Max(0, Math.Max(s.ZFrom - z, z - s.ZTo));
        return Math.Sqrt(dr * dr + dz * dz);
    }

    // From the frame whose x axis points away from the coil's axis to the axes of space: c_lm e^(−jmφ).
    private static void Turn(ReadOnlySpan<double> plane, int degrees, Complex conjugatePhase, Span<Complex> c)
    {
        Complex turn = 1;
        for (var m = 0; m <= degrees; m++)
        {
            for (var l = m; l <= degrees; l++)
            {
                var value = plane[Index(l, m)] * turn;
                c[SolidHarmonics.Index(l, m)] = value;
                if (m > 0)
                    c[SolidHarmonics.Index(l, -m)] = (m % 2 == 0 ? 1 : -1) * Complex.Conjugate(value);
            }
            turn *= conjugatePhase;
        }
    }

    /// <summary>By the axis: false when no point of the axis gives convergence within the terms allowed.</summary>
    internal static bool TryFromAxis(in Section section, double turns, double rho, double z, double a, int degrees, double tolerance, Span<double> plane, int allowed = MostAxisTerms)
    {
        // Q = (0, q): the least |PQ|/s over a few places of the axis.
        double best = double.MaxValue, q = z, s = 0;
        ReadOnlySpan<double> steps = [0, -0.5, 0.5, -1, 1, -2, 2, -4, 4];
        foreach (var step in steps)
        {
            var at = z + step * rho;
            var clear = Distance(section, 0, at);
            var away = Math.Sqrt(rho * rho + (z - at) * (z - at));
            if (clear > 0 && away < best * clear)
                (best, q, s) = (away / clear, at, clear);
        }
        if (!(best < 0.85))
            return false;
        var terms = Terms(best, s, a, Distance(section, rho, z), degrees, tolerance);
        if (terms > allowed)
            return false;

        // Unit of length that keeps aₙ = Aₙ unitⁿ n! near one.
        var unit = s * Math.E / terms;
        Span<double> axial = stackalloc double[terms + 1];
        AxisCoefficients(section, turns, q, unit, axial);
        // The shift: c_lm = (−1)^m Σ_k a_(k+l) R_km(t), R_km = r^k P_k^m/(k+m)! for t from Q to P, then to r/a and the C_lm.
        double x = rho / unit, height = (z - q) / unit, r2 = x * x + height * height, diagonal = 1;
        Span<double> shift = stackalloc double[terms + 1];
        Span<double> powers = stackalloc double[degrees + 1];
        powers[0] = 1;
        for (var l = 1; l <= degrees; l++)
            powers[l] = powers[l - 1] * (a / unit);
        for (var m = 0; m <= degrees; m++)
        {
            if (m > 0)
                diagonal *= -x / (2 * m);
            var most = terms - Math.Max(m, 1);
            if (diagonal == 0 || m > most)
            {
                for (var l = m; l <= degrees; l++)
                    plane[Index(l, m)] = 0;
                continue;
            }
            // (k²−m²) R_k = (2k−1) h R_(k−1) − r² R_(k−2)
            shift[m] = diagonal;
            double before = 0, value = diagonal;
            for (var k = m + 1; k <= most; k++)
            {
                var next = ((2 * k - 1) * height * value - r2 * before) / ((double)(k - m) * (k + m));
                (before, value) = (value, next);
                shift[k] = value;
            }
            for (var l = Math.Max(m, 1); l <= degrees; l++)
            {
                var count = terms - l - m + 1;
                var sum = count > 0 ? Dot(axial.Slice(l + m, count), shift.Slice(m, count)) : 0;
                plane[Index(l, m)] = (m % 2 == 0 ? sum : -sum) * powers[l] / (RootFactorials[l - m] * RootFactorials[l + m]);
            }
        }
        plane[0] = 0;
        return true;
    }

    // Terms after which C(n, l) q^(n−l) (1−q)^(l+1) is below what degree l may err by.
    private static int Terms(double q, double s, double a, double d, int degrees, double tolerance)
    {
        var most = degrees + 2;
        if (q == 0)
            return most;
        double logQ = Math.Log(q), weight = Math.Log(Math.Min(a / d, 0.999)), scale = Math.Log(d / s);
        ReadOnlySpan<int> looked = [1, degrees / 4, degrees / 2, degrees];
        foreach (var l in looked)
        {
            if (l < 1)
                continue;
            // The true coefficient falls as d^(−l); its part in the force as (a/d)^(2l).
            var wanted = Math.Min(-3, Math.Log(tolerance) - 2 * l * weight) - l * scale;
            var n = Math.Max(l, (int)(l / (1 - q)));
            while (n <= MostAxisTerms && LogBinomial(n, l) + (n - l) * logQ > wanted)
                n += 2;
            most = Math.Max(most, n);
        }
        return most;
    }

    /// <summary>Gauss nodes for coefficients up to a degree, on an interval whose nearest singularity lies on the ellipse of this sum of half-axes.</summary>
    /// <param name="ellipse">Sum of the half-axes, above one.</param>
    /// <param name="reach">Length of reference over the distance to the winding.</param>
    /// <param name="degrees">Highest degree.</param>
    /// <param name="tolerance">Relative error allowed.</param>
    internal static int NodesFor(double ellipse, double reach, int degrees, double tolerance)
    {
        // A pole of order l leaves C(2n+l, l) ((R−1)/(R+1))^l R^(−2n) of its coefficient, whose part in the field is reach^l.
        double rate = 2 * Math.Log(ellipse), order = Math.Log((ellipse - 1) / (ellipse + 1)), share = Math.Log(reach), wanted = Math.Log(tolerance);
        var n = 3;
        ReadOnlySpan<int> looked = [2, 2 + degrees / 2, 2 + degrees];
        foreach (var l in looked)
            while (n < 60 && LogBinomial(2 * n + l, l) + l * (order + share) - n * rate > wanted)
                n++;
        return n + 1;
    }

    private static double LogBinomial(int n, int l) => 2 * (Math.Log(RootFactorials[n]) - Math.Log(RootFactorials[l]) - Math.Log(RootFactorials[n - l]));

    /// <summary>aₙ = Aₙ unitⁿ n! for ψ = Σ Aₙ zⁿ on the axis above Q, per ampere; a₀ is left at zero.</summary>
    private static void AxisCoefficients(in Section section, double turns, double q, double unit, Span<double> axial)
    {
        var terms = axial.Length - 1;
        double upper = q - section.ZFrom, lower = q - section.ZTo;
        var clear = Distance(section, 0, q);
        var far = Math.Sqrt(section.OuterRadius * section.OuterRadius + Math.Max(upper * upper, lower * lower));
        // Radial nodes: those for the nearest singularity, and enough for the n-th power over the section.
        var nodes = Math.Min(48, Math.Max(GaussRule.NodesFor(clear / section.Build), 6 + (int)(0.35 * terms * Math.Log(Math.Min(far / clear, 1 + section.Build / clear)))));
        var radial = GaussRule.WithNodes(nodes);
        // Short sections: filaments along the height, since the difference of the ends would cancel.
        var isShort = section.Height < 0.02 * clear;
        var axialRule = GaussRule.WithNodes(isShort ? 4 : 1);
        axial.Clear();
        Span<double> sum = stackalloc double[terms + 2];
        sum.Clear();
        for (var i = 0; i < nodes; i++)
        {
            var radius = section.InnerRadius + section.Build * radial.Nodes[i];
            if (isShort)
            {
                for (var j = 0; j < axialRule.Nodes.Length; j++)
                    AddEnd(sum, radial.Weights[i] * axialRule.Weights[j], radius, q - section.ZFrom - section.Height * axialRule.Nodes[j], unit);
            }
            else
            {
                AddEnd(sum, radial.Weights[i], radius, upper, unit);
                AddEnd(sum, -radial.Weights[i], radius, lower, unit);
            }
        }
        // B_z = μ₀/2·turns × (difference of the ends over the height, or slope of one end); ψ from B_z/μ₀ by integration.
        var factor = 1.0;
        for (var n = 1; n <= terms; n++)
        {
            factor *= n;
            axial[n] = isShort ? turns / 2 * sum[n] * factor : turns / (2 * section.Height) * unit * sum[n - 1] / n * factor;
        }
    }

    // Adds weight × Taylor coefficients eₙ unitⁿ of u/√(R²+u²) about u: e_n = u p_n + p_(n−1), p_n = (−1)ⁿ P_n(u/s)/s^(n+1).
    private static void AddEnd(Span<double> sum, double weight, double radius, double u, double unit)
    {
        var s = Math.Sqrt(radius * radius + u * u);
        double t = unit / s, cosine = u / s;
        double before = 0, value = weight / s; // p_n unitⁿ
        sum[0] += u * value;
        for (var n = 1; n < sum.Length; n++)
        {
            var next = -(2 * n - 1.0) / n * cosine * t * value - (n - 1.0) / n * t * t * before;
            sum[n] += u * next + unit * value;
            (before, value) = (value, next);
        }
    }

    internal static double Dot(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        var width = Vector<double>.Count;
        var sum = Vector<double>.Zero;
        var i = 0;
        for (; i <= x.Length - width; i += width)
            sum += new Vector<double>(x[i..]) * new Vector<double>(y[i..]);
        var rest = System.Numerics.Vector.Sum(sum);
        for (; i < x.Length; i++)
            rest += x[i] * y[i];
        return rest;
    }

    /// <summary>By the sphere, for any field that has no sources within it.</summary>
    internal static void FromSphere(Func<Vector, Vector> fluxDensity, Vector centre, double a, int degrees, Span<Complex> c)
    {
        var rule = Quadrature.GaussLegendre(degrees + 3);
        var longitudes = 2 * degrees + 5;
        c.Clear();
        Span<Complex> sums = stackalloc Complex[degrees + 1];
        Span<double> legendre = stackalloc double[Index(degrees, degrees) + 1];
        for (var i = 0; i < rule.Count; i++)
        {
            var u = rule.Nodes[i];
            var across = Math.Sqrt((1 - u) * (1 + u));
            sums.Clear();
            for (var k = 0; k < longitudes; k++)
            {
                var (sinPhi, cosPhi) = Math.SinCos(2 * Math.PI * k / longitudes);
                var outward = new Vector(across * cosPhi, across * sinPhi, u);
                var radial = Vector.Dot(fluxDensity(centre + a * outward), outward) / PhysicalConstants.MagneticConstant;
                var turn = new Complex(cosPhi, -sinPhi);
                Complex phase = radial;
                for (var m = 0; m <= degrees; m++)
                {
                    sums[m] += phase;
                    phase *= turn;
                }
            }
            HarmonicsOfLatitude(u, across, degrees, legendre);
            for (var l = 1; l <= degrees; l++)
                for (var m = 0; m <= l; m++)
                    c[SolidHarmonics.Index(l, m)] += rule.Weights[i] * legendre[Index(l, m)] * sums[m];
        }
        for (var l = 1; l <= degrees; l++)
            for (var m = 0; m <= l; m++)
            {
                var value = c[SolidHarmonics.Index(l, m)] * (a * (2 * l + 1) / (2.0 * l * longitudes));
                c[SolidHarmonics.Index(l, m)] = value;
                c[SolidHarmonics.Index(l, -m)] = (m % 2 == 0 ? 1 : -1) * Complex.Conjugate(value);
            }
    }

    // C_lm at longitude zero.
    private static void HarmonicsOfLatitude(double u, double across, int degrees, Span<double> values)
    {
        double diagonal = 1;
        for (var m = 0; m <= degrees; m++)
        {
            if (m > 0)
                diagonal *= -SolidHarmonics.Root(2 * m - 1) / SolidHarmonics.Root(2 * m) * across;
            double before = 0, value = diagonal;
            values[Index(m, m)] = value;
            for (var l = m + 1; l <= degrees; l++)
            {
                var root = SolidHarmonics.Root(l - m) * SolidHarmonics.Root(l + m);
                var next = ((2 * l - 1) * u * value - SolidHarmonics.Root(l - 1 - m) * SolidHarmonics.Root(l - 1 + m) * before) / root;
                (before, value) = (value, next);
                values[Index(l, m)] = value;
            }
        }
    }

    /// <summary>√(n!).</summary>
    internal static double RootFactorial(int n) => RootFactorials[n];

    private static double[] MakeRootFactorials()
    {
        var roots = new double[2 * SolidHarmonics.HighestDegree + 1];
        roots[0] = 1;
        for (var i = 1; i < roots.Length; i++)
            roots[i] = roots[i - 1] * Math.Sqrt(i);
        return roots;
    }
}
