using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Discs;
using Xunit;
using static Fieldwright.Tests.Series.SeriesReference;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Discs;

/// <summary>A disc that moves, spins and is warm, against the disc at rest and closed forms.</summary>
public class DiscMotionTests
{
    private static readonly CoilSource[] OutOfStep =
    [
        new(new ThickCoil(0.027, 0.055, -0.052, 0, 960), 20), new(new ThickCoil(0.080, 0.095, -0.052, 0, -576, new Vector(0.004, 0, 0), new Vector(0.03, 0.02, 1)), new Complex(12, 16)),
    ];

    private static readonly Complex[] Currents = [.. OutOfStep.Select(s => s.PeakCurrent)];

    private static readonly Vector Place = new(0.012, 0.005, 0.016), Axis = new(0.05, -0.03, 1);

    private static void AreEqual(Vector expected, Vector actual, double tolerance) => Assert.True((expected - actual).Length <= tolerance, $"expected {expected}, got {actual}");

    [Theory]
    [InlineData(0)]
    [InlineData(0.03)]
    public void Disc_FollowedAtRest_IsTheDiscAtRest(double inner)
    {
        var disc = new DiscOverCoils(new DiscBody(inner, 0.065, 0.003, 3.4e7), OutOfStep, 50);
        var exact = disc.Evaluate(Place, Axis, 1e-5);
        var followed = new DiscMotion(disc, Currents, [(Place, Axis)], 2e-4);
        var found = followed.At(Place, Axis).At(Currents);
        AreEqual(exact.Force, found.Force, 3e-4 * exact.Force.Length);
        AreEqual(exact.Torque, found.Torque, 3e-4 * exact.Force.Length * 0.065);
        Close(exact.Loss, found.Heat, 3e-4);
    }

    [Fact]
    public void Disc_Warm_IsTheDiscOfThatConductivity()
    {
        DiscCoupling Of(double conductivity) => new DiscOverCoils(new DiscBody(0, 0.065, 0.003, conductivity), OutOfStep, 50).Couple(Place, Axis);
        DiscInMotion described = Of(0.7 * 3.4e7).At(Currents), warm = Of(3.4e7).At(Currents, conductivity: 0.7);
        AreEqual(described.Force, warm.Force, 1e-9 * described.Force.Length);
        AreEqual(described.Torque, warm.Torque, 1e-9 * described.Force.Length * 0.065);
        Close(described.Heat, warm.Heat, 1e-9);
    }

    [Fact]
    public void Drag_SmallDiscCarriedThroughASlowField_IsTheClosedForm()
    {
        // E_φ = v B′ r/2, mean power π σ t v² B′² a⁴/16 of the peak slope B′, all of it taken from the motion.
        double a = 2e-3, t = 2e-4, sigma = 1e6, dz = 1e-3;
        var coil = new ThickCoil(0.19, 0.21, -0.01, 0.01, 100);
        var disc = new DiscOverCoils(new DiscBody(0, a, t, sigma), [new(coil, 10)], 50).Couple(new Vector(0, 0, 0.1), Vector.AlongZ);
        double slope = 10 * (coil.Field(0, 0.1 + dz).Axial - coil.Field(0, 0.1 - dz).Axial) / (2 * dz);
        double drag = disc.At([10], new Vector(0, 0, 1)).Force.Z - disc.At([10]).Force.Z;
        Close(-Math.PI * sigma * t * slope * slope * Math.Pow(a, 4) / 16, drag, 1e-3);
    }

    // Coils at ±x against one another give B_z = g x, those at ±y g y: in quadrature a slope that turns with ω, alone one that stands. Heat of a standing slope π σ t ω² g² a⁶/192 (the stream function of a thin slow disc).
    [Theory]
    [InlineData(0)]
    [InlineData(200)]
    [InlineData(314.159265358979)]
    [InlineData(500)]
    public void Torque_SpinningInATurningSlope_IsTheClosedForm(double spin)
    {
        double a = 2e-3, t = 2e-4, sigma = 1e6, omega = 100 * Math.PI;
        var (x, y) = Slopes();
        double slope = SlopeOf(x), standing = Math.PI * sigma * t * slope * slope * Math.Pow(a, 6) / 192;
        var disc = new DiscOverCoils(new DiscBody(0, a, t, sigma), [.. x, .. y.Select(s => s with { PeakCurrent = -Complex.ImaginaryOne * s.PeakCurrent })], 50);
        var found = disc.Couple(default, Vector.AlongZ).At([.. disc.Sources.Select(s => s.PeakCurrent)], default, new Vector(0, 0, spin));
        Assert.Equal(2 * standing * (omega - spin), found.Torque.Z, 3e-3 * 2 * standing * omega);
        Assert.Equal(2 * standing * Math.Pow(omega - spin, 2), found.Heat, 3e-3 * 2 * standing * omega * omega);
    }

