using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Builds supplies, each from its own section.</summary>
/// <param name="mistakes">Where mistakes are gathered.</param>
internal sealed class SuppliesOfFile(List<Mistake> mistakes)
{
    private static readonly double RootTwo = Math.Sqrt(2);

    /// <summary>A supply; null when its pieces contradict one another.</summary>
    public Supply? Supply(string name, Section s)
    {
        int before = mistakes.Count;
        double frequency = s.Number("frequency", 0);
        var (kind, current, voltage, line) = Source(s, frequency);
        if (mistakes.Count > before)
            return null;
        var supply = new Supply(
            name, kind, current, voltage, line, frequency, s.Number("phase", 0) * 180 / Math.PI, s.Number("internal resistance", 0), s.Text("through"), s.Text("breaker"),
            [.. s.List("feeds").OfType<Phrase>().Select(p => p.Text)], JoinedAs(s.Text("connection")))
        {
            CurrentLimit = s.Has("current limit") ? Peak(s, "current limit", frequency) : null,
            Capacitance = s.Number("capacitance"),
            Delay = s.Number("delay", 0),
            Bleeder = s.Number("bleeder"),
            Fuse = s.Text("fuse"),
            Backwards = s.Text("phase order") == "reversed",
            Split = s.Inner("capacitor") is { Whole: true } c ? new SplittingCapacitor(c.Number("of")!.Value, c.Text("before")!, c.Number("for", 0.5 * Math.PI)) : null,
        };
        CheckJoining(supply, s);
        return mistakes.Count > before ? null : supply;
    }

    private static Connection JoinedAs(string? word) => word switch
    {
        "parallel" => Connection.Parallel,
        "star" => Connection.Star,
        "delta" => Connection.Delta,
        _ => Connection.Series,
    };

    private (SupplyKind Kind, double? Current, double? Voltage, double? Line) Source(Section s, double frequency)
    {
        switch (s.Alternative!.Marker)
        {
            case "battery":
                return (SupplyKind.Battery, null, Peak(s, "battery", 0), null);
            case "bench supply":
                return (SupplyKind.BenchSupply, null, Peak(s, "bench supply", 0), null);
            case "capacitor bank":
                return (SupplyKind.CapacitorBank, null, Peak(s, "capacitor bank", 0), null);
            case "current":
                return (SupplyKind.Current, Peak(s, "current", frequency), null, null);
            case "inverter":
                if (frequency == 0)
                    Add(s.At("frequency"), "an inverter of 0 Hz", "a frequency such as 50 Hz; direct current comes from a battery or a bench supply");
                return (SupplyKind.Inverter, null, Peak(s, "inverter", frequency), null);
            default:
                var (line, volts) = Mains(s) ?? default;
                return (SupplyKind.Mains, null, volts, s.Has("through") ? line : null);
        }
    }

    private (double Line, double? Volts)? Mains(Section s)
    {
        double frequency = s.Number("frequency")!.Value;
        string? through = s.Text("through");
        int before = mistakes.Count;
        if (frequency == 0)
            Add(s.At("frequency"), "mains of 0 Hz", "a frequency such as 50 Hz; direct current comes from a battery");
        if (s.Has("set to") && through != "variable transformer")
            Add(s.At("set to"), "'set to' without a variable transformer", "through: variable transformer");
        if (s.Has("giving") != (through == "safety transformer"))
            Add(s.At("giving"), s.Has("giving") ? "'giving' without a safety transformer" : "nothing says what voltage the safety transformer gives", s.Has("giving") ? "through: safety transformer" : "giving: a voltage such as 24 V");
        if (mistakes.Count > before || Peak(s, "mains", frequency) is not { } line)
            return null;
        return through switch
        {
            "variable transformer" => (line, s.Has("set to") ? Peak(s, "set to", frequency) : null),
            "safety transformer" => (line, Peak(s, "giving", frequency)),
            _ => (line, line),
        };
    }

    private void CheckJoining(Supply supply, Section s)
    {
        bool polyphase = supply.Connection is Connection.Star or Connection.Delta;
        if (polyphase && supply.Frequency == 0)
            Add(s.At("connection"), $"{s.Text("connection")} of direct current", "an alternating supply, or series or parallel");
        else if (polyphase && supply.Kind == SupplyKind.CapacitorBank)
            Add(s.At("connection"), $"a capacitor bank in {s.Text("connection")}", "series");
        if (supply.Backwards && !polyphase)
            Add(s.At("phase order"), "a phase order with one phase only", "connection: star, or delta");
        if (supply.Split is not { } split)
            return;
        var at = s.Inner("capacitor")!.At("before");
        if (supply.Connection != Connection.Parallel || supply.Feeds.Count != 2)
            Add(s.At("capacitor"), "a capacitor that has no pair of windings side by side to split", "two windings under 'feeds' and 'connection: parallel'");
        else if (!supply.Feeds.Any(f => Apparatus.Same(f, split.Before)))
            Add(at, $"'{Words.Shorten(split.Before)}' is not fed by '{supply.Name}'", Words.Or(supply.Feeds));
        if (supply.Through == "variable transformer" && supply.Voltage is null)
            Add(s.At("capacitor"), "a capacitor behind a variable transformer that is set for a current", "set to: a voltage");
    }

    // Alternating values are rms unless peak is written; inside they are peak. Direct ones are neither.
    private double? Peak(Section s, string key, double frequency)
    {
        var amount = s.Amount(key)!;
        if (frequency > 0)
            return amount.Swing == Swing.Peak ? amount.Value : amount.Value * RootTwo;
        if (amount.Swing == Swing.Unsaid)
            return amount.Value;
        Add(amount.Node, $"{amount.Node.Describe()} of direct current", "a value without rms or peak, or a frequency beside it");
        return null;
    }

    private void Add(Node node, string finding, string expectation) => mistakes.Add(new Mistake(node.Line, node.Column, finding, expectation));
}
