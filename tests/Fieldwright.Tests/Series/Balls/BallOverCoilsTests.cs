using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Xunit;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Balls;

public class BallOverCoilsTests
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;
    private static readonly ThickCoil Inner = new(0.010, 0.022, -0.040, -0.002, 400);
    private static readonly ThickCoil Outer = new(0.030, 0.042, -0.040, -0.002, 300);
    private static readonly CoilSource[] Pair = [new(Inner, 8), new(Outer, new Complex(0, 6))];
    private static readonly SphereBody Shell = SphereBody.Hollow(0.015, 0.001, 35e6);

    public static TheoryData<double, double, double> Places => new()
    {
        { 0, 0, 0.020 }, { 0.004, 0, 0.018 }, { 0.010, -0.007, 0.022 }, { 0.030, 0.030, 0.020 }, { 0.08, 0, -0.01 }, { 0, 0, -0.060 },
    };

    [Theory]
    [MemberData(nameof(Places))]
    public void Expansion_AnywhereNearTheBall_GivesTheFieldOfTheCoil(double x, double y, double z)
    {
        // Sum of the solid harmonics against the coil's own field (elliptic integrals).
        var centre = new Vector(x, y, z);
        foreach (var coil in new[] { Inner, Outer, new ThickCoil(0.010, 0.022, -0.02, 0.02, -400, new Vector(0.002, -0.001, -0.035), new Vector(0, 0, -1)), new ThickCoil(0.012, 0.02, -0.01, 0.01, 200, new Vector(0.01, -0.06, -0.03), new Vector(1, 2, 2)) })
        {
            const int degrees = 24;
            var a = 0.4 * coil.Distance(centre);
            var c = new Complex[SolidHarmonics.Count(degrees)];
            CoilExpansion.Into(coil, centre, a, degrees, 1e-11, c);
            foreach (var direction in new[] { new Vector(1, 0, 0), new Vector(0, -1, 0), new Vector(0.3, 0.5, -0.7), new Vector(0, 0, 1) })
            {
                var h = SolidHarmonics.RegularSlope(c, degrees, direction.Unit());
                var exact = coil.FieldPerAmpere(centre + a * direction.Unit()).FluxDensity;
                var off = Mu0 / a * h.Real - exact;
                // 0.4^24 = 3e-10 is left out; the coil's field is good to 1e-9.
                Assert.True(off.Length < 1e-8 * exact.Length, FormattableString.Invariant($"{off.Length / exact.Length}"));
                Assert.True(h.Imaginary.Length < 1e-9 * h.Real.Length);
            }
        }
    }

    [Theory]
    [InlineData(0, 0.045)]
    [InlineData(0.006, 0.040)]
    [InlineData(0.012, 0.055)]
    public void Expansion_ByTheAxisAndByTheSphere_Agree(double rho, double z)
    {
        const int degrees = 16;
        const double a = 0.02;
        var axis = new double[200];
        Assert.True(CoilExpansion.TryFromAxis(Outer.Section, Outer.Turns, rho, z, a, degrees, 1e-12, axis));
        AssertAsProjected(Outer, rho, z, a, degrees, axis, 2e-9);
    }

    // Over the outer rim, beside the winding, in its bore, far away, just off the face of a wide winding, flat windings.
    [Theory]
    [InlineData(0.030, 0.042, -0.040, -0.002, 0.046, 0.016, 0.012)]
    [InlineData(0.030, 0.042, -0.040, -0.002, 0.070, -0.010, 0.015)]
    [InlineData(0.030, 0.042, -0.040, -0.002, 0.018, -0.020, 0.009)]
    [InlineData(0.030, 0.042, -0.040, -0.002, 0.400, 0.300, 0.015)]
    [InlineData(0.010, 0.080, -0.040, -0.002, 0.060, 0.012, 0.011)]
    [InlineData(0.010, 0.080, -0.040, -0.002, 0.016, 0.012, 0.013)]
    [InlineData(0.030, 0.042, -0.0024, -0.002, 0.046, 0.016, 0.012)]
    [InlineData(0.0418, 0.042, -0.0400, -0.002, 0.046, 0.016, 0.012)]
    [InlineData(0.000, 0.042, -0.040, -0.002, 0.035, -0.055, 0.012)]
    public void Expansion_ByTheLineAndByTheSphere_Agree(double inner, double outer, double from, double to, double rho, double z, double a)
    {
        const int degrees = 20;
        var coil = new ThickCoil(inner, outer, from, to, 300);
        var line = new double[(degrees + 1) * (degrees + 2) / 2];
        CoilLine.Into(coil.Section, coil.Turns, rho, z, a, degrees, 1e-10, line);
        AssertAsProjected(coil, rho, z, a, degrees, line, 2e-9);
    }

    [Fact]
    public void Expansion_OfABallLargerThanItsCoilAndAllButTouching_GivesTheFieldOfTheCoil()
    {
        // Neither axis nor line serves at so many degrees.
        const int degrees = 60;
        var coil = new ThickCoil(0, 7e-4, -3e-4, 0, 100);
        var centre = new Vector(0.06, 0, 0.15);
        var a = 0.83 * coil.Distance(centre);
        var c = new Complex[SolidHarmonics.Count(degrees)];
        CoilExpansion.Into(coil, centre, a, degrees, 1e-8, c);
        var inwards = new Vector(-0.3, 0.1, -0.9).Unit();
        var h = SolidHarmonics.RegularSlope(c, degrees, 0.8 * inwards);
        var exact = coil.FieldPerAmpere(centre + 0.8 * a * inwards).FluxDensity;
        // (0.8 × 0.83)^60 = 2e-11 is left out; the coil's field is good to 1e-9.
        Assert.True((Mu0 / a * h.Real - exact).Length < 1e-8 * exact.Length);
    }

    [Fact]
    public void Expansion_FarAway_BeginsWithTheDipole()
    {
        // Moment turns·π⟨ρ²⟩, beside it H = −m/(4πr³) along the axis; what is left out falls as (R/r)².
        var coil = new ThickCoil(0.03, 0.042, -0.02, 0.02, 300);
        var plane = new double[6];
        CoilLine.Into(coil.Section, coil.Turns, 40, 0, 1, 2, 1e-10, plane);
        double moment = 300 * Math.PI * (Math.Pow(0.042, 3) - Math.Pow(0.03, 3)) / (3 * 0.012);
        Assert.Equal(-moment / (4 * Math.PI * 64000), plane[1], 1e-5 * Math.Abs(plane[1]));
    }

    // The radial field of the coil (elliptic integrals) projected on 48 degrees; beyond a third of those, aliasing.
    private static void AssertAsProjected(ThickCoil coil, double rho, double z, double a, int degrees, double[] plane, double tolerance)
    {
        const int many = 48;
        var sphere = new Complex[SolidHarmonics.Count(many)];
        CoilExpansion.FromSphere(p => coil.FieldPerAmpere(p).FluxDensity, new Vector(rho, 0, z), a, many, sphere);
        var scale = sphere.Max(Complex.Abs);
        for (var l = 1; l <= degrees; l++)
            for (var m = 0; m <= l; m++)
                Assert.True(Complex.Abs(sphere[SolidHarmonics.Index(l, m)] - plane[l * (l + 1) / 2 + m]) < tolerance * scale,
                    FormattableString.Invariant($"l {l} m {m}: {plane[l * (l + 1) / 2 + m]} where the sphere has {sphere[SolidHarmonics.Index(l, m)].Real}, of {scale}"));
    }

    [Fact]
    public void Force_OnSmallBall_IsThatOnAnInducedDipole()
    {
        // (μ₀/4) Re(α) grad|H|² + the part from the phase; a ball of 0.2 mm sees an even slope to (a/d)² = 2e-5.
        var ball = new BallOverCoils(SphereBody.Solid(2e-4, 58e6, 1), Pair, 200000);
        var at = new Vector(0.006, 0.003, 0.03);
        var alpha = new SphereResponse(ball.Body, 200000, 1).Polarisability;
        const double h = 1e-4;
        Vector[] axes = [new(h, 0, 0), new(0, h, 0), new(0, 0, h)];
        var field = Field(at);
        var expected = axes.Select(step =>
        {
            var slope = Difference(Field(at + step), Field(at - step), 1 / (2 * h));
            return 0.5 * ((alpha * field.X / Mu0) * Complex.Conjugate(slope.X) + (alpha * field.Y / Mu0) * Complex.Conjugate(slope.Y) + (alpha * field.Z / Mu0) * Complex.Conjugate(slope.Z)).Real;
        }).ToArray();
        var force = ball.Evaluate(at).Force;
        var scale = force.Length;
        Assert.Equal(expected[0], force.X, 2e-4 * scale);
        Assert.Equal(expected[1], force.Y, 2e-4 * scale);
        Assert.Equal(expected[2], force.Z, 2e-4 * scale);
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void PerfectConductor_Force_IsTheSlopeOfTheInductances(double x, double y, double z)
    {
        // No loss: mean F = ¼ Re Σ I_i conj(I_j) ∂L_ij, ΔL = ΔZ/jω by reciprocity; central differences of order four.
        var ball = new BallOverCoils(SphereBody.PerfectConductor(0.012), Pair, 50);
        var at = new Vector(x, y, z);
        const double h = 2e-4;
        double Energy(Vector p)
        {
            var dz = ball.ReflectedImpedance(p, 1e-11);
            double sum = 0;
            for (var i = 0; i < 2; i++)
                for (var j = 0; j < 2; j++)
                    sum += 0.25 * (Pair[i].PeakCurrent * Complex.Conjugate(Pair[j].PeakCurrent) * (dz[i, j] / (Complex.ImaginaryOne * 2 * Math.PI * 50)).Real).Real;
            return sum;
        }
        double Slope(Vector e) => (8 * (Energy(at + h * e) - Energy(at - h * e)) - Energy(at + 2 * h * e) + Energy(at - 2 * h * e)) / (12 * h);
        var expected = new Vector(Slope(new(1, 0, 0)), Slope(new(0, 1, 0)), Slope(new(0, 0, 1)));
        var force = ball.Evaluate(at, 1e-9).Force;
        Assert.True((expected - force).Length < 1e-6 * force.Length, FormattableString.Invariant($"{expected} {force}"));
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void Loss_ThreeWays_Agree(double x, double y, double z)
    {
        var at = new Vector(x, y, z);
        foreach (var body in new[] { Shell, SphereBody.Solid(0.012, 35e6), new SphereBody(new SphereLayer(0.008, 5e6, 50), new SphereLayer(0.013, 58e6)) })
        {
            var ball = new BallOverCoils(body, Pair, 400);
            var answer = ball.Evaluate(at, 1e-9);
            var volume = ball.LossByLayer(at, 1e-9).Sum();
            var dz = ball.ReflectedImpedance(at, 1e-9);
            double coils = 0;
            for (var i = 0; i < 2; i++)
                for (var j = 0; j < 2; j++)
                    coils += 0.5 * (Complex.Conjugate(Pair[i].PeakCurrent) * dz[i, j] * Pair[j].PeakCurrent).Real;
            Assert.Equal(answer.Loss, volume, 1e-8 * answer.Loss);
            Assert.Equal(answer.Loss, coils, 1e-8 * answer.Loss);
        }
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void Stiffness_Anywhere_IsTheSlopeOfTheForce(double x, double y, double z)
    {
        var ball = new BallOverCoils(SphereBody.Hollow(0.012, 0.001, 35e6), Pair, 200);
        var at = new Vector(x, y, z);
        const double h = 1e-4;
        var k = ball.Stiffness(at, 1e-11);
        var scale = Enumerable.Range(0, 9).Max(i => Math.Abs(k[i / 3, i % 3]));
        Vector[] axes = [new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)];
        for (var j = 0; j < 3; j++)
        {
            Vector F(double s) => ball.Evaluate(at + s * axes[j], 1e-10).Force;
            var slope = 1 / (12 * h) * (8 * (F(h) - F(-h)) - (F(2 * h) - F(-2 * h)));
            Assert.Equal(-slope.X, k[0, j], 1e-5 * scale);
            Assert.Equal(-slope.Y, k[1, j], 1e-5 * scale);
            Assert.Equal(-slope.Z, k[2, j], 1e-5 * scale);
        }
    }

    [Theory]
    [MemberData(nameof(Places))]
    public void ForceAndTorque_FromStressOnASphere_Agree(double x, double y, double z)
    {
        // Maxwell stress of the drawn field on a sphere just outside: quadrature of fields, no coefficients.
        var ball = new BallOverCoils(SphereBody.Hollow(0.012, 0.001, 35e6), Pair, 200);
        var at = new Vector(x, y, z);
        var answer = ball.Evaluate(at, 1e-9);
        var field = ball.Field(at, 1e-9);
        const double radius = 0.0122;
        var rule = Fieldwright.Numerics.Quadrature.GaussLegendre(40);
        Vector force = default, torque = default;
        for (var i = 0; i < rule.Count; i++)
            for (var k = 0; k < 80; k++)
            {
                var across = Math.Sqrt(1 - rule.Nodes[i] * rule.Nodes[i]);
                var n = new Vector(across * Math.Cos(2 * Math.PI * k / 80), across * Math.Sin(2 * Math.PI * k / 80), rule.Nodes[i]);
                var b = field.FluxDensity(at + radius * n);
                var bn = b.X * n.X + b.Y * n.Y + b.Z * n.Z;
                var size = b.X.Magnitude * b.X.Magnitude + b.Y.Magnitude * b.Y.Magnitude + b.Z.Magnitude * b.Z.Magnitude;
                var conjugate = Complex.Conjugate(bn);
                var t = 0.5 / Mu0 * (new Vector((b.X * conjugate).Real, (b.Y * conjugate).Real, (b.Z * conjugate).Real) - 0.5 * size * n);
                var area = radius * radius * rule.Weights[i] * 2 * Math.PI / 80;
                force += area * t;
                torque += area * radius * Vector.Cross(n, t);
            }
        Assert.True((force - answer.Force).Length < 1e-6 * answer.Force.Length, FormattableString.Invariant($"{force} {answer.Force}"));
        Assert.True((torque - answer.Torque).Length < 1e-6 * (answer.Torque.Length + radius * answer.Force.Length), FormattableString.Invariant($"{torque} {answer.Torque}"));
    }

    [Fact]
    public void Torque_InARotatingField_IsLossOverAngularFrequency()
    {
        // Two crossed pairs of coils in quadrature turn the field about z: a ball at their centre takes T = P/ω.
        ThickCoil Along(Vector axis) => new(0.05, 0.06, -0.1, 0.1, 100, axis: axis);
        var ball = new BallOverCoils(SphereBody.Solid(0.01, 35e6), [new(Along(new(1, 0, 0)), 10), new(Along(new(0, 1, 0)), new Complex(0, -10))], 50);
        var answer = ball.Evaluate(default, 1e-9);
        Assert.True(answer.Torque.Z > 0); // H_y lags H_x: counter-clockwise
        Assert.Equal(answer.Loss / (2 * Math.PI * 50), answer.Torque.Z, 1e-6 * answer.Torque.Z);
        Assert.True(answer.Force.Length < 1e-9);
    }

    [Theory]
    [InlineData(0.3, 0.4, -0.5)]
    [InlineData(0, 0, 1)]
    [InlineData(-1, 0.1, 0)]
    public void Field_ThroughTheSurface_KeepsNormalBAndTangentialH(double x, double y, double z)
    {
        var body = new SphereBody(new SphereLayer(0.008, 5e6, 50), new SphereLayer(0.012, 58e6, 3));
        var at = new Vector(0.004, 0, 0.018);
        var field = new BallOverCoils(body, Pair, 400).Field(at, 1e-10);
        var n = new Vector(x, y, z).Unit();
        foreach (var (radius, inside, outside) in new[] { (0.012, 3.0, 1.0), (0.008, 50.0, 3.0) })
        {
            var bi = field.FluxDensity(at + radius * (1 - 1e-9) * n);
            var bo = field.FluxDensity(at + radius * (1 + 1e-9) * n);
            Complex Normal(ComplexVector b) => b.X * n.X + b.Y * n.Y + b.Z * n.Z;
            var scale = Complex.Abs(bo.X) + Complex.Abs(bo.Y) + Complex.Abs(bo.Z);
            Assert.True(Complex.Abs(Normal(bi) - Normal(bo)) < 1e-6 * scale);
            foreach (var (i, o, component) in new[] { (bi.X, bo.X, n.X), (bi.Y, bo.Y, n.Y), (bi.Z, bo.Z, n.Z) })
                Assert.True(Complex.Abs((i - Normal(bi) * component) / inside - (o - Normal(bo) * component) / outside) < 1e-6 * scale);
        }
    }

    [Fact]
    public void CurrentDensity_InsideABall_IsTheCurlOfTheField()
    {
        var at = new Vector(0.004, 0.002, 0.018);
        var field = new BallOverCoils(SphereBody.Solid(0.012, 35e6, 2), Pair, 200).Field(at, 1e-10);
        var p = at + new Vector(0.005, -0.003, -0.006);
        const double h = 2e-5;
        ComplexVector D(Vector e) => Difference(field.FluxDensity(p + h * e), field.FluxDensity(p - h * e), 1 / (2 * h));
        ComplexVector dx = D(new(1, 0, 0)), dy = D(new(0, 1, 0)), dz = D(new(0, 0, 1));
        var j = field.CurrentDensity(p);
        var scale = j.X.Magnitude + j.Y.Magnitude + j.Z.Magnitude;
        Assert.True(Complex.Abs(dx.X + dy.Y + dz.Z) < 1e-4 * scale * Mu0);
        Assert.True(Complex.Abs((dy.Z - dz.Y) / (2 * Mu0) - j.X) < 1e-4 * scale);
        Assert.True(Complex.Abs((dz.X - dx.Z) / (2 * Mu0) - j.Y) < 1e-4 * scale);
        Assert.True(Complex.Abs((dx.Y - dy.X) / (2 * Mu0) - j.Z) < 1e-4 * scale);
    }

    [Fact]
    public void ErrorBar_AtCoarseTolerance_CoversTheTrueError()
    {
        foreach (var at in new[] { new Vector(0, 0, 0.0145), new Vector(0.01, 0, 0.016), new Vector(0.016, 0, 0.0145) })
        {
            var ball = new BallOverCoils(Shell, Pair, 400);
            var best = ball.Evaluate(at, 1e-10);
            var coarse = ball.Evaluate(at, 1e-3);
            Assert.True((best.Force - coarse.Force).Length <= coarse.ForceError);
            Assert.True(Math.Abs(best.Loss - coarse.Loss) <= coarse.LossError);
        }
    }

    [Fact]
    public void Ball_ReachingIntoAWinding_IsRefused() =>
        Assert.Throws<ArgumentException>(() => new BallOverCoils(Shell, Pair, 50).Evaluate(new Vector(0, 0, 0.005)));

    [Fact]
    public void Ball_NearlyTouchingAWinding_SaysItIsSlow()
    {
        var answer = new BallOverCoils(Shell, Pair, 50).Evaluate(new Vector(0.016, 0, 0.0135), 1e-5);
        Assert.True(answer.IsSlow);
        Assert.True(answer.ForceError < 1e-4 * answer.Force.Length);
    }

    private static ComplexVector Field(Vector at)
    {
        var sum = default(ComplexVector);
        foreach (var source in Pair)
            sum += source.Coil.FluxDensity(at, source.PeakCurrent);
        return sum;
    }

    private static ComplexVector Difference(ComplexVector a, ComplexVector b, double scale) => new(scale * (a.X - b.X), scale * (a.Y - b.Y), scale * (a.Z - b.Z));
}
