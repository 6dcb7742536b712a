using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Fieldwright.Matter;

namespace Fieldwright.App.Reports;

/// <summary>Liquids side by side as a page: numbers first, then properties and hazard of each with where they come from.</summary>
internal static class LiquidsPage
{
    private const string Unknown = "not known";

    /// <summary>Sets the page.</summary>
    public static Page Of(Apparatus apparatus, string? state, IReadOnlyList<LiquidInChannel> liquids, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(apparatus));
        foreach (var channel in liquids.GroupBy(l => l.Channel))
        {
            page.Gap();
            page.Line(new Run(channel.Key + (state is null ? "" : ": " + state), Tone.Strong));
            var asked = channel.SelectMany(l => l.Answers).Select(a => a.Measure.Kind).Distinct().ToList();
            foreach (string kind in asked)
            {
                page.Line("  ", kind);
                foreach (var liquid in channel)
                    page.Line("    ", Name(liquid).PadRight(24), new Run(Shows(liquid, kind), Tone.Strong));
            }

            foreach (var liquid in channel)
            {
                page.Gap();
                page.Line(new Run(Name(liquid), Tone.Strong));
                var m = liquid.Liquid;
                page.Prose("  ", 2, string.Join(", ", Properties(m, apparatus.Ambient)) + ".");
                if (m.MeltingPoint > apparatus.Ambient)
                    page.Prose("  ", 2, new Run("It is solid in the hall: it must be kept warm, and every number above is for the melt.", Tone.Unsure));
                page.Prose("  from      ", 12, new Run(m.Source.Length > 0 ? m.Source : "as the file states", Tone.Quiet));
                if (liquid.Hazard is not { } hazard)
                {
                    page.Prose("  hazard    ", 12, new Run("Not known here: ask its maker before it comes near people.", Tone.Unsure));
                    continue;
                }

                page.Prose("  hazard    ", 12, hazard.Finding);
                page.Prose("  limit     ", 12, $"{hazard.Limit}, {hazard.Standard} [{RehearsalPage.Grade(hazard.Grade)}]");
                page.Prose("  do        ", 12, hazard.Remedy);
            }
        }

        page.Gap();
        page.Prose("", 0, "Mercury needs licensed handling; gallium–indium–tin is the usual substitute.");
        page.Prose("", 0, new Run(Fieldwright.Bench.Cautions.Caution.Deferral, Tone.Quiet));
        return page;
    }

    private static string Name(LiquidInChannel liquid) => liquid.Liquid.Name + (liquid.IsThere ? ", as the file" : "");

    private static string Shows(LiquidInChannel liquid, string kind)
    {
        var answer = liquid.Answers.FirstOrDefault(a => a.Measure.Kind == kind);
        if (answer is null)
            return Unknown;
        return answer.Leading is { } found ? Shown.In(answer.Unit).ValueAndBar(found.Value, found.ErrorBar) + "  (" + Judge.Word(found.Route) + ")" : answer.Silent.Select(s => s.Reason).FirstOrDefault() ?? Unknown;
    }

    private static IEnumerable<string> Properties(Material m, double ambient)
    {
        string In(string unit, double? value) => value is { } known ? Shown.In(unit).Rounded(known, 3) : Unknown;
        yield return "conductivity " + In("MS/m", m.ConductivityAt(ambient));
        yield return "density " + In("kg/m3", m.Density);
        yield return "viscosity " + In("mPa s", m.DynamicViscosity);
        yield return "melts at " + In("°C", m.MeltingPoint);
    }
}
