using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.App.Reports;

/// <summary>Everything that can be asked, as a page: each kind with its meaning, then each subject with unit and routes.</summary>
internal static class MeasuresPage
{
    /// <summary>Sets the page.</summary>
    public static Page Of(Apparatus apparatus, IReadOnlyList<AskableMeasure> measures, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(apparatus));
        int unitColumn = Math.Min(60, measures.Select(m => m.Text.Length + 4).DefaultIfEmpty(0).Max());
        foreach (var kind in measures.GroupBy(m => m.Kind))
        {
            page.Gap();
            page.Prose("", 0, new Run(kind.Key.Meaning, Tone.Quiet));
            foreach (var measure in kind)
                page.Line(
                    "  ",
                    new Run(measure.Text.PadRight(unitColumn), Tone.Strong),
                    Shown.In(kind.Key.Unit).Unit.PadRight(7),
                    new Run(string.Join(", ", measure.Routes.Select(Judge.Word)), Tone.Quiet));
        }

        page.Gap();
        page.Prose("", 0, "Add a circumstance to any of them: 'at height 5 mm', 'at current in inner 18 A', 'at rest'.");
        return page;
    }
}
