using Fieldwright.Matter;
using Fieldwright.Matter.Heat;
using Fieldwright.Matter.Windings;
using Xunit;

namespace Fieldwright.Tests.Matter;

public class HeatAndWindingTests
{
    private const double Zero = PhysicalConstants.ZeroCelsius;

    // Onderdonk's formula, AWG 16 (2581 circular mils), 25 °C, 5 s: 168.9 A by hand.
    [Fact]
    public void Onderdonk_Awg16_FiveSeconds_Is169Amperes() =>
        Assert.Equal(168.9, FusingCurrent.Onderdonk(2581 * 0.25 * Math.PI * 25.4e-6 * 25.4e-6, 5, 25 + Zero), 0.1);

    // Rows read in a public table of Preece's law: diameters to four decimals of an inch, so currents to 1 %.
    [Theory]
    [InlineData("copper", 0.0098, 10), InlineData("copper", 0.0156, 20), InlineData("copper", 0.0288, 50), InlineData("copper", 0.0457, 100)]
    [InlineData("aluminium", 0.0120, 10), InlineData("aluminium", 0.0191, 20), InlineData("aluminium", 0.0352, 50), InlineData("aluminium", 0.0558, 100)]
    public void Preece_ReadRows_AreMet(string metal, double inches, double amperes) => Assert.Equal(amperes, FusingCurrent.Preece(metal, inches * 0.0254), 0.011 * amperes);

    [Fact]
    public void Preece_UnknownMetal_ListsTheKnown() => Assert.Contains("copper", Assert.Throws<ArgumentException>(() => FusingCurrent.Preece("cheese", 1e-3)).Message, StringComparison.Ordinal);

    // IEC 60949: K = 226 A s^½/mm² and β = 234.5 for copper, K = 148 and β = 228 for aluminium; ours follow from other constants of the metals.
    [Theory]
    [InlineData("copper", 226, 234.5, 0.01, 0.5)]
    [InlineData("aluminium 1350", 148, 228, 0.02, 16)]
    public void Action_AgreesWithIec60949(string name, double k, double beta, double within, double betaWithin)
    {
        var metal = Materials.Find(name)!;
        Assert.Equal(beta, AdiabaticRise.Beta(metal), betaWithin);
        double ours = AdiabaticRise.Action(metal, 20 + Zero, 160 + Zero);
        double theirs = k * k * 1e12 * Math.Log((160 + beta) / (20 + beta));
        Assert.Equal(theirs, ours, 2 * within * theirs);
    }

    // Kitchen foil 20 mm × 0.015 mm at 20 A, 20 to 660 °C, IEC 60949 with K = 148: 2514 A²s, 6.3 s with no cooling. Our aluminium's own constants lie 2 % off in I, 4 % in time.
    [Fact]
    public void Foil_TwentyAmperes_MeltsInSixSecondsUncooled() =>
        Assert.Equal(2514.0 / 400, AdiabaticRise.TimeTo(Materials.Find("aluminium 1350")!, 20 / 0.3e-6, 20 + Zero, 660 + Zero), 0.04 * 6.3);

    // Dowell's factor: thin sheets as 1 + (5m² − 1) ξ⁴/45, one thick sheet as ξ, m thick ones as ξ (2m² + 1)/3; both branches meet.
    [Fact]
    public void Dowell_ThinAndThickLayers_ReachTheirLimits()
    {
        Assert.Equal(1 + (5 * 100 - 1) / 45.0 * Math.Pow(0.2, 4), LayerLoss.Factor(0.2, 10), 1e-4);
        Assert.Equal(LayerLoss.Factor(0.0499999, 10), LayerLoss.Factor(0.0500001, 10), 1e-6);
        Assert.Equal(20, LayerLoss.Factor(20, 1), 1e-6);
        Assert.Equal(20 * 19 / 3.0, LayerLoss.Factor(20, 3), 1e-6);
        Assert.Equal(LayerLoss.Factor(299.9, 3), LayerLoss.Factor(300.1, 3), 0.001 * LayerLoss.Factor(300, 3));
    }

    // Copper from 20 to 120 °C by the 234.5 rule: 1.393.
    [Fact]
    public void Resistance_OfCopper_FollowsThe2345Rule()
    {
        Assert.Equal(1.393, AdiabaticRise.Resistance(1, 234.5, 20 + Zero, 120 + Zero), 5e-4);
        Assert.Equal(1.393, Materials.Copper.ResistivityAt(120 + Zero) / Materials.Copper.ResistivityAt(20 + Zero), 5e-4);
        Assert.Equal(120 + Zero, AdiabaticRise.TemperatureFromResistance(AdiabaticRise.Resistance(7, 234.5, 20 + Zero, 120 + Zero) / 7, 234.5, 20 + Zero), 1e-9);
    }

