using System.Globalization;
using System.Text;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Logs;

/// <summary>One reading taken at the bench.</summary>
/// <param name="Line">Line of the log, from 1.</param>
/// <param name="Measure">What was read, the inputs of its line set.</param>
/// <param name="State">The state it was read in; null for the apparatus as it stands.</param>
/// <param name="Value">The reading, SI; rms where the measure is answered as rms.</param>
/// <param name="Bar">Half-width of the reading, SI; positive.</param>
/// <param name="BarStated">Whether the log states the half-width; otherwise it is half of the last digit written.</param>
public sealed record LoggedReading(int Line, Measure Measure, string? State, double Value, double Bar, bool BarStated);

/// <summary>A log of readings: comma-separated values with a heading.</summary>
/// <remarks>
/// Lines that begin with # are notes. The first other line names the columns: <c>measure</c> and <c>reading</c> must be there, <c>in</c> (a state), <c>bar</c> (half-width of the reading, as a value
/// or in per cent) and <c>note</c> may be; any other column is an input of the apparatus, such as <c>current in inner</c>, set for that line where its cell is not empty. Values carry their
/// units. A cell with a comma stands in double quotes, a double quote within is written twice.
/// </remarks>
public static class BenchLog
{
    private const int MostLines = 10_000;
    private static readonly string[] Known = ["measure", "in", "reading", "bar", "note"];

    /// <summary>Reads a log; every mistake is gathered.</summary>
    /// <param name="text">The text of the log.</param>
    /// <param name="apparatus">The apparatus that was read.</param>
    /// <param name="mistakes">Takes what is wrong, with line and column.</param>
    /// <returns>The readings that are right, in order.</returns>
    public static IReadOnlyList<LoggedReading> Read(string text, Apparatus apparatus, IList<Mistake> mistakes)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(mistakes);
        string[] lines = text.TrimStart('\uFEFF').Split('\n');
        if (lines.Length > MostLines)
        {
            mistakes.Add(new Mistake(MostLines, 1, "the log is longer than ten thousand lines", "fewer readings"));
            return [];
        }

