using Fieldwright.Bench.Claims;

namespace Fieldwright.App.Reports;

/// <summary>Sets the answers of the routes side by side, with their difference in numbers and, when it matters, in words.</summary>
/// <remarks>What a route must have said about it goes to numbered notes, each once a page.</remarks>
internal sealed class AnswerLines(Page page)
{
    private const int RouteColumn = 10;
    private readonly List<string> notes = [];

    /// <summary>The routes, one a line.</summary>
    /// <param name="answer">What they said.</param>
    /// <param name="indent">Columns before the names of the routes.</param>
    public void Write(RoutedAnswer answer, int indent)
    {
        var shown = Shown.In(answer.Unit);
        string blank = new(' ', indent);
        var numbers = answer.Answers.Select(a => shown.ValueAndBar(a.Value, a.ErrorBar)).ToList();
        int width = numbers.Count == 0 ? 0 : numbers.Max(n => n.Length);
        var disagreeing = answer.Disagreeing.ToList();
        for (int i = 0; i < answer.Answers.Count; i++)
        {
            var one = answer.Answers[i];
            string note = one.Remark.Length > 0 ? Mark(one.Remark) : "";
            page.Line(
                blank,
                Judge.Word(one.Route).PadRight(RouteColumn),
                new Run(numbers[i].PadRight(width), i == 0 ? Tone.Strong : Tone.Plain),
                new Run(i == 0 ? "" : "   " + Apart(one, answer.Answers[0], shown), disagreeing.Contains(one) ? Tone.Unsure : Tone.Quiet),
                new Run(note.Length > 0 ? "  " + note : "", Tone.Quiet));
            if (one.Bracket is { } bounds)
                page.Line(blank, new string(' ', RouteColumn), new Run(shown.Between(bounds.Lower, bounds.Upper), Tone.Quiet));
            else if (one.Unbounded.Length > 0)
                page.Line(blank, new string(' ', RouteColumn), new Run("no bounds: " + one.Unbounded, Tone.Quiet));
        }

        foreach (var silent in answer.Silent)
            page.Prose(blank + Judge.Word(silent.Route).PadRight(RouteColumn), indent + RouteColumn, new Run("no answer: " + silent.Reason, Tone.Unsure));
        if (answer.Answers.Count == 0 && answer.Silent.Count == 0)
            page.Line(blank, new Run("no route can answer this for this apparatus", Tone.Unsure));
        foreach (var other in disagreeing)
            page.Prose(blank, indent, new Run(Words(other, answer.Answers[0], shown), Tone.Unsure));
    }

    /// <summary>The notes that were marked, at the foot of the page.</summary>
    public void WriteNotes()
    {
        if (notes.Count == 0)
            return;
        page.Gap();
        for (int i = 0; i < notes.Count; i++)
            page.Prose(new Run(Superscript(i + 1) + " ", Tone.Quiet), 2, new Run(notes[i], Tone.Quiet));
    }

    private string Mark(string remark)
    {
        int at = notes.IndexOf(remark);
        if (at < 0)
        {
            notes.Add(remark);
            at = notes.Count - 1;
        }

        return Superscript(at + 1);
    }

    private static string Apart(Answer one, Answer leading, Shown shown)
    {
        double difference = one.Value - leading.Value;
        return shown.IsNothing(difference) ? "the same" : $"{shown.Gap(difference)} {(difference > 0 ? "above" : "below")}" + Relative(difference, leading, shown);
    }

    // A share means something only of quantities whose zero is nothing.
    private static string Relative(double difference, Answer leading, Shown shown) =>
        shown.Unit is "°C" or "%" || leading.Value == 0 ? "" : $" ({Shown.Share(difference / leading.Value)})";

    private static string Words(Answer other, Answer leading, Shown shown) =>
        $"! The {Judge.Word(other.Route)} route differs from the {Judge.Word(leading.Route)} route by {shown.Gap(other.Value - leading.Value)}, "
        + $"more than both error bars together ({shown.Gap(other.ErrorBar + leading.ErrorBar)}): at least one model leaves something out.";

    private static string Superscript(int number) =>
        string.Concat(number.ToString(System.Globalization.CultureInfo.InvariantCulture).Select(c => "⁰¹²³⁴⁵⁶⁷⁸⁹"[c - '0']));
}