    // 0.00504 K/s per (A/mm²)² for copper at 20 °C: 10 A/mm² warms it by 0.504 K in the first second.
    [Fact]
    public void TemperatureAfter_FirstInstant_IsRhoJSquaredOverHeat()
    {
        double rise = AdiabaticRise.TemperatureAfter(Materials.Copper, 1e7, 1e-3, 20 + Zero) - (20 + Zero);
        Assert.Equal(0.504, rise / 1e-3, 2e-3);
        double end = AdiabaticRise.TemperatureAfter(Materials.Copper, 1e7, 60, 20 + Zero);
        Assert.Equal(60, AdiabaticRise.TimeTo(Materials.Copper, 1e7, 20 + Zero, end), 1e-6);
    }

    // Wire of 1.000 mm: 0.02176 Ω/m nominal of the standard, 0.02195 at 100 % IACS.
    [Fact]
    public void Round_OneMetreOfOneMillimetreWire_HasTheListedResistance()
    {
        var w = WindingAnalysis.Round(Conductor.EnamelledCopper(1e-3), 10, 0.1, 0.1 + 2e-3, 11e-3);
        Assert.Equal(0.02195, w.Resistance(20 + Zero) / w.Length, 1e-5);
        Assert.Equal(10 * 2 * Math.PI * 0.101, w.Length, 1e-12);
        Assert.Equal(10, w.TurnsPerLayer);
        Assert.Equal(1, w.Layers);
        Assert.Equal(w.Length * w.Conductor.Section * 8890, w.Mass!.Value, 1e-12);
    }

    // 55 mm over 0.855 mm are 64 turns, 1.8 mm are two layers: 128 in all.
    [Fact]
    public void Round_TooManyTurns_SaysHowManyFit()
    {
        var wire = Conductor.EnamelledCopper(0.8e-3);
        Assert.Equal(0.855e-3, wire.OverallDiameter, 1e-12);
        var e = Assert.Throws<WindingDoesNotFitException>(() => WindingAnalysis.Round(wire, 129, 0.02, 0.02 + 1.8e-3, 55e-3));
        Assert.Equal(128, e.Room);
        Assert.Contains("2 layers of 64", e.Message, StringComparison.Ordinal);
        Assert.Equal(2, WindingAnalysis.Round(wire, 128, 0.02, 0.02 + 1.8e-3, 55e-3).Layers);
    }

    [Fact]
    public void Strands_InParallel_ShareTheCurrentAndTheSpace()
    {
        var one = WindingAnalysis.Round(Conductor.EnamelledCopper(0.5e-3), 30, 0.02, 0.03, 40e-3);
        var two = WindingAnalysis.Round(Conductor.EnamelledCopper(0.5e-3, strands: 2), 30, 0.02, 0.03, 40e-3);
        Assert.Equal(0.5 * one.Resistance(300), two.Resistance(300), 1e-12);
        Assert.Equal(one.TurnsPerLayer / 2, two.TurnsPerLayer);
    }

    [Fact]
    public void Choice_ReachesTheAmpereTurnsAtItsVoltage()
    {
        var choice = WindingChoice.Round(20e-3, 40e-3, 55e-3, 1500, 24, 80 + Zero)!;
        Assert.True(choice.AmpereTurns >= 1500);
        Assert.Equal(24 / choice.Analysis.Resistance(80 + Zero), choice.Current, 1e-12);
        // The next thinner wire falls short: the choice is the thinnest that serves.
        var thinner = WireTable.Sizes.Last(w => w.Diameter < choice.Analysis.Conductor.BareDiameter * 0.999);
        Assert.Null(WindingChoice.Round(20e-3, 40e-3, 55e-3, 1500, 24, 80 + Zero, inStock: [thinner.Diameter]));
    }

    [Fact]
    public void Materials_EachHasASource_AndOtherNamesLeadSomewhere()
    {
        Assert.All(Materials.All, m => Assert.Matches(@"\((a|b|c)|memory", m.Source));
        Assert.All(Materials.OtherNames, n => Assert.NotNull(Materials.Find(n.Key)));
        Assert.Equal("aluminium 6061", Materials.Nearest("aluminum 6061"));
        Assert.Equal("aluminium 1050", Materials.Find("Aluminium")!.Name);
        Assert.Null(Materials.Find("unobtainium"));
        Assert.Equal("copper", Materials.Nearest("coper"));
    }

    // Conductivities as listed, with source and grade, in the reference table of solids.
    [Theory]
    [InlineData("copper", 58.0e6), InlineData("aluminium 1050", 35.55e6), InlineData("aluminium 1100", 34.22e6), InlineData("aluminium 1350", 35.84e6), InlineData("aluminium 3003", 29.0e6)]
    public void Materials_Conductivity_IsThatOfTheTable(string name, double sigma) => Assert.Equal(sigma, Materials.Find(name)!.Conductivity);
}