        List<Cell>? heading = null;
        var readings = new List<LoggedReading>();
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i].TrimEnd('\r');
            if (line.Trim().Length == 0 || line.TrimStart().StartsWith('#'))
                continue;
            var cells = Cells(line);
            if (heading is null)
            {
                heading = cells;
                if (!Heading(cells, apparatus, i + 1, mistakes))
                    return [];
            }
            else if (cells.Count > heading.Count)
                mistakes.Add(new Mistake(i + 1, cells[heading.Count].Column, $"there are more cells than columns, {Words.Count(heading.Count)}", "as many cells as the heading has; a cell with a comma in double quotes"));
            else if (Reading(heading, cells, apparatus, i + 1, mistakes) is { } reading)
                readings.Add(reading);
        }

        if (heading is null)
            mistakes.Add(new Mistake(1, 1, "the log is empty", "a heading such as measure,reading,bar and a reading a line"));
        else if (readings.Count == 0 && mistakes.Count == 0)
            mistakes.Add(new Mistake(1, 1, "the log holds no reading", "a reading a line under the heading"));
        return readings;
    }

    private readonly record struct Cell(string Text, int Column);

    private static bool Heading(List<Cell> heading, Apparatus apparatus, int line, IList<Mistake> mistakes)
    {
        int before = mistakes.Count;
        foreach (string needed in (string[])["measure", "reading"])
            if (!heading.Exists(h => h.Text == needed))
                mistakes.Add(new Mistake(line, 1, $"there is no column '{needed}'", "a heading such as measure,reading,bar"));
        foreach (var cell in heading.Where(h => !Known.Contains(h.Text)))
            if (!Inputs.TryReadName(cell.Text, apparatus, out _, out var mistake))
                mistakes.Add(new Mistake(line, cell.Column, $"'{Words.Shorten(cell.Text)}' is neither a column of logs nor an input of this apparatus", $"{Words.Or(Known)}, or an input", mistake.NearestWord));
        foreach (var twice in heading.GroupBy(h => h.Text).Where(g => g.Count() > 1))
            mistakes.Add(new Mistake(line, twice.Last().Column, $"a second column '{twice.Key}'", "each column once"));
        return mistakes.Count == before;
    }

    private static LoggedReading? Reading(List<Cell> heading, List<Cell> cells, Apparatus apparatus, int line, IList<Mistake> mistakes)
    {
        Cell? At(string column) => heading.FindIndex(h => h.Text == column) is >= 0 and var i && i < cells.Count && cells[i].Text.Length > 0 ? cells[i] : null;
        LoggedReading? Wrong(int column, string finding, string expectation, string? nearest = null)
        {
            mistakes.Add(new Mistake(line, column, finding, expectation, nearest));
            return null;
        }

        if (At("measure") is not { } what)
            return Wrong(1, "no measure", "what was read, such as rest height of disc");
        if (At("reading") is not { } read)
            return Wrong(1, "no reading", "a value with its unit");
        State? state = null;
        if (At("in") is { } named && (state = apparatus.States.FirstOrDefault(s => Apparatus.Same(s.Name, named.Text))) is null)
            return Wrong(named.Column, $"there is no state '{Words.Shorten(named.Text)}'", apparatus.States.Count == 0 ? "no 'in': the apparatus has no states" : Words.Or(apparatus.States.Select(s => s.Name)));
        var there = state is null ? apparatus : Inputs.ApplyUnchecked(apparatus, state.Settings);
        if (!MeasureReader.TryRead(what.Text, there, out var measure, out var mistake))
            return Wrong(what.Column + mistake.Column - 1, mistake.Finding, mistake.Expectation, mistake.NearestWord);
        foreach (var (column, i) in heading.Select((h, i) => (h, i)).Where(h => !Known.Contains(h.h.Text) && h.i < cells.Count && cells[h.i].Text.Length > 0))
        {
            Inputs.TryReadName(column.Text, there, out var input, out _);
            if (input is null || !Inputs.TryReadValue(input, cells[i].Text, there, line, cells[i].Column, true, out var setting, out var slip))
                return Wrong(cells[i].Column, $"'{Words.Shorten(cells[i].Text)}' is no value of {column.Text} here", "a value with its unit");
            measure = measure with { Conditions = [.. measure.Conditions.Where(c => !Apparatus.Same(c.Input.Text, input.Text)), setting] };
        }

        var kind = MeasureCatalogue.KindOf(measure, there);
        if (!Units.TryRead(read.Text, kind.Unit, out double value, out string problem))
            return Wrong(read.Column, problem, $"a value of {kind.Name}{(kind.Unit.Length == 0 ? "" : " in " + kind.Unit)}");
        if (At("bar") is not { } bar)
            return new LoggedReading(line, measure, state?.Name, value, LastDigit(read.Text, kind.Unit), false);
        return Width(bar.Text, value, kind, apparatus) is { } width ? new LoggedReading(line, measure, state?.Name, value, width, true)
            : Wrong(bar.Column, $"'{Words.Shorten(bar.Text)}' is no half-width", $"how far off the reading may be, such as 2 % or a value above zero{(kind.Unit.Length == 0 ? "" : " in " + kind.Unit)}");
    }

    private static double? Width(string text, double value, MeasureKind kind, Apparatus apparatus)
    {
        text = text.TrimStart('±', ' ');
        if (text.EndsWith('%') && kind.Unit != "%")
            return Units.TryRead(text, "%", out double share, out _) && share > 0 && value != 0 ? share * Math.Abs(value - (kind.Unit == "°C" ? apparatus.Ambient : 0)) : null;
        // A difference of temperatures: 2 °C is 2 K here, not 275 K.
        if (kind.Unit == "°C" && text.EndsWith("°C", StringComparison.Ordinal))
            text = text[..^2] + "K";
        return Units.TryRead(text, kind.Unit, out double width, out _) && width > 0 ? width : null;
    }

    // Half of the last digit written: 8.1 mm is 8.1 ± 0.05 mm (common practice, no source).
    private static double LastDigit(string text, string unit)
    {
        string number = text.Trim();
        string written = Units.UnitIn(number);
        number = number[..^written.Length].Trim();
        int exponentAt = number.IndexOfAny(['e', 'E']);
        int exponent = exponentAt < 0 ? 0 : int.Parse(number[(exponentAt + 1)..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
        string digits = exponentAt < 0 ? number : number[..exponentAt];
        int point = digits.IndexOf('.', StringComparison.Ordinal);
        double step = Math.Pow(10, exponent - (point < 0 ? 0 : digits.Length - point - 1));
        return 0.5 * step * Units.ValueOf(written.Length == 0 ? unit : written);
    }

    private static List<Cell> Cells(string line)
    {
        var cells = new List<Cell>();
        int at = 0;
        while (true)
        {
            while (at < line.Length && line[at] is ' ' or '\t')
                at++;
            int start = at;
            var text = new StringBuilder();
            if (at < line.Length && line[at] == '"')
            {
                for (at++; at < line.Length && (line[at] != '"' || (at + 1 < line.Length && line[at + 1] == '"')); at++)
                {
                    if (line[at] == '"')
                        at++;
                    text.Append(line[at]);
                }

                at++;
                while (at < line.Length && line[at] != ',')
                    at++;
            }
            else
                for (; at < line.Length && line[at] != ','; at++)
                    text.Append(line[at]);
            cells.Add(new Cell(text.ToString().Trim(), start + 1));
            if (at >= line.Length)
                return cells;
            at++;
        }
    }
}
