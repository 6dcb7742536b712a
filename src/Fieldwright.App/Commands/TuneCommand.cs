using System.ComponentModel;
using System.Globalization;
using Fieldwright.App.Reports;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>tune FILE --turn "DIAL"</c>: settings at which all claims hold with the best least margin.</summary>
internal sealed class TuneCommand : BenchCommand<TuneCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        if (settings.Trials is < 2 or > 100_000)
            throw new WrongCallException("--trials: this is no number of trials. expected a whole number between 2 and 100000.");
        var apparatus = Opened.Apparatus(settings);
        if (apparatus.Claims.Count == 0)
            throw new WrongCallException($"{settings.File}: the file makes no claims, so there is nothing to tune for.");
        var inputs = Turned(settings.Turn, apparatus);
        var kept = Resumed.Rows(settings.Resume, settings, string.Join('\n', ["tune", .. settings.Turn]));
        TuneReport report;
        using (var progress = new ProgressLine(terminal))
            report = Resumed.Run(settings.Resume, kept, terminal, () => TuneStudy.Run(apparatus, inputs, settings.Trials, options, kept, progress, terminal.Stop));
        if (settings.Json)
            terminal.Out.WriteLine(StudyJson.Of(report));
        else
            TunePage.Of(report, settings.File, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return report.Rehearsal.AllHold ? ExitCode.Good : ExitCode.NotAll;
    }

    // 'current in inner' turns a dial over its range; 'turns of inner from 500 to 900' any input over a range of one's own. Every dial if none is named.
    private static List<TunedInput> Turned(string[] asked, Apparatus apparatus)
    {
        if (asked.Length == 0)
            return apparatus.Dials.Count is > 0 and <= 6 ? [.. apparatus.Dials.Select(d => new TunedInput(d.Input, d.From, d.To))]
                : throw new WrongCallException(apparatus.Dials.Count == 0
                    ? "--turn: the file has no dials. expected --turn \"turns of inner from 500 to 900\", an input and its range."
                    : "--turn: the file has more than six dials. expected --turn with up to six of them.");
        if (asked.Length > 6)
            throw new WrongCallException("--turn: more than six inputs. expected six at most.");
        var wrong = new List<string>();
        var turned = new List<TunedInput>();
        foreach (string text in asked)
        {
            string place = $"--turn \"{text}\"";
            int from = text.IndexOf(" from ", StringComparison.Ordinal), to = text.IndexOf(" to ", StringComparison.Ordinal);
            string name = (from < 0 ? text : text[..from]).Trim();
            if (!Inputs.TryReadName(name, apparatus, out var input, out var mistake))
                wrong.Add(WrongCallException.Line(place, mistake));
            else if (turned.Exists(t => t.Input == input))
                wrong.Add($"{place}: it is turned already. expected each input once.");
            else if (from < 0)
            {
                if (apparatus.Dials.FirstOrDefault(d => d.Input == input) is { } dial)
                    turned.Add(new TunedInput(input, dial.From, dial.To));
                else
                    wrong.Add($"{place}: this is no dial of the file, so its range is not known. expected \"{name} from … to …\".");
            }
            else if (to < from)
                wrong.Add($"{place}: the range has no end. expected \"{name} from … to …\".");
            else if (!Inputs.TryRead($"{name}={text[(from + 6)..to]}", apparatus, out var low, out mistake) && mistake is not null)
                wrong.Add(WrongCallException.Line(place, mistake));
            else if (!Inputs.TryRead($"{name}={text[(to + 4)..]}", apparatus, out var high, out mistake) && mistake is not null)
                wrong.Add(WrongCallException.Line(place, mistake));
            else if (low!.Word is not null || !(low.Value < high!.Value))
                wrong.Add($"{place}: this is no range. expected a lower value first, then a higher one, of an input that takes a number.");
            else
                turned.Add(new TunedInput(input, low.Value, high.Value));
        }

        return wrong.Count == 0 ? turned : throw new WrongCallException(wrong);
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : AnsweringSettings
    {
        /// <summary>What to turn.</summary>
        [CommandOption("--turn <INPUT>")]
        [Description("Turn a dial over its range, [italic]\"current in inner\"[/], or an input over a range of your own, [italic]\"turns of inner from 500 to 900\"[/]; may be repeated. Every dial if not said.")]
        public string[] Turn { get; set; } = [];

        /// <summary>How many trials.</summary>
        [CommandOption("--trials <COUNT>")]
        [DefaultValue(100)]
        [Description("Most trials; 100 if not said.")]
        public int Trials { get; set; } = 100;

        /// <summary>Where trials are kept.</summary>
        [CommandOption("--resume <KEPT>")]
        [Description("Keep what is found in this file, and go on from it when it is there.")]
        public string? Resume { get; set; }
    }
}
