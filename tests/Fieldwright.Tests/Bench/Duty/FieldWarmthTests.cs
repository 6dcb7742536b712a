using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Duty;

public class FieldWarmthTests
{
    private static Apparatus Floating { get; } = Read.Read("""
        apparatus: Disc over a coil
        symmetry: round
        parts:
          disc: {shape: disc, radius: 50 mm, thickness: 3 mm, at: {z: 5 mm}, of: aluminium 1050, emissivity: 0.9}
        windings:
          coil: {turns: 400, wire: 1.4 mm grade 1, between radii: [25 mm, 45 mm], from z: -50 mm, to z: 0 mm, insulation: F}
        supplies:
          line: {current: 4 A, frequency: 50 Hz, feeds: coil}
        """);

    private static Apparatus Ring { get; } = Read.Read("""
        apparatus: Ring
        symmetry: long
        depth: 30 mm
        materials:
          ring steel: {conductivity: 3 MS/m, relative permeability: 2000, density: 7650 kg/m3, specific heat: 480 J/(kg K)}
        parts:
          core: {shape: core, inner radius: 40 mm, outer radius: 65 mm, of: ring steel, laminated: {stacking factor: 0.95}}
        windings:
          primary: {turns: 240, wire: 0.8 mm grade 1, on: core, centred at: 90 deg, length: 60 mm, build: 6 mm, clearance: 1.5 mm, insulation: F}
        supplies:
          box: {voltage: 24 V, frequency: 50 Hz, feeds: primary}
        """.Replace("voltage: 24 V", "current: 2 A", StringComparison.Ordinal));

    private static RoutedAnswer Ask(Apparatus apparatus, string measure) =>
        Rehearsal.Ask(apparatus, Read.Measure(measure, apparatus), new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);

    // All that the wire makes at its settled temperature, I²R of each place, leaves through the surfaces; so does what is put into the disc.
    [Fact]
    public void Steady_AllThatIsMade_Leaves()
    {
        var field = Settled(Floating, new HeatInput(new Dictionary<string, double> { ["coil"] = 4 }, new Dictionary<string, double> { ["disc"] = 3 }) { Points = new Dictionary<string, IReadOnlyList<Fieldwright.Fields.PointHeat>> { ["disc"] = [new(0.03, 0.0065, 3)] } });
        var coil = Floating.Windings[0];
        double wire = 16 * Warming.Resistance(coil, Floating) * (1 + coil.Wire.Metal.TemperatureCoefficientAt(Floating.Ambient) * (field.Read["coil"] - Floating.Ambient));
        Assert.Equal(wire + 3, field.Made, 1e-8 * field.Made);
        Assert.Equal(field.Made, field.Lost, 1e-8 * field.Made);
    }

    // The coil goes round the limb: the wire in section is half of each turn on either side, and all of its heat counts.
    [Fact]
    public void Steady_CoilOnALimb_MakesTheHeatOfWholeTurns()
    {
        var field = Settled(Ring, new HeatInput(new Dictionary<string, double> { ["primary"] = 2 }, new Dictionary<string, double>()));
        var coil = Ring.Windings[0];
        double wire = 4 * Warming.Resistance(coil, Ring) * (1 + coil.Wire.Metal.TemperatureCoefficientAt(Ring.Ambient) * (field.Read["primary"] - Ring.Ambient));
        // Arcs drawn as parabolas move the volume by less than a thousandth.
        Assert.Equal(wire, field.Made, 1e-3 * wire);
        Assert.Equal(field.Made, field.Lost, 1e-8 * field.Made);
        // The former passes on a part of it: the core is warm, and cooler than the coil.
        Assert.InRange(field.Read["core"], Ring.Ambient + 3, field.Read["primary"] - 3);
    }

    [Fact]
    public void Disc_OverAHotCoil_IsWarmedByIt()
    {
        var answer = Ask(Floating, "temperature of disc after 2000 s");
        Assert.Equal([RouteName.Field, RouteName.Series, RouteName.Bound], answer.Answers.Select(a => a.Route).Order(Comparer<RouteName>.Create((a, b) => Order(a) - Order(b))));
        double field = answer.Answers.Single(a => a.Route == RouteName.Field).Value, alone = answer.Answers.Single(a => a.Route == RouteName.Series).Value;
        Assert.True(field > alone + 5, $"{field} and {alone}");
        Assert.True(answer.Answers[^1].Value > field);

        static int Order(RouteName name) => name switch { RouteName.Field => 0, RouteName.Series => 1, _ => 2 };
    }