    [Fact]
    public void Torque_SpinningInAStandingSlope_Brakes()
    {
        double a = 2e-3, t = 2e-4, sigma = 1e6, spin = 120;
        var (x, _) = Slopes();
        double slope = SlopeOf(x), standing = Math.PI * sigma * t * slope * slope * Math.Pow(a, 6) / 192;
        var found = new DiscOverCoils(new DiscBody(0, a, t, sigma), x, 50).Couple(default, Vector.AlongZ).At([.. x.Select(s => s.PeakCurrent)], default, new Vector(0, 0, spin));
        Close(-standing * spin, found.Torque.Z, 3e-3);
    }

    // A perfect conductor keeps flux out: a thin disc across an even field has the moment −8a³H/3, and takes 8a³B²/(3μ₀) of inductance per ampere² from the coil. A sheet so thin that no skin shows, ωλ of some 10⁴. At the rim its current rises as one over the root of the distance, which polynomials meet to a hundredth.
    [Fact]
    public void Inductance_OfAPerfectThinDisc_IsTheClosedForm()
    {
        double a = 2e-3, frequency = 50;
        var coil = new ThickCoil(0.19, 0.21, -0.01, 0.01, 100);
        double b = coil.Field(0, 0).Axial;
        var z = new DiscOverCoils(new DiscBody(0, a, 1e-9, 1e20), [new(coil, 1)], frequency).ReflectedImpedance(default, Vector.AlongZ, 1e-3)[0, 0];
        Close(-8 * a * a * a * b * b / (3 * PhysicalConstants.MagneticConstant), z.Imaginary / (2 * Math.PI * frequency), 1e-2);
    }

    // In the middle of upright coils nothing changes round the disc: it does not feel that it spins.
    [Fact]
    public void Spin_InTheMiddleOfUprightCoils_ChangesNothing()
    {
        CoilSource[] upright = [OutOfStep[0], new(new ThickCoil(0.080, 0.095, -0.052, 0, -576), new Complex(12, 16))];
        var disc = new DiscOverCoils(new DiscBody(0, 0.065, 0.003, 3.4e7), upright, 50).Couple(new Vector(0, 0, 0.016), Vector.AlongZ);
        DiscInMotion still = disc.At(Currents), spinning = disc.At(Currents, default, new Vector(0, 0, 100));
        AreEqual(still.Force, spinning.Force, 1e-12);
        Assert.Equal(0, spinning.Torque.Z, 1e-12);
    }

    // ẍ = −Kx − Cẋ with made-up slopes: unlike cross slopes of unlike sign and near stiffnesses make a complex pair, (3.9 ± 0.1j) of eigenvalues, s = √−λ.
    [Fact]
    public void Rates_OfUnlikeCrossSlopes_AreThoseOfTheNonSymmetricMatrix()
    {
        var rates = new DiscStiffness(4, 1, -0.02, 3.8, 0).Rates(1, 1, false);
        var expected = Complex.Sqrt(-new Complex(3.9, Math.Sqrt(0.02 - 0.01)));
        Assert.Equal(Math.Abs(expected.Real), rates[0].Real, 1e-12);
        Assert.Equal(Math.Abs(expected.Imaginary), Math.Abs(rates[0].Imaginary), 1e-12);
        var braked = new DiscStiffness(4, 0, 0, 3.8, 0) { Lag = (0.5, 0, 0, 0.2) }.Rates(1, 1, true);
        Assert.Equal(-0.1, braked[0].Real, 1e-12);
        Assert.Equal(-0.25, braked[3].Real, 1e-12);
    }

    private static (CoilSource[] X, CoilSource[] Y) Slopes()
    {
        static CoilSource At(double x, double y, double current) => new(new ThickCoil(0.05, 0.06, -0.005, 0.005, 100, new Vector(x, y, 0)), current);
        return ([At(0.15, 0, 10), At(-0.15, 0, -10)], [At(0, 0.15, 10), At(0, -0.15, -10)]);
    }

    private static double SlopeOf(CoilSource[] pair)
    {
        double B(double x) => pair.Sum(s => s.PeakCurrent.Real * s.Coil.FieldPerAmpere(new Vector(x, 0, 0)).FluxDensity.Z);
        return (B(1e-4) - B(-1e-4)) / 2e-4;
    }
}
