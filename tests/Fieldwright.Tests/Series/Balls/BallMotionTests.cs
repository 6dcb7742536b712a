using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Xunit;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Balls;

/// <summary>A ball that moves and spins, against the ball at rest, closed forms and turned axes.</summary>
public class BallMotionTests
{
    private const double Frequency = 50, Omega = 2 * Math.PI * Frequency, Sigma = 34e6;

    private static readonly SphereBody Hollow = SphereBody.Hollow(0.05, 0.0015, Sigma);

    private static readonly CoilSource[] Askew =
    [
        new(new ThickCoil(0.01, 0.035, -0.06, 0, 400), 31),
        new(new ThickCoil(0.05, 0.08, -0.06, 0, 800, new Vector(0.012, -0.007, 0), new Vector(0.1, 0.2, 1).Unit()), 31 * Complex.ImaginaryOne),
    ];

    private static void AreEqual(Vector expected, Vector actual, double tolerance) =>
        Assert.True((expected - actual).Length <= tolerance, $"expected {expected}, got {actual}");

    [Fact]
    public void Ball_AtRestAndCold_IsTheBallAtRest()
    {
        var ball = new BallOverCoils(Hollow, Askew, Frequency);
        Vector place = new(0.004, 0.006, 0.072);
        var still = ball.Evaluate(place, 1e-6);
        var moving = new BallMotion(ball).At(place, default, default);
        AreEqual(still.Force, moving.Force, 1e-7 * still.Force.Length);
        AreEqual(still.Torque, moving.Torque, 1e-7 * still.Torque.Length);
        Assert.Equal(still.Loss, moving.Heat, 1e-7 * still.Loss);
    }

    // T is a function of ωσ: half the conductivity is another ball, described as such.
    [Fact]
    public void Ball_Warm_IsTheBallOfThatConductivity()
    {
        Vector place = new(0.004, 0.006, 0.072);
        var described = new BallOverCoils(SphereBody.Hollow(0.05, 0.0015, 0.7 * Sigma), Askew, Frequency).Evaluate(place, 1e-6);
        var warm = new BallMotion(new BallOverCoils(Hollow, Askew, Frequency)).At(place, default, default, 0.7);
        AreEqual(described.Force, warm.Force, 1e-6 * described.Force.Length);
        Assert.Equal(described.Loss, warm.Heat, 1e-6 * described.Loss);
    }

    // About z every order m has its own frequency ω + mΩ: heat and torque are sums over orders, the responses worked out one by one.
    [Fact]
    public void Ball_SpinningAboutZ_AnswersEachOrderAtItsOwnFrequency()
    {
        var ball = new BallOverCoils(Hollow, Askew, Frequency);
        Vector place = new(0.004, 0.006, 0.072);
        const double Spin = 200;
        var still = ball.Evaluate(place, 1e-6);
        double heat = 0, torque = 0, a = Hollow.Radius;
        for (int m = -still.Degrees; m <= still.Degrees; m++)
        {
            double seen = Omega + m * Spin;
            var response = new SphereResponse(Hollow, Math.Abs(seen) / (2 * Math.PI), still.Degrees);
            for (int l = Math.Max(1, Math.Abs(m)); l <= still.Degrees; l++)
            {
                double loss = Math.Sign(seen) * response.Ratios[l].Imaginary * Math.Pow(still.Coefficients[l * l + l + m].Magnitude, 2);
                heat += 2 * Math.PI * PhysicalConstants.MagneticConstant * a * seen * loss;
                torque -= 2 * Math.PI * PhysicalConstants.MagneticConstant * a * m * loss;
            }
        }

        var spinning = new BallMotion(ball).At(place, default, new Vector(0, 0, Spin));
        Assert.Equal(heat, spinning.Heat, 1e-6 * heat);
        Assert.Equal(torque, spinning.Torque.Z, 1e-6 * spinning.Torque.Length + 1e-12);
        Assert.Equal(spinning.FedPower, spinning.Heat + Spin * spinning.Torque.Z, 1e-6 * heat);
    }

