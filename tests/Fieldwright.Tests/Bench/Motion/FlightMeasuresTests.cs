using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Bench.Motion;

/// <summary>A ball let go in space: against its static stiffness, closed forms, the energy of the coils, and its warming followed at rest.</summary>
public class FlightMeasuresTests
{
    // Metal of no specific heat stays cold.
    private const string Cold = """
        apparatus: Cold ball
        symmetry: free
        parts:
          ball: {shape: ball, radius: 50 mm, wall: 1.5 mm, at: {z: 12 mm}, of: {conductivity: 34 MS/m, density: 2705 kg/m3}, moves: freely}
        windings:
          inner: {turns: 400, wire: 1.4 mm grade 1, between radii: [10 mm, 35 mm], from z: -60 mm, to z: 0 mm}
          outer: {turns: 800, wire: 1.4 mm grade 1, between radii: [50 mm, 80 mm], from z: -60 mm, to z: 0 mm}
        supplies:
          first: {current: 20 A, frequency: 50 Hz, phase: 0 deg, feeds: inner}
          second: {current: 20 A, frequency: 50 Hz, phase: 90 deg, feeds: outer}
        """;

    // The ball is far from the coils and fed so hard that it is carried along before it has fallen far.
    private const string Crossed = """
        apparatus: Crossed pairs
        symmetry: free
        parts:
          ball: {shape: ball, radius: 5 mm, at: {z: -5 mm}, of: {conductivity: 34 MS/m, density: 2700 kg/m3}, moves: freely}
        windings:
          east: {turns: 100, wire: 1 mm grade 1, between radii: [100 mm, 120 mm], from z: -5 mm, to z: 5 mm, at: {x: 150 mm}, tilted: 90 deg}
          west: {turns: 100, wire: 1 mm grade 1, between radii: [100 mm, 120 mm], from z: -5 mm, to z: 5 mm, at: {x: -150 mm}, tilted: 90 deg}
          north: {turns: 100, wire: 1 mm grade 1, between radii: [100 mm, 120 mm], from z: -5 mm, to z: 5 mm, at: {y: 150 mm}, tilted: 90 deg, towards: 90 deg}
          south: {turns: 100, wire: 1 mm grade 1, between radii: [100 mm, 120 mm], from z: -5 mm, to z: 5 mm, at: {y: -150 mm}, tilted: 90 deg, towards: 90 deg}
        supplies:
          one: {current: 1 kA peak, frequency: 5 Hz, phase: 0 deg, feeds: [east, west], connection: series}
          two: {current: 1 kA peak, frequency: 5 Hz, phase: -90 deg, feeds: [north, south], connection: series}
        """;

    private static RouteSession Session() => new(new BallRoute(), 0.01, TestContext.Current.CancellationToken);

    private static Answer Ask(Apparatus apparatus, string measure, string? state, RouteSession session)
    {
        var asked = Read.Measure(measure, apparatus);
        return MeasureOnRoute.Of(MeasureCatalogue.KindOf(asked, apparatus), asked, Circumstances.Of(apparatus, state, asked.Conditions), session);
    }

