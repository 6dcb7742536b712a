using System.Globalization;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Sheets;
using Xunit;

namespace Fieldwright.Tests.Bench.Sheets;

public class BuildTablesTests
{
    private const string Coil =
        """
        apparatus: Coil
        symmetry: round
        hall: {temperature: 20 °C}
        windings:
          coil: {turns: 100, wire: 1 mm grade 1, between radii: [30 mm, 50 mm], from z: 0 mm, to z: 40 mm, insulation: B}
        supplies:
          box: {current: 7 A, feeds: coil}
        """;

    [Fact]
    public void Windings_OneCoil_AgreesWithTheWireTable()
    {
        // 100 mean turns of 2π · 40 mm are 25.13 m; wire-iec.csv: 1 mm copper 0.02176 Ω/m nominal (grade b), so 0.547 Ω, and 234.5 + 130 over 234.5 + 20 hot.
        var row = Table("What to wind").Rows[0];
        Assert.Equal("25.1 m", row[5]);
        double cold = Number(row[7]) * 1e-3, hot = Number(row[8]) * 1e-3;
        Assert.Equal(0.02176 * 25.13, cold, 0.01 * 0.547);
        Assert.Equal((234.5 + 130) / (234.5 + 20), hot / cold, 0.005);
    }

    [Fact]
    public void Windings_TooManyTurns_SaysHowManyFit() => Assert.Contains("does not fit", Of(Coil.Replace("turns: 100", "turns: 700", StringComparison.Ordinal)).First(t => t.Title == "What to wind").Rows[0][4]);

    [Fact]
    public void Bill_Wire_HasATenthToSpare()
    {
        var wire = Table("What to buy").Rows.Single(r => r[0] == "wire 1 mm grade 1");
        Assert.StartsWith("28 m", wire[1]);
        // 27.6 m of 0.785 mm² copper at 8.89 to 8.96 g/cm³.
        Assert.InRange(Number(wire[2]), 191, 196);
    }

    [Fact]
    public void Duty_OneCoil_WarmsAsAdiabaticCopperDoes()
    {
        // 0.00504 K/s per (A/mm²)² at 20 °C (practice.md, grade b); 7 A in 0.785 mm² are 8.91 A/mm².
        var apparatus = File.Bench.Read(Coil);
        var table = DutyTable.Of(new WorstOf(apparatus, new RoutePanel(apparatus, 0.05, TestContext.Current.CancellationToken)));
        double rate = 0.00504 * 8.91 * 8.91;
        Assert.Equal(20 + Math.Exp(0.00393 * rate * 30) / 0.00393 - 1 / 0.00393, Number(table.Rows[0][3]), 0.8);
    }

    private static double Number(string cell) => double.Parse(cell.Split(' ')[0], CultureInfo.InvariantCulture);

    private static SheetTable Table(string title) => Of(Coil).Single(t => t.Title == title);

    private static IReadOnlyList<SheetTable> Of(string file)
    {
        var apparatus = File.Bench.Read(file);
        return BuildTables.Of(new WorstOf(apparatus, new RoutePanel(apparatus, 0.05, TestContext.Current.CancellationToken)));
    }
}
