using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Thermal;
using Fieldwright.Matter;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Duty;

public class HeatNetworkOfApparatusTests
{
    private const double Zero = PhysicalConstants.ZeroCelsius;

    private static Apparatus Coil { get; } = Read.Read("""
        apparatus: Coil
        symmetry: round
        parts:
          ball: {shape: ball, radius: 25 mm, at: {z: 100 mm}, of: aluminium 1050, emissivity: 0.9}
        windings:
          coil: {turns: 700, wire: 1.4 mm grade 1, between radii: [25 mm, 53 mm], from z: -60 mm, to z: 0 mm, insulation: F}
        supplies:
          line: {current: 10 A, frequency: 50 Hz, feeds: coil, internal resistance: 0 ohm}
        """.Replace(", internal resistance: 0 ohm", "", StringComparison.Ordinal));

    private static HeatInput Input(double amperes, double watts = 0) => new(
        new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase) { ["coil"] = amperes }, new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase) { ["ball"] = watts });

    private static double Answer(string measure, RouteName route = RouteName.Given)
    {
        var asked = Read.Measure(measure, Coil);
        return Rehearsal.Ask(Coil, asked, new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken).Answers.Single(a => a.Route == route).Value;
    }

    // Stepped network against the closed form of heat that stays: an exponential, since the resistance rises in a straight line.
    [Theory]
    [InlineData(10, 60), InlineData(18, 120), InlineData(40, 10)]
    public void NoCooling_Network_FollowsTheAdiabaticClosedForm(double amperes, double time)
    {
        double network = new HeatNetwork(Coil, Input(amperes), Cooling.None).After(time)["coil"];
        double closed = Warming.OfWinding(Coil.Windings[0], Coil, new Estimate(amperes, 0), time).Value;
        Assert.Equal(closed - Coil.Ambient, network - Coil.Ambient, 2e-3 * (closed - Coil.Ambient));
        Assert.True(new HeatNetwork(Coil, Input(amperes), Cooling.AsReckoned).After(time)["coil"] < network);
    }

    // The heat a ball loses at the temperature it settles at, from the correlation and Stefan and Boltzmann alone.
    [Theory]
    [InlineData(1), InlineData(10)]
    public void Steady_Ball_LosesWhatItTakes(double watts)
    {
        double t = new HeatNetwork(Coil, Input(0, watts), Cooling.AsReckoned).Steady()["ball"], area = 4 * Math.PI * 0.025 * 0.025;
        double lost = area * (NaturalConvection.Coefficient(Facing.Ball, 0.05, t, Coil.Ambient) * (t - Coil.Ambient)
            + 0.9 * PhysicalConstants.StefanBoltzmann * (Math.Pow(t, 4) - Math.Pow(Coil.Ambient, 4)));
        Assert.Equal(watts, lost, 1e-6 * watts);
    }

    [Fact]
    public void TimeTo_AndAfter_AreInverse()
    {
        var network = new HeatNetwork(Coil, Input(18), Cooling.AsReckoned);
        double time = network.TimeTo("coil", 100 + Zero, 1e5);
        Assert.Equal(100, network.After(time)["coil"] - Zero, 0.3);
        Assert.Equal(double.PositiveInfinity, new HeatNetwork(Coil, Input(1), Cooling.AsReckoned).TimeTo("coil", 100 + Zero, 1e5));
    }

    // Rising resistance: beyond some current heat always comes faster than it can leave, and no temperature is made up.
    // A slab of thickness b with even heat q and one side cooled: q b²/3k in the mean and q b²/2k at most over the cooled side (Carslaw and Jaeger), whatever the cooling.
    [Fact]
    public void HotSpot_Steady_StandsHalfTheMeansRiseAboveIt()
    {
        var settled = new HeatNetwork(Coil, Input(2), Cooling.AsReckoned).Steady();
        var winding = Coil.Windings[0];
        double heat = 4 * Warming.Resistance(winding, Coil) * (1 + winding.Wire.Metal.TemperatureCoefficientAt(Coil.Ambient) * (settled["coil"] - Coil.Ambient));
        Assert.Equal(settled["coil"] + 0.5 * heat * HeatBodies.Inner(winding, Coil), settled[HeatNetwork.HotSpot("coil")], 1e-3);
    }

    [Fact]
    public void HotSpot_SoonAfterSwitchingOn_IsNoHotterThanWithNoCoolingAtAll()
    {
        var network = new HeatNetwork(Coil, Input(10), Cooling.AsReckoned);
        double hot = network.HotSpotAfter("coil", 20), mean = network.After(20)["coil"], bound = new HeatNetwork(Coil, Input(10), Cooling.None).After(20)["coil"];
        Assert.InRange(hot, mean, bound + 1e-9);
    }

    [Fact]
    public void Steady_Runaway_IsReported() => Assert.Throws<RouteFailedException>(() => new HeatNetwork(Coil, Input(18), Cooling.AsReckoned).Steady());

    [Theory]
    [InlineData(RouteName.Given), InlineData(RouteName.Field)]
    public void Measures_OfDuty_HangTogether(RouteName route)
    {
        double Answer(string measure) => HeatNetworkOfApparatusTests.Answer(measure, route);
        double steady = Answer("steady temperature of coil at current in coil 2 A"), late = Answer("temperature of coil after 200000 s at current in coil 2 A");
        Assert.Equal(steady, late, 0.1);
        double limit = InsulationClasses.Limit("F"), onTime = Answer("longest on-time of coil");
        Assert.Equal(limit, Answer(FormattableString.Invariant($"hot spot of coil after {onTime:R} s")), 0.5);
        double duty = Answer("steady duty of coil");
        Assert.InRange(duty, 0.01, 0.9);
        Assert.Equal(1, Answer("steady duty of coil at current in coil 1 A"));
        Assert.True(Answer("cooling time of coil after 300 s") > 600);
        Assert.Equal(0, Answer("cooling time of coil after 1 s"));
    }

    [Fact]
    public void Duty_OfTheNetwork_PutsTheHottestTurnAtItsLimit()
    {
        double limit = InsulationClasses.Limit("F"), duty = Answer("steady duty of coil");
        // At that share of the heat, the steady temperature of the hottest turn is the limit itself.
        double there = new HeatNetwork(Coil, Input(10 * Math.Sqrt(duty)), Cooling.AsReckoned).Steady()[HeatNetwork.HotSpot("coil")];
        Assert.Equal(limit, there, 0.1);
    }

    [Fact]
    public void Bound_WithoutCooling_StandsLastAndReachesToTheLeader()
    {
        var asked = Read.Measure("hottest winding after 300 s", Coil);
        var answer = Rehearsal.Ask(Coil, asked, new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal([RouteName.Given, RouteName.Field, RouteName.Bound], answer.Answers.Select(a => a.Route));
        Assert.True(answer.Answers[^1].Value > answer.Answers[0].Value);
        Assert.Empty(answer.Disagreeing);
    }

    // The ball's own sums: 700 turns of a mean radius of 39 mm are 171.5 m; 1.4 mm is 1.539 mm², 8.89 g/cm³; 60/1.468 is 40 turns a layer, so 18 layers.
    [Theory]
    [InlineData("wire length of coil", 171.5, 0.1), InlineData("wire mass of coil", 171.5 * 1.5394e-6 * 8890, 0.002), InlineData("layers of coil", 18, 0), InlineData("turns that fit in coil", 760, 0)]
    [InlineData("fill of coil", 700 * 1.5394e-6 / (28e-3 * 60e-3), 1e-4), InlineData("current density in coil", 10 / 1.5394e-6, 1e3)]
    public void Winding_Measures_FollowFromTheTables(string measure, double expected, double within) => Assert.Equal(expected, Answer(measure), within + 1e-12);

    // Five strands of 0.5 mm have 5 times the section of one; as litz each is 3.5 % longer (common practice, no source).
    [Fact]
    public void Strands_SideBySideAndAsLitz_DifferByTheTwistAndByTheBar()
    {
        static Answer Of(string wire, string measure)
        {
            var apparatus = File.Bench.Read($$"""
                apparatus: Coil
                symmetry: round
                windings:
                  coil: {turns: 100, wire: {{wire}}, between radii: [20 mm, 40 mm], from z: 0 mm, to z: 40 mm}
                supplies:
                  box: {current: 5 A, frequency: 2 kHz, feeds: coil}
                """);
            var asked = Read.Measure(measure, apparatus);
            return new RoutePanel(apparatus, 0.01, TestContext.Current.CancellationToken).Cheapest(asked, null).Leading!;
        }

        double one = Of("0.5 mm grade 1", "resistance of coil").Value;
        Assert.Equal(one / 5, Of("5 x 0.5 mm grade 1", "resistance of coil").Value, 1e-12);
        Assert.Equal(1.035 * one / 5, Of("litz 5 x 0.5 mm grade 1", "resistance of coil").Value, 1e-12);
        Answer beside = Of("5 x 0.5 mm grade 1", "alternating resistance of coil"), litz = Of("litz 5 x 0.5 mm grade 1", "alternating resistance of coil");
        Assert.True(beside.ErrorBar > 1.2 * litz.ErrorBar, $"{beside.ErrorBar} and {litz.ErrorBar}");
        Assert.Contains("do not change places", beside.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void AlternatingResistance_OfManyLayers_RisesAsDowellSays()
    {
        double direct = Answer("resistance of coil");
        double skin = Math.Sqrt(Materials.Copper.ResistivityAt(Coil.Ambient) / (Math.PI * 50 * PhysicalConstants.MagneticConstant));
        double xi = Math.Pow(Math.PI / 4, 0.75) * 1.4e-3 / skin * Math.Sqrt(1.4 / 1.468);
        Assert.Equal(1 + (5 * 18.0 * 18 - 1) / 45 * Math.Pow(xi, 4), Answer("alternating resistance of coil") / direct, 1e-4);
    }
}
