using Fieldwright.Circuits.Protection;
using Fieldwright.Matter;
using Fieldwright.Matter.Heat;
using Fieldwright.Matter.Safety;
using Xunit;

namespace Fieldwright.Validation.StandardsTables;

/// <summary>Tables of the product held row by row against those of the standards, as far as they were read or are remembered; see source.md for the grade of each.</summary>
public class StandardsTables
{
    /// <summary>Wire of IEC 60317: every size, over both grades of enamel, and its nominal resistance. The product's copper is 58 MS/m, the table's 58.5 MS/m: 1 % apart.</summary>
    [Fact]
    public void Wire_EverySize_AgreesWithIec60317()
    {
        var table = PublishedTable.Read("wire-iec.csv");
        Assert.Equal(WireTable.Sizes.Count, table.Count);
        for (int i = 0; i < table.Count; i++)
        {
            var wire = WireTable.Sizes[i];
            Assert.Equal(table.Number(i, "d_mm"), 1e3 * wire.Diameter, 1e-9);
            Assert.Equal(table.Number(i, "grade1_max_overall_mm"), 1e3 * wire.OverallGrade1, 1e-9);
            Assert.Equal(table.Number(i, "grade2_max_overall_mm"), 1e3 * wire.OverallGrade2, 1e-9);
            double resistance = Materials.Copper.ResistivityAt(PhysicalConstants.ZeroCelsius + 20) / (0.25 * Math.PI * wire.Diameter * wire.Diameter);
            Assert.Equal(table.Number(i, "R20_IACS_ohm_per_m"), resistance, 1e-3 * resistance);
            Assert.Equal(table.Number(i, "R20_nominal_ohm_per_m"), resistance, 0.01 * resistance);
        }
    }

    /// <summary>The sizes of the American gauge lie between the metric ones, so their enamel must too: a check of the interpolation from another table.</summary>
    [Fact]
    public void Wire_BetweenSizes_GrowsWithTheMetal()
    {
        for (int i = 1; i < WireTable.Sizes.Count; i++)
        {
            double middle = 0.5 * (WireTable.Sizes[i - 1].Diameter + WireTable.Sizes[i].Diameter);
            for (int grade = 1; grade <= 2; grade++)
                Assert.InRange(WireTable.OverallDiameter(middle, grade), WireTable.OverallDiameter(WireTable.Sizes[i - 1].Diameter, grade), WireTable.OverallDiameter(WireTable.Sizes[i].Diameter, grade));
        }
    }

    /// <summary>Thermal classes of IEC 60085.</summary>
    [Fact]
    public void InsulationClasses_All_AgreeWithIec60085()
    {
        var table = PublishedTable.Read("thermal-classes.csv");
        Assert.Equal(InsulationClasses.Names.Count, table.Count);
        for (int i = 0; i < table.Count; i++)
            Assert.Equal(table.Number(i, "class_C") + PhysicalConstants.ZeroCelsius, InsulationClasses.Limit(table.Text(i, "letter")), 1e-9);
    }

    /// <summary>Instantaneous bands of IEC 60898: at the lower limit the breaker holds 0.1 s, at the upper it has opened by then; 1.13 In hold an hour, 1.45 In open within it.</summary>
    [Fact]
    public void Breakers_EveryType_KeepTheBandsOfIec60898()
    {
        var table = PublishedTable.Read("breaker-iec60898.csv");
        for (int i = 0; i < table.Count; i++)
            foreach (double rating in Breaker.PreferredRatings.Where(r => r <= 63))
            {
                var breaker = new Breaker(table.Text(i, "type")[0], rating);
                Assert.Equal(ProtectionVerdict.Holds, breaker.At(table.Number(i, "instantaneous_no_trip_below_xIn") * rating, 0.1));
                Assert.Equal(ProtectionVerdict.Trips, breaker.At(table.Number(i, "instantaneous_trip_by_xIn") * rating, 0.1));
                Assert.Equal(ProtectionVerdict.Holds, breaker.At(1.13 * rating, 3600));
                Assert.Equal(ProtectionVerdict.Trips, breaker.At(1.45 * rating, 3600));
            }
    }

