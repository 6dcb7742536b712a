using System.Globalization;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Matter;
using Fieldwright.Matter.Windings;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>What to make, to wind, to connect and to buy. Positions are those of the balloons in the drawing: parts first, then windings, in file order.</summary>
internal static class BuildTables
{
    // Wire that goes to lead-outs and waste.
    private const double Spare = 1.1;

    /// <summary>The tables that have rows.</summary>
    public static IReadOnlyList<SheetTable> Of(WorstOf worst) =>
        [.. new[] { Parts(worst.Apparatus), Windings(worst.Apparatus), Supplies(worst), Bill(worst.Apparatus) }.Where(t => t.Rows.Count > 0)];

    private static SheetTable Parts(Apparatus apparatus) => new(
        "What to make",
        ["", "part", "shape and sizes", "of", "mass", "moves"],
        [.. apparatus.Parts.Select((p, i) => (IReadOnlyList<string>)
        [
            Position(i), p.Name, ShapeWords.Of(p.Shape), p.Material.Name + (p.Laminated ? Text($", sheets, {100 * p.StackingFactor:0} % metal") : ""),
            Floats.MassIsKnown(p) ? Mass(Floats.Mass(p, apparatus.Depth)) : "not known", Moves(p.Freedom),
        ])],
        apparatus.Layout == Layout.Long && apparatus.Depth is { } depth ? Text($"Everything is {1e3 * depth:0.##} mm deep behind the page.") : "");

    private static SheetTable Windings(Apparatus apparatus) => new(
        "What to wind",
        ["", "winding", "turns", "wire", "layers", "length", "mass", "cold", "hot", "class"],
        [.. apparatus.Windings.Select((w, i) => Row(apparatus, w, apparatus.Parts.Count + i))],
        Text($"Layers are reckoned square; cold is at {Celsius(apparatus.Ambient):0} °C, hot at the limit of the class. Wind every coil the same way round and mark start S and finish F: a reversed one is turned round by its leads, as the wiring shows. Nominal wire may lie 2 % off (common practice, no source)."));

    private static IReadOnlyList<string> Row(Apparatus apparatus, Winding winding, int position)
    {
        double cold = Warming.Resistance(winding, apparatus), limit = InsulationClasses.Limit(winding.ThermalClass);
        double hot = cold * winding.Wire.Metal.ResistivityAt(limit) / winding.Wire.Metal.ResistivityAt(apparatus.Ambient);
        double length = Warming.WireLength(winding, apparatus);
        double section = winding.Wire.Strands * 0.25 * Math.PI * winding.Wire.BareDiameter * winding.Wire.BareDiameter;
        return
        [
            Position(position), winding.Name, Text($"{winding.Turns:0.##}"), winding.Wire.Text, Layers(winding), Text($"{length:0.0} m"),
            winding.Wire.Metal.Density is { } density ? Mass(length * section * density) : "", Ohms(cold), Ohms(hot), winding.ThermalClass,
        ];
    }

    private static string Layers(Winding winding)
    {
        (double Build, double Length)? space = winding.Space switch
        {
            RoundSpace r => (r.OuterRadius - r.InnerRadius, r.ToZ - r.FromZ),
            FrameSpace f => (f.Build, f.ToZ - f.FromZ),
            LimbSpace l => (l.Build, l.Length),
            TwoSides t => (t.Out.Width, t.Out.Height),
            _ => null,
        };
        if (space is not { } window)
            return "";
        var conductor = new Conductor(winding.Wire.BareDiameter, winding.Wire.OverallDiameter, winding.Wire.Metal, winding.Wire.Strands);
        try
        {
            // The inner radius plays no part in what fits.
            var analysis = WindingAnalysis.Round(conductor, winding.Turns, 0, window.Build, window.Length);
            return Text($"{analysis.Layers} of {analysis.TurnsPerLayer}");
        }
        catch (WindingDoesNotFitException e)
        {
            return Text($"does not fit: {e.Room:0} do");
        }
    }

