using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Xunit;

namespace Fieldwright.Tests.Bench.Motion;

public class RestHeightTests
{
    private const double Span = 0.04;

    // F = F₀ exp(−h/ℓ) rests where h = ℓ ln(F₀/W), with stiffness W/ℓ.
    private static Func<double, double, Estimate> Exponential(double atZero, double length, double relativeBar = 1e-6) =>
        (height, _) => new Estimate(atZero * Math.Exp(-height / length), relativeBar * atZero * Math.Exp(-height / length));

    [Theory]
    [InlineData(0.003)]
    [InlineData(0.015)]
    [InlineData(0.09)]
    public void Find_ExponentialLift_RestsWhereTheLogarithmSays(double guess)
    {
        var rest = RestHeight.Find(Exponential(3.5, 0.0073), 1.05, 0, Span, guess, 0.001);
        Assert.Equal(0.0073 * Math.Log(3.5 / 1.05), rest.Height.Value, 1e-8);
        Assert.Equal(1.05 / 0.0073, rest.Stiffness!.Value.Value, 1.05 / 0.0073 * 1e-6);
    }

    [Fact]
    public void Find_HeightBar_IsTheLiftBarOverTheStiffness()
    {
        var rest = RestHeight.Find(Exponential(3.5, 0.0073, 0.004), 1.05, 0, Span, 0.01, 0.004);
        Assert.Equal(0.004 * 0.0073, rest.Height.Bar, 0.004 * 0.0073 * 0.01);
    }

    [Fact]
    public void Find_TooHeavy_StaysAtTheLowestPlaceAndSaysWhatTheLiftIs()
    {
        var rest = RestHeight.Find(Exponential(0.4, 0.0073), 1.05, 0.002, Span, 0.01, 0.01);
        Assert.False(rest.Floats);
        Assert.Equal(0.002, rest.Height.Value);
        Assert.Equal(0.4 * Math.Exp(-0.002 / 0.0073), rest.LowestLift!.Value.Value, 1e-12);
    }

    [Fact]
    public void Find_LiftThatNeverFalls_Refuses()
    {
        Assert.Throws<RouteFailedException>(() => RestHeight.Find((_, _) => new Estimate(2, 0.01), 1, 0, Span, 0.01, 0.01));
    }

    [Fact]
    public void Find_LiftWithAHumpBelow_TakesTheFallingSide()
    {
        // Rises to a maximum at 10 mm and falls beyond: only the falling side is steady.
        static double Lift(double h) => 2 * Math.Exp(-Math.Pow((h - 0.01) / 0.012, 2));
        var rest = RestHeight.Find((h, _) => new Estimate(Lift(h), 1e-6), 1, 0, Span, 0.004, 0.001);
        Assert.Equal(0.01 + 0.012 * Math.Sqrt(Math.Log(2)), rest.Height.Value, 1e-6);
    }

    [Fact]
    public void Lowest_OverAnOutlineThatStandsOffItsPlace_IsItsTop()
    {
        var apparatus = File.Bench.Read("""
            apparatus: Pedestal
            symmetry: round
            parts:
              foot: {shape: outline, corners: [{at: [0 mm, 4 mm]}, {at: [30 mm, 4 mm]}, {at: [30 mm, 10 mm]}, {at: [0 mm, 10 mm]}], at: {z: -20 mm}, of: air}
              disc: {shape: disc, radius: 40 mm, thickness: 2 mm, at: {z: 3 mm}, of: aluminium 1050, moves: up and down}
            windings:
              coil: {turns: 100, wire: 1 mm grade 1, between radii: [50 mm, 60 mm], from z: -20 mm, to z: 0 mm}
            supplies:
              mains: {current: 10 A, frequency: 50 Hz, feeds: coil}
            """);
        var (lowest, _, stands) = Floats.Of(apparatus, apparatus.Part("disc")!);
        Assert.True(stands);
        Assert.Equal(-0.010, lowest, 1e-12);
    }
}