    // 24 V would do for more current in a cold coil than in a warm one; a given current stays, and the coil gets hotter.
    [Fact]
    public void Coil_OnAVoltage_LosesCurrentAsItWarms()
    {
        static Apparatus On(string supply) => Read.Read($$"""
            apparatus: Coil
            symmetry: round
            windings:
              coil: {turns: 400, wire: 0.8 mm grade 1, between radii: [25 mm, 45 mm], from z: -50 mm, to z: 0 mm, insulation: F}
            supplies:
              box: {{supply}}
            """);
        var battery = On("{battery: 6 V, internal resistance: 0.01 ohm, feeds: coil}");
        double resistance = Warming.Resistance(battery.Windings[0], battery), cold = 6 / (resistance + 0.01);
        var held = On(FormattableString.Invariant($"{{direct current: {cold:R} A, feeds: coil}}").Replace("direct current", "current", StringComparison.Ordinal));
        foreach (var route in new[] { RouteName.Field, RouteName.Given })
        {
            var onVoltage = Ask(battery, "steady temperature of coil").Answers.First(a => route == RouteName.Field ? a.Route == route : a.Route != RouteName.Field);
            double onCurrent = Ask(held, "steady temperature of coil").Answers.Single(a => a.Route == route).Value;
            Assert.True(onVoltage.Value < onCurrent - 3, $"{onVoltage} and {onCurrent}");
            // Of the voltage hardly anything is left outside the wire: heat goes with 1/R, and rise with heat a little less than in proportion.
            double alpha = Materials.Copper.TemperatureCoefficientAt(battery.Ambient), rise = onVoltage.Value - battery.Ambient, other = onCurrent - battery.Ambient;
            double heats = 1 / (1 + alpha * rise) / (1 + alpha * other);
            Assert.InRange(rise / other, heats, Math.Pow(heats, 0.7));
        }
    }

    [Fact]
    public void TimeTo_AndAfter_AreTheSameCourse()
    {
        double time = Value("longest on-time of coil at current in coil 12 A");
        Assert.Equal(InsulationClasses.Limit("F"), Value(FormattableString.Invariant($"hot spot of coil after {time:R} s at current in coil 12 A")), 0.3);

        static double Value(string measure) => Ask(Floating, measure).Answers.Single(a => a.Route == RouteName.Field).Value;
    }

    [Fact]
    public void Runaway_HasNoSteadyTemperature()
    {
        var answer = Ask(Floating, "steady temperature of coil at current in coil 15 A");
        Assert.Contains(answer.Silent, s => s.Route == RouteName.Field && s.Reason.Contains("never settles", StringComparison.Ordinal));
    }

    [Fact]
    public void FreeApparatus_HasNoSectionToFollowHeatIn()
    {
        var free = Read.Read("""
            apparatus: Free
            symmetry: free
            windings:
              coil: {turns: 100, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 0 mm, to z: 40 mm}
            supplies:
              box: {current: 5 A, feeds: coil}
            """);
        Assert.False(FieldWarmth.Suits(free));
        Assert.NotNull(FieldWarmth.WhyNot(free));
        Assert.Equal([RouteName.Given, RouteName.Bound], Ask(free, "temperature of coil after 30 s").Answers.Select(a => a.Route));
    }

    private static (IReadOnlyDictionary<string, double> Read, double Made, double Lost) Settled(Apparatus apparatus, HeatInput input)
    {
        var section = new HeatSection(apparatus);
        var warmth = new FieldWarmth(section, section.Mesh(1, TestContext.Current.CancellationToken), input, Cooling.AsReckoned, apparatus.Ambient, 1e-3, TestContext.Current.CancellationToken);
        var field = warmth.SteadyField();
        return (warmth.Steady(), field.Made, field.SurfaceHeat);
    }
}