    /// <summary>Burn thresholds of ISO 13732-1 for bare metal: the product's limits are the lower ends of the bands.</summary>
    [Theory]
    [InlineData("1 s"), InlineData("1 min")]
    public void Burns_BareMetal_AgreeWithIso13732(string contact)
    {
        var table = PublishedTable.Read("burn-threshold-metal.csv");
        int row = Enumerable.Range(0, table.Count).Single(i => table.Text(i, "contact_time") == contact);
        double lower = double.Parse(table.Text(row, "bare_metal_C").Split("..")[0], System.Globalization.CultureInfo.InvariantCulture);
        var limit = contact == "1 s" ? TouchLimits.BurnsInASecond : TouchLimits.BurnsInAMinute;
        Assert.Equal(lower, limit.Value - PhysicalConstants.ZeroCelsius, 1e-9);
        Assert.Equal(table.Text(row, "grade")[0], limit.Grade);
    }

    /// <summary>Reference levels of ICNIRP 2009 and 2010, with the grade that each row has.</summary>
    [Theory]
    [InlineData("\"static, public, any part of the body\"", 0, false), InlineData("\"static, occupational, head and trunk\"", 0, true)]
    public void StaticLevels_AgreeWithIcnirp2009(string row, double frequency, bool atWork)
    {
        var limit = atWork ? FieldLimits.ForWorkers(frequency) : FieldLimits.ForPublic(frequency);
        string line = Lines().Single(l => l.StartsWith(row, StringComparison.Ordinal));
        string[] cells = line[(row.Length + 1)..].Split(',');
        Assert.Equal(double.Parse(cells[0], System.Globalization.CultureInfo.InvariantCulture) * (cells[1] == "mT" ? 1e-3 : 1), limit.Value, 1e-12);
        Assert.Equal(cells[3][0], limit.Grade);
    }

    /// <summary>Alternating levels of ICNIRP 2010 at the mains.</summary>
    [Theory]
    [InlineData("\"50 Hz, public\"", 50, false), InlineData("\"60 Hz, public\"", 60, false), InlineData("\"60 Hz, occupational\"", 60, true)]
    public void MainsLevels_AgreeWithIcnirp2010(string row, double frequency, bool atWork)
    {
        var limit = atWork ? FieldLimits.ForWorkers(frequency) : FieldLimits.ForPublic(frequency);
        string[] cells = Lines().Single(l => l.StartsWith(row + ",", StringComparison.Ordinal) && l.Contains("ICNIRP 2010", StringComparison.Ordinal))[(row.Length + 1)..].Split(',');
        Assert.Equal(double.Parse(cells[0], System.Globalization.CultureInfo.InvariantCulture) * 1e-6, limit.Value, 1e-12);
        Assert.Equal(cells[3][0], limit.Grade);
    }

    /// <summary>Preece's currents, half a millimetre and a whole one.</summary>
    [Fact]
    public void Fusing_EveryMetalTheProductKnows_AgreesWithPreece()
    {
        var table = PublishedTable.Read("fusing-preece.csv");
        int met = 0;
        for (int i = 0; i < table.Count; i++)
        {
            double half;
            try
            {
                half = FusingCurrent.Preece(table.Text(i, "metal"), 0.5e-3);
            }
            catch (ArgumentException)
            {
                continue;
            }

            Assert.Equal(table.Number(i, "I_0.5mm_A"), half, 0.006);
            Assert.Equal(table.Number(i, "I_1.0mm_A"), FusingCurrent.Preece(table.Text(i, "metal"), 1e-3), 0.006);
            met++;
        }

        Assert.True(met >= 3, $"{met} metals");
    }

    private static List<string> Lines()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Fieldwright.slnx")))
                return [.. File.ReadAllLines(Path.Combine(folder.FullName, "validation", "reference", "exposure-limits.csv"))];
        throw new InvalidOperationException("Fieldwright.slnx not found above the test's folder.");
    }
}
