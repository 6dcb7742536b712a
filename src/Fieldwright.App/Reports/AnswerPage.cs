using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.App.Reports;

/// <summary>One answer as a page.</summary>
internal static class AnswerPage
{
    /// <summary>Sets the page.</summary>
    public static Page Of(Apparatus apparatus, string? state, RoutedAnswer answer, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(apparatus));
        page.Gap();
        page.Prose("", 2, state is null ? "" : $"with {state}:", new Run(answer.Measure.Text, Tone.Strong));
        var answers = new AnswerLines(page);
        answers.Write(answer, 2);
        answers.WriteNotes();
        return page;
    }
}
