using Fieldwright.App.Reports;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.App.Page;

/// <summary>What a desk tells its window besides fields, ready to become JSON.</summary>
internal static class DeskWords
{
    /// <summary>The text from its start, for a window that opens.</summary>
    public static object Text(SharedText text)
    {
        var (words, version) = text.Now;
        return new { T = "text", Text = words, Version = version };
    }

    /// <summary>Changes of the text.</summary>
    public static object Updates(int from, IReadOnlyList<TextUpdate> updates) =>
        new { T = "updates", From = from, Updates = updates.Select(u => new { ClientID = u.Window, u.Changes }) };

    /// <summary>What is wrong with the file.</summary>
    public static object Mistakes(Reading reading) =>
        new { T = "mistakes", Items = reading.Mistakes.Select(m => new { m.Line, m.Column, m.Finding, m.Expectation, m.NearestWord }) };

    /// <summary>Dials and states.</summary>
    public static object Dials(Desk desk)
    {
        var apparatus = desk.Apparatus;
        return new
        {
            T = "dials",
            Name = apparatus?.Name,
            desk.State,
            States = apparatus?.States.Select(s => new { s.Name, Says = string.Join(", ", s.Settings.Select(x => x.Word is { } word ? $"{x.Input.Text}: {word}" : $"{x.Input.Text}: {Inputs.Write(x.Input, x.Value, apparatus)}")) }),
            Dials = desk.Dials.Select(d => Dial(desk, d.Dial, d.Now)),
            Known = apparatus is null ? null : new
            {
                Measures = Rehearsal.Measures(apparatus).Select(m => new { m.Text, m.Kind.Unit, m.Kind.Meaning }),
                Materials = apparatus.Materials.Concat(Materials.All).Select(m => m.Name).Distinct(),
                Windings = apparatus.Windings.Select(w => w.Name),
                States = apparatus.States.Select(x => x.Name),
                Inputs = Inputs.Of(apparatus).Select(i => i.Name.Text),
            },
        };
    }

    /// <summary>Lamps and words of every claim.</summary>
    public static object Verdicts(Desk desk) => new
    {
        T = "verdicts",
        Items = desk.Apparatus?.Claims.Zip(desk.Verdicts).Select(pair => new
        {
            pair.First.Say,
            pair.First.State,
            Asks = $"{pair.First.Measure.Text}, {pair.First.Bound.Text}",
            Outcome = pair.Second is { } v ? v.Outcome.ToString() : "Waiting",
            Word = pair.Second is { } w ? Lamp.Of(w.Outcome).Word : "not yet",
            Answer = pair.Second?.Answer.Leading is { } a ? Shown.In(pair.Second.Answer.Unit).ValueAndBar(a.Value, a.ErrorBar) : "",
        }),
    };

    /// <summary>What is going on.</summary>
    public static object Working(Desk desk) => new { T = "working", What = desk.Working, desk.Trouble };

    /// <summary>That the apparatus cannot be drawn, and why.</summary>
    public static object NoStage(string why) => new { T = "nostage", Why = why + " The claims are answered all the same." };

    private static object Dial(Desk desk, Dial dial, double now)
    {
        var apparatus = desk.Apparatus!;
        // Alternating values are peak inside and rms to people: the words at both ends give the scale.
        return new
        {
            dial.Input.Text,
            dial.From,
            dial.To,
            Now = now,
            Said = Inputs.Write(dial.Input, now, apparatus),
            SaidFrom = Inputs.Write(dial.Input, dial.From, apparatus),
            SaidTo = Inputs.Write(dial.Input, dial.To, apparatus),
        };
    }
}
