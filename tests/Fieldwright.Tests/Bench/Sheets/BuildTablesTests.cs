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
        var table = Table("What to wind");
        Assert.Equal("25.1 m", Cell(table, "length"));
        double cold = Number(Cell(table, "cold")) * 1e-3, hot = Number(Cell(table, "hot")) * 1e-3;
        Assert.Equal(0.02176 * 25.13, cold, 0.01 * 0.547);
        Assert.Equal((234.5 + 130) / (234.5 + 20), hot / cold, 0.005);
    }

    [Fact]
    public void Windings_ThatFitOnlyNested_SaySo() => Assert.Contains("nested (", Cell(Of(Coil.Replace("turns: 100", "turns: 700", StringComparison.Ordinal)).First(t => t.Title == "What to wind"), "layers"));

    [Theory]
    [InlineData("capacitor bank: 160 V, capacitance: 4.7 mF, bleeder: 2.2 kohm", "capacitor bank 4.7 mF, bleeder 2.2 kΩ", "charge to 160 V")]
    [InlineData("bench supply: 12 V, current limit: 3 A", "direct bench supply of at most 3 A", "12 V, at most 3 A")]
    [InlineData("inverter: 24 V, frequency: 400 Hz, current limit: 5 A", "inverter 400 Hz of at most 5 A", "24 V, at most 5 A")]
    public void Supplies_EachKind_IsNamedAndSet(string supply, string source, string setting)
    {
        var table = Of(Coil.Replace("current: 7 A", supply, StringComparison.Ordinal)).Single(t => t.Title == "What to set");
        Assert.Equal(source, Cell(table, "source"));
        Assert.Equal(setting, Cell(table, "setting"));
    }

    // The file's own C16 at 20 V in star behind a transformer from 400 V: the line carries a twentieth of the windings' current.
    [Fact]
    public void Protection_BehindATransformer_CarriesTheMainsSide()
    {
        var tables = Of(Coil.Replace("current: 7 A", "mains: 230 V, frequency: 50 Hz, through: safety transformer, giving: 23 V, breaker: B6", StringComparison.Ordinal));
        double winding = Number(Cell(tables.Single(t => t.Title == "What to set"), "current")), line = Number(Cell(tables.Single(t => t.Title == "What protects it"), "carries"));
        Assert.Equal(winding / 10, line, 0.006);
    }

    // Three phases, fifteen slots, full pitch of three: coil 1 of phase a runs from slot 1 to slot 4, and the belts a −c b −a c −b turn every second coil of a phase round.
    [Fact]
    public void Coils_OfATrack_AreListedInOrderAndSense()
    {
        var table = Of(
            """
            apparatus: Track
            symmetry: long
            depth: 60 mm
            windings:
              track: {turns: 60, wire: 1 mm grade 1, phases: 3, slots: 15, slot pitch: 20 mm, slot width: 16 mm, slot height: 16 mm}
            supplies:
              box: {current: 6 A, frequency: 50 Hz, connection: star, feeds: track}
            """).Single(t => t.Title == "How the coils lie and join");
        Assert.Equal("1 (1–4) · 4 turned (4–7) · 7 (7–10) · 10 turned (10–13)", table.Rows[0][1]);
        Assert.Equal(["L1", "L2", "L3"], table.Rows.Select(r => r[2]));
    }

    // 60.16 J into 100 mean turns of 1 mm wire: 19.7 cm³ of copper at 3.42 MJ/(m³ K), 0.89 K a shot.
    [Fact]
    public void Duty_Bank_SaysWhatAShotWarms()
    {
        var apparatus = File.Bench.Read(Coil.Replace("current: 7 A", "capacitor bank: 160 V, capacitance: 4.7 mF", StringComparison.Ordinal));
        var table = DutyTable.Of(new WorstOf(apparatus, new RoutePanel(apparatus, 0.05, TestContext.Current.CancellationToken)));
        Assert.Equal(60.16 / (25.13 * 0.7854e-6 * 8890 * 385), Number(table.Rows[0][^2]), 0.02);
    }

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
        // The hottest turn is at most that warm, and within a degree of it after so short a time.
        Assert.Equal(20 + Math.Exp(0.00393 * rate * 30) / 0.00393 - 1 / 0.00393, Number(Cell(table, "after 30 s")), 1.0);
    }

    // Water weighs 998.2 kg/m³ at 20 °C, so 20 kPa are 2.04 m of it; a tenth of tube to spare.
    [Fact]
    public void Board_Water_NamesItsElementsAndWhatToBuy()
    {
        var tables = Of(File.Bench.TwoTubes);
        var make = tables.Single(t => t.Title == "What to make");
        Assert.Equal(["narrow", "tube of 2\u00a0mm bore, 900\u00a0mm long", "fork", "basin"], make.Rows[1]);
        var buy = tables.Single(t => t.Title == "What to buy").Rows;
        Assert.Contains(buy, r => r[0] == "tube of 2 mm bore" && r[1] == "1.54 m for narrow, other, a tenth to spare");
        Assert.Contains(buy, r => r[0] == "pump" && r[1] == "pump of 20 kPa, or a tank raised to 2.04 m");
    }

    private static double Number(string cell) => double.Parse(cell.Split(' ')[0], CultureInfo.InvariantCulture);

    private static string Cell(SheetTable table, string column, int row = 0) => table.Rows[row][table.Columns.ToList().IndexOf(column)];

    private static SheetTable Table(string title) => Of(Coil).Single(t => t.Title == title);

    private static IReadOnlyList<SheetTable> Of(string file)
    {
        var apparatus = File.Bench.Read(file);
        return BuildTables.Of(new WorstOf(apparatus, new RoutePanel(apparatus, 0.05, TestContext.Current.CancellationToken)));
    }
}