    private static SheetTable Supplies(WorstOf worst) => new(
        "What to set",
        ["supply", "source", "setting", "current", "power", "feeds"],
        [.. worst.Apparatus.Supplies.Select(s => (IReadOnlyList<string>)
        [
            s.Name, Source(s), Setting(worst, s),
            worst.Most("current", SubjectKind.Supply, s.Name) is { } amperes ? Text($"{amperes:0.##} A") : "",
            worst.Most("power", SubjectKind.Supply, s.Name) is { } watts ? Text($"{watts:0} W") : "",
            string.Join(s.Connection == Connection.Series ? " then " : " beside ", s.Feeds),
        ])],
        worst.States.Count > 1 ? "The most over all states. Alternating values are rms." : "Alternating values are rms.");

    private static SheetTable Bill(Apparatus apparatus)
    {
        var rows = new List<IReadOnlyList<string>>();
        rows.AddRange(apparatus.Parts.GroupBy(p => p.Material.Name).Select(g => (IReadOnlyList<string>)
            [g.Key, string.Join(", ", g.Select(p => Text($"{p.Name}: {ShapeWords.Of(p.Shape)}"))),
             g.All(Floats.MassIsKnown) ? Mass(g.Sum(p => Floats.Mass(p, apparatus.Depth))) : "not known"]));
        rows.AddRange(apparatus.Windings.GroupBy(w => w.Wire.Text).Select(g =>
        {
            double length = Spare * g.Sum(w => w.Wire.Strands * Warming.WireLength(w, apparatus));
            var wire = g.First().Wire;
            double mass = length * 0.25 * Math.PI * wire.BareDiameter * wire.BareDiameter * (wire.Metal.Density ?? 0);
            return (IReadOnlyList<string>)["wire " + g.Key, Text($"{Math.Ceiling(length):0} m for {string.Join(", ", g.Select(w => w.Name))}, a tenth to spare"), mass > 0 ? Mass(mass) : ""];
        }));
        rows.AddRange(apparatus.Loads.Select(l => (IReadOnlyList<string>)[l.Name, LoadWords(l), ""]));
        rows.AddRange(apparatus.Supplies.Where(s => s.Breaker is not null).Select(s => (IReadOnlyList<string>)["breaker " + s.Breaker, "for " + s.Name, ""]));
        return new SheetTable("What to buy", ["item", "for", "mass"], rows, "");
    }

    private static string Source(Supply s) => s.Kind switch
    {
        SupplyKind.Mains => Text($"mains {(s.LineVoltage ?? s.Voltage ?? 0) / Math.Sqrt(2):0} V {s.Frequency:0.##} Hz{(s.Through is { } through ? " through a " + through : "")}"),
        SupplyKind.Battery => Text($"battery {s.Voltage ?? 0:0.##} V"),
        _ => s.Frequency > 0 ? Text($"current source {s.Frequency:0.####} Hz") : "current source, direct",
    } + (s.PhaseDegrees != 0 ? Text($", phase {s.PhaseDegrees:0.#}°") : "");

    private static string Setting(WorstOf worst, Supply s)
    {
        double root = s.Frequency > 0 ? Math.Sqrt(2) : 1;
        if (worst.Most("voltage needed", SubjectKind.Supply, s.Name) is { } volts && s.Current is { } current)
            return Text($"{current / root:0.##} A, which needs {volts:0.#} V");
        return s.Voltage is { } voltage ? Text($"{voltage / root:0.#} V") : s.Current is { } amperes ? Text($"{amperes / root:0.##} A") : "";
    }

    private static string LoadWords(Load load) => load.Kind switch
    {
        LoadKind.FilamentLamp => Text($"filament lamp {load.RatedVoltage:0.##} V {load.RatedPower:0.##} W on {load.On}"),
        LoadKind.Meter => Text($"meter of {load.Resistance:0.###} Ω on {load.On}"),
        _ => Text($"resistor of {load.Resistance:0.###} Ω on {load.On}"),
    };

    private static string Moves(Freedom freedom) => freedom switch
    {
        Freedom.UpAndDown => "up and down",
        Freedom.Sideways => "sideways",
        Freedom.Freely => "freely",
        _ => "fixed",
    };

    private static string Position(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    private static string Mass(double kilograms) => kilograms < 1 ? Text($"{1e3 * kilograms:0.#} g") : Text($"{kilograms:0.00} kg");

    private static string Ohms(double ohms) => ohms < 1 ? Text($"{1e3 * ohms:0.#} mΩ") : Text($"{ohms:0.00} Ω");
}