    // Half a millimetre up and let go: m ẍ + c ẋ + k x = 0, k the slope of the force at rest, c from one evaluation. What the stiffness changes over half a millimetre is left out: 2 % of the swing.
    [Fact]
    public void Ball_LetGoAboveRest_SwingsAsItsStaticStiffnessSays()
    {
        var (apparatus, session) = (Read.Read(Cold), Session());
        double rest = Ask(apparatus, "rest height of ball", null, session).Value, mass = Floats.Mass(apparatus.Parts[0]);
        var given = SupplyNetwork.ImposedCurrents(apparatus);
        double k = BallRoute.Ball(apparatus.Parts[0], apparatus, [.. apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w))], w => given[w.Name]).Stiffness(new Vector(0, 0, rest + 0.05))[2, 2];
        var aloft = new FlyingBall(apparatus, apparatus.Parts[0]);
        double Lift(double speed) => aloft.At(new Vector(0, 0, rest + 0.05), Vector.AlongZ, new Vector(0, 0, speed), default, apparatus.Ambient, 1e-9).Force.Z;
        double gamma = -0.5 * (Lift(0.01) - Lift(0)) / 0.01 / mass, omega = Math.Sqrt(k / mass - gamma * gamma);
        foreach (double t in new[] { 0.1, 0.25, 0.5 })
        {
            double expected = 0.5e-3 * Math.Exp(-gamma * t) * (Math.Cos(omega * t) + gamma / omega * Math.Sin(omega * t));
            var height = Ask(apparatus, FormattableString.Invariant($"height of ball after {t} s at height {(rest + 0.5e-3) * 1e3:R} mm"), null, session);
            Assert.Equal(expected, height.Value - rest, 0.02 * 0.5e-3);
        }
    }

    // Small pushes sideways, no spin worth speaking of in a quarter of a second: x₀ cosh grows, damped, as the softest stiffness says.
    [Fact]
    public void Ball_ThatRunsAway_GrowsAsItsStiffnessSays()
    {
        var apparatus = Read.Read(Cold.Replace("phase: 90 deg", "phase: 0 deg", StringComparison.Ordinal));
        var session = Session();
        double tau = Ask(apparatus, "run-away time of ball at rest", null, session).Value, t = 1.5 * tau;
        double drift = Ask(apparatus, FormattableString.Invariant($"sideways drift of ball after {t:R} s at x 0.2 mm at rest"), null, session).Value;
        double rest = Ask(apparatus, "rest height of ball", null, session).Value, mass = Floats.Mass(apparatus.Parts[0]);
        var aloft = new FlyingBall(apparatus, apparatus.Parts[0]);
        double Push(double speed) => aloft.At(new Vector(0, 0, rest + 0.05), Vector.AlongZ, new Vector(speed, 0, 0), default, apparatus.Ambient, 1e-9).Force.X;
        double gamma = -0.5 * Push(0.01) / 0.01 / mass, rate = Math.Sqrt(1 / (tau * tau) + gamma * gamma);
        double expected = 0.2e-3 * (Math.Exp(-gamma * t) * (Math.Cosh(rate * t) + gamma / rate * Math.Sinh(rate * t)) - 1);
        Assert.Equal(expected, drift, 0.03 * expected);
    }

    // Of one coil the force on a ball has a potential, and at 2 kHz the lag of its currents brakes it hardly at all: a quarter of the peak current squared times the inductance the ball takes from the coil. The ball falls from high up and swings.
    [Fact]
    public void Ball_OverOneQuickCoil_KeepsMotionHeightAndFieldEnergyTogether()
    {
        var apparatus = Read.Read("""
            apparatus: Quick ball
            symmetry: free
            parts:
              ball: {shape: ball, radius: 40 mm, at: {x: 4 mm, z: 25 mm}, of: {conductivity: 100 MS/m, density: 300 kg/m3}, moves: freely}
            windings:
              coil: {turns: 800, wire: 1.4 mm grade 1, between radii: [20 mm, 60 mm], from z: -60 mm, to z: 0 mm}
            supplies:
              bench: {current: 16 A, frequency: 2 kHz, feeds: coil}
            """);
        var part = apparatus.Parts[0];
        var course = new BodyFlight(FlyingBody.Of(apparatus, 1e-7), new FlightLaw(1e-7, Cooling.AsReckoned, 0, 0)).Follow(0.12, TestContext.Current.CancellationToken);
        var coil = (ThickCoil)FreeBodies.Coil(apparatus.Windings[0]);
        var ball = BallRoute.Ball(part, apparatus, [coil], _ => 1);
        double mass = Floats.Mass(part), peak = 16 * Math.Sqrt(2), omega = 2 * Math.PI * 2000;
        double Energy(double t)
        {
            var place = course.Centre(t);
            double taken = ball.ReflectedImpedance(place, 1e-9)[0, 0].Imaginary / omega;
            return 0.5 * mass * Math.Pow(course.Speed(t), 2) + mass * PhysicalConstants.StandardGravity * place.Z - 0.25 * peak * peak * taken;
        }

        double start = Energy(0), moved = mass * PhysicalConstants.StandardGravity * 0.001;
        Assert.True(course.Speed(0.06) > 0.02, $"{course.Speed(0.06)}");
        foreach (double t in new[] { 0.03, 0.06, 0.09, 0.12 })
            Assert.Equal(start, Energy(t), 2e-3 * moved);
        Assert.True(course.Books().Open < 1e-6 * moved, $"{course.Books()}");
    }

    // Slow turning field on a small solid ball: torque 2πσa⁵B²/15 (ω − Ω), so Ω = ω (1 − e^(−t/τ)), τ = 4ρ/(σB²) (Smythe's torque, from memory). ωμσa² = 0.03; the field at the middle from the coils themselves.
    [Fact]
    public void Ball_InATurningField_SpinsUpAsTheClosedFormSays()
    {
        var apparatus = Read.Read(Crossed);
        var coil = (ThickCoil)FreeBodies.Coil(apparatus.Windings[0]);
        double b = 2 * 1000 * Math.Abs(coil.FieldPerAmpere(default).FluxDensity.X), tau = 4 * 2700 / (34e6 * b * b), omega = 2 * Math.PI * 5;
        foreach (double t in new[] { 0.004, 0.012 })
        {
            double expected = omega * (1 - Math.Exp(-t / tau)), spin = Ask(apparatus, FormattableString.Invariant($"spin of ball after {t} s"), null, Session()).Value;
            Assert.Equal(expected, spin, 0.01 * expected);
        }

        Assert.Equal(0, Ask(apparatus, "tip of ball after 0.012 s", null, Session()).Value, 1e-3);
    }

    // The same warming followed at rest: places of rest at each temperature, a network of heat. Different models of the same fall; their bars must meet.
    [Fact]
    public void Ball_ComingDownWarm_AgreesWithItsWarmingAtRest()
    {
        var (apparatus, session) = (Read.Example("floating-ball-two-coils"), Session());
        var staying = Ask(apparatus, "staying time of ball at x 1 mm at rest", "inner behind", session);
        var aloft = Ask(apparatus, "time aloft of ball", "inner behind", session);
        Assert.Equal(aloft.Value, staying.Value, aloft.ErrorBar + staying.ErrorBar);
        Assert.Contains("It comes down after", staying.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void Ball_LetGoOnItsAxis_SaysThatNothingPushedIt()
    {
        var apparatus = Read.Read(Cold);
        Assert.Contains("let it go a little beside", Ask(apparatus, "staying time of ball at rest", null, Session()).Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void Ball_ThatIsNotLifted_SaysSo()
    {
        var apparatus = Read.Read(Cold.Replace("current: 20 A", "current: 5 A", StringComparison.Ordinal).Replace("z: 12 mm", "z: 0 mm", StringComparison.Ordinal));
        Assert.Contains("It is not lifted", Ask(apparatus, "staying time of ball", null, Session()).Remark, StringComparison.Ordinal);
    }
}
