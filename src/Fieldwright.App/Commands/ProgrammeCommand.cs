using Fieldwright.App.Reports;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Programmes;

namespace Fieldwright.App.Commands;

/// <summary><c>programme FILE</c>: an evening with its times, temperatures, energy and people.</summary>
internal sealed class ProgrammeCommand : BenchCommand<AnsweringSettings>
{
    /// <inheritdoc/>
    protected override int Run(AnsweringSettings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        if (settings.Set.Length > 0)
            throw new WrongCallException("--set: a programme was given. expected one apparatus file, since an input is turned for one apparatus only.");
        var mistakes = new List<Mistake>();
        var programme = ProgrammeFile.Read(Opened.Text(settings.File), mistakes) ?? throw new WrongCallException(settings.File, mistakes);
        string folder = Path.GetDirectoryName(Path.GetFullPath(settings.File))!;
        var apparatus = new Dictionary<string, Apparatus>();
        var wrong = new List<string>();
        foreach (var step in programme.Steps.Where(s => s.Apparatus is not null))
            try
            {
                apparatus[step.Apparatus!] = Opened.Apparatus(Path.GetRelativePath(".", Path.Combine(folder, step.Apparatus!)));
                Opened.State(step.State, apparatus[step.Apparatus!]);
            }
            catch (WrongCallException e)
            {
                wrong.AddRange(e.Lines.Select(l => $"{settings.File}: {l}"));
            }

        if (wrong.Count > 0)
            throw new WrongCallException([.. wrong.Distinct()]);
        ProgrammeReport report;
        using (var progress = new ProgressLine(terminal))
            report = ProgrammePlan.Of(programme, path => apparatus[path], options, progress, terminal.Stop);
        if (settings.Json)
            terminal.Out.WriteLine(ProgrammePage.Json(report));
        else
            ProgrammePage.Of(report, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return report.Ready ? ExitCode.Good : ExitCode.NotAll;
    }
}