    // Everything turned by 90° about x and then about y: what is computed with a leaning spin must be what is computed with one about z.
    [Fact]
    public void Ball_SpinningAboutAnyAxis_IsTheSameTurned()
    {
        static Vector Turned(Vector v) => new(v.Z, v.X, v.Y);
        static CoilSource TurnedSource(CoilSource s) =>
            new(new ThickCoil(s.Coil.InnerRadius, s.Coil.OuterRadius, s.Coil.ZFrom, s.Coil.ZTo, s.Coil.Turns, Turned(s.Coil.Position), Turned(s.Coil.Axis)), s.PeakCurrent);
        Vector place = new(0.004, 0.006, 0.072), velocity = new(0.2, -0.1, 0.3), spin = new(120, -60, 200);
        var straight = new BallMotion(new BallOverCoils(Hollow, Askew, Frequency)).At(place, velocity, spin);
        var turned = new BallMotion(new BallOverCoils(Hollow, [.. Askew.Select(TurnedSource)], Frequency)).At(Turned(place), Turned(velocity), Turned(spin));
        AreEqual(Turned(straight.Force), turned.Force, 1e-5 * straight.Force.Length);
        AreEqual(Turned(straight.Torque), turned.Torque, 1e-5 * straight.Torque.Length);
        Assert.Equal(straight.Heat, turned.Heat, 1e-5 * straight.Heat);
    }

    // A small ball far from a coil of slow current: moment −2πσa⁵/15·dB/dt (Smythe, from memory), so drag −2πσa⁵/15·v·(dB/dz)²/2 on the axis and brake −2πσa⁵/15·Ω·B²/2 across it.
    // The ball is a 30th of the way to the coil: (1/30)² of the field's degrees above one.
    [Fact]
    public void SmallBall_InSlowField_IsBrakedAsTheClosedFormSays()
    {
        const double A = 5e-3, Slow = 0.5;
        var coil = new ThickCoil(0.14, 0.16, -0.01, 0.01, 500);
        var motion = new BallMotion(new BallOverCoils(SphereBody.Solid(A, Sigma), [new(coil, 20)], Slow));
        Vector place = new(0, 0, 0.09);
        double B(double z) => 20 * coil.FieldPerAmpere(new Vector(0, 0, z)).FluxDensity.Z;
        double slope = (B(0.091) - B(0.089)) / 0.002, strength = 2 * Math.PI * Sigma * Math.Pow(A, 5) / 15;
        double Drag(double v) => motion.At(place, new Vector(0, 0, v), default, 1, 1e-10).Force.Z;
        double expected = -strength * 0.01 * 0.5 * slope * slope;
        Assert.Equal(expected, Drag(0.01) - Drag(0), 0.01 * Math.Abs(expected));
        double brake = motion.At(place, default, new Vector(2, 0, 0), 1, 1e-10).Torque.X, braked = -strength * 2 * 0.5 * B(0.09) * B(0.09);
        Assert.Equal(braked, brake, 0.01 * Math.Abs(braked));
    }

    // Two crossed pairs in quadrature turn the field about z from x to y: a ball that spins with it feels neither torque nor heat, but for the fields of degree three.
    [Fact]
    public void Ball_SpinningWithTheField_FeelsNothing()
    {
        static CoilSource Side(Vector axis, double side, Complex current) => new(new ThickCoil(0.19, 0.21, side * 0.1 - 0.005, side * 0.1 + 0.005, 100, default, axis), current);
        Vector x = new(1, 0, 0), y = new(0, 1, 0);
        Complex behind = -10 * Complex.ImaginaryOne;
        var motion = new BallMotion(new BallOverCoils(SphereBody.Hollow(0.03, 0.001, Sigma), [Side(x, 1, 10), Side(x, -1, 10), Side(y, 1, behind), Side(y, -1, behind)], Frequency));
        var start = motion.At(default, default, default);
        var together = motion.At(default, default, new Vector(0, 0, Omega));
        Assert.True(start.Torque.Z > 0);
        Assert.True(Math.Abs(together.Torque.Z) < 1e-3 * start.Torque.Z, $"{together.Torque.Z} {start.Torque.Z}");
        Assert.True(together.Heat < 1e-3 * start.Heat, $"{together.Heat} {start.Heat}");
    }
}
