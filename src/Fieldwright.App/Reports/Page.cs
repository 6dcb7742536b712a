using System.Text;

namespace Fieldwright.App.Reports;

/// <summary>How a stretch of text is shown on a screen with colours; on paper it is just text.</summary>
internal enum Tone
{
    /// <summary>As it comes.</summary>
    Plain,

    /// <summary>Names and headings.</summary>
    Strong,

    /// <summary>What may be passed over at first reading.</summary>
    Quiet,

    /// <summary>A claim that holds.</summary>
    Good,

    /// <summary>A claim that does not.</summary>
    Bad,

    /// <summary>What needs a second look.</summary>
    Unsure,
}

/// <summary>A stretch of text in one tone.</summary>
internal readonly record struct Run(string Text, Tone Tone = Tone.Plain)
{
    /// <summary>Plain text.</summary>
    public static implicit operator Run(string text) => new(text);
}

/// <summary>A page of text of a given width: lines set by hand, prose wrapped.</summary>
internal sealed class Page(int width)
{
    private readonly List<Run[]> lines = [];

    /// <summary>Columns.</summary>
    public int Width => width;

    /// <summary>A line as it stands.</summary>
    public void Line(params Run[] runs) => lines.Add(runs);

    /// <summary>An empty line, unless there is one already.</summary>
    public void Gap()
    {
        if (lines.Count > 0 && lines[^1].Length > 0)
            lines.Add([]);
    }

    /// <summary>A line with something at its right edge, or on a line of its own when it does not fit.</summary>
    public void Line(int indent, Run left, Run right)
    {
        int space = width - indent - left.Text.Length - right.Text.Length;
        if (right.Text.Length == 0)
            Prose(new string(' ', indent), indent, left);
        else if (space >= 2)
            Line(new string(' ', indent), left, new string(' ', space), right);
        else
        {
            Prose(new string(' ', indent), indent, left);
            Line(new string(' ', Math.Max(indent, width - right.Text.Length)), right);
        }
    }

    /// <summary>Prose: a first line that opens with something, the rest indented, broken between words.</summary>
    public void Prose(Run opening, int indent, params Run[] text)
    {
        var line = new List<Run> { opening };
        int column = opening.Text.Length;
        bool fresh = true;
        foreach (var run in text)
        {
            foreach (string word in run.Text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                if (!fresh && column + 1 + word.Length > width)
                {
                    lines.Add([.. line]);
                    line = [new string(' ', indent)];
                    (column, fresh) = (indent, true);
                }

                string piece = fresh ? word : " " + word;
                line.Add(new Run(piece, run.Tone));
                column += piece.Length;
                fresh = false;
            }
        }

        lines.Add([.. line]);
    }

    /// <summary>Writes the page.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="colours">Whether tones are shown by ANSI colours.</param>
    public void WriteTo(TextWriter writer, bool colours)
    {
        var text = new StringBuilder();
        foreach (var line in lines)
        {
            text.Clear();
            foreach (var run in line)
                text.Append(colours && Code(run.Tone) is { } code && run.Text.Trim().Length > 0 ? $"\e[{code}m{run.Text}\e[0m" : run.Text);
            writer.WriteLine(colours ? text.ToString() : text.ToString().TrimEnd());
        }
    }

    private static string? Code(Tone tone) => tone switch
    {
        Tone.Strong => "1",
        Tone.Quiet => "2",
        Tone.Good => "32",
        Tone.Bad => "1;31",
        Tone.Unsure => "33",
        _ => null,
    };
}
