using Fieldwright.Bench;
using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.App.Reports;

/// <summary>A circuit redrawn in another domain, as a page.</summary>
internal static class AnaloguePage
{
    /// <summary>Sets the page.</summary>
    public static Page Of(Apparatus apparatus, string? state, Likeness likeness, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(apparatus));
        page.Gap();
        var (from, to) = (likeness.From, likeness.To);
        page.Prose("", 0, new Run($"Its {from.Word} circuit, as {to.Word}" + (state is null ? "" : $", in '{state}'"), Tone.Strong));
        page.Gap();
        page.Prose("  ", 2, likeness.ScaleOfPotential + ",");
        page.Prose("  ", 2, likeness.ScaleOfFlow + ",");
        double one = Shown.In(to.ResistanceUnit).Of(likeness.PotentialScale / likeness.FlowScale / Shown.In(from.ResistanceUnit).Of(1));
        page.Prose("  ", 2, $"1 {Shown.In(from.ResistanceUnit).Unit} of {from.Resistance} as {Shown.Digits(one, 3)} {Shown.In(to.ResistanceUnit).Unit} of {to.Resistance}.");
        foreach (var pair in likeness.Counterparts)
        {
            page.Gap();
            page.Line(new Run(pair.Name, Tone.Strong));
            Line(page, from.Word, pair.Is, pair.Drop, pair.Flow, from);
            Line(page, to.Word, pair.Becomes, pair.RedrawnDrop, pair.RedrawnFlow, to);
        }

        foreach (string remark in likeness.Remarks)
        {
            page.Gap();
            page.Prose("", 0, new Run(remark, Tone.Quiet));
        }

        if (likeness.Breaks.Count == 0)
            return page;
        page.Gap();
        page.Line(new Run("Where the likeness breaks", Tone.Strong));
        foreach (var b in likeness.Breaks)
        {
            page.Gap();
            string unit = b.Unit.Length == 0 ? "" : " " + b.Unit;
            page.Line(2, new Run((b.Holds ? "● " : "✕ ") + b.What, b.Holds ? Tone.Good : Tone.Bad), new Run($"{b.Of}: {Shown.Digits(b.Now, 3)}{unit}, breaks {((b.Now < b.At) == b.Holds ? "from" : "below")} {Shown.Digits(b.At, 3)}{unit}{((b.Now < b.At) == b.Holds ? " on" : "")}"));
            page.Prose("    ", 4, new Run(b.Why, Tone.Quiet));
        }

        page.Gap();
        page.Prose("", 0, new Run("● the likeness still holds on this board · ✕ here it already misleads", Tone.Quiet));
        return page;
    }

    private static void Line(Page page, string word, string what, double drop, double flow, DomainWords d) =>
        page.Prose("  " + word.PadRight(10), 12, new Run(what), new Run(
            $"· {(drop < 0 ? "lifts" : "drop")} {d.PotentialText(Math.Abs(drop))} · {d.Flow} {d.FlowText(flow)}", Tone.Quiet));
}

/// <summary>A wire board as a page: cut list, meter readings, checks.</summary>
internal static class WireBoardPage
{
    /// <summary>Sets the page.</summary>
    public static Page Of(Apparatus apparatus, string? state, WireBoard board, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(apparatus));
        page.Gap();
        string Q(double value, string unit, int digits = 4) => Shown.In(unit).Rounded(value, digits);
        page.Prose("", 0, new Run($"Its flux on {board.Wires.Count} wires" + (state is null ? "" : $", in '{state}'"), Tone.Strong));
        page.Gap();
        void Line(string name, string value) => page.Line("  ", name.PadRight(34), new Run(value, Tone.Strong));
        Line("between the rails", $"{Q(board.Options.Voltage, "V", 3)}, for {Q(board.AmpereTurns, "A")}-turns");
        Line("wire", $"constantan {Q(board.Options.WireDiameter, "mm", 3)}, {Q(WireBoard.Constantan / (0.25 * Math.PI * board.Options.WireDiameter * board.Options.WireDiameter), "ohm")} a metre (resistivity from memory)");
        Line("each tube", $"{Q(board.FluxOfTube, "µWb")}, one ampere for {Q(board.Scale, "µWb")}");
        Line("wire in all", Q(board.Wires.Sum(w => w.Length ?? 0), "m"));
        page.Gap();
        page.Line(new Run("Cut list", Tone.Strong));
        page.Line("  ", new Run("wire  its line is driven by     cut       resistance   current", Tone.Quiet));
        foreach (var w in board.Wires)
            page.Line("  ", $"{w.Number,4}  {Q(w.AmpereTurns, "A"),12}-turns  ", w.Length is { } length ? $"{Q(length, "m"),10}  {Q(w.Resistance, "ohm"),12}  {Q(w.Current, "mA"),10}" : new Run("left off: it would be longer than eight spans and carry next to nothing", Tone.Quiet));
        page.Gap();
        page.Line(new Run("The meter, a copper bar pushed in over the wires", Tone.Strong));
        for (int k = 0; k < board.Readings.Count; k++)
            page.Line("  ", (k == 0 ? "no bar" : k == 1 ? "over wire 1" : $"over wires 1 to {k}").PadRight(24), new Run(Q(board.Readings[k], "mA"), Tone.Strong));
        page.Prose("", 0, new Run($"The bar covers {Q(board.Options.BarWidth, "mm", 3)} of each wire in the middle of the span, joins the wires it lies on, and touches without resistance of its own. It does to the wires what a block of steel does to the tubes: it takes their resistance away where it lies.", Tone.Quiet));
        page.Gap();
        page.Line(new Run("Checks", Tone.Strong));
        Line("flux that all wires stand for", Q(board.Flux, "µWb"));
        Line(board.HasMagnets ? "mean flux driven, by the field" : "mean flux of a turn by the field", $"{Q(board.FluxOfField, "µWb")}, {Shown.Share(board.Flux / board.FluxOfField - 1)} {(board.Flux > board.FluxOfField ? "less" : "more")} than the wires");
        Line("reluctance, wires in parallel", Q(board.Reluctance, "MA/Wb"));
        foreach (var check in board.Checks)
            Line($"reluctance by {Judge.Word(check.Route)}", Shown.In("MA/Wb").ValueAndBar(check.Reluctance, check.Bar));
        if (board.Remark.Length > 0 && board.Checks.Count > 0)
            page.Prose("  ", 2, new Run(board.Remark, Tone.Quiet));
        if (board.Checks.Count == 0)
            page.Prose("  ", 2, new Run(board.HasMagnets ? "No route knows this drive by another way: magnets and windings work together, or not every magnet's working point is known." : "Induced currents take part in this field, so that no inductance can be set beside it.", Tone.Quiet));
        return page;
    }
}
