using System.Globalization;
using Fieldwright.App.Pictures;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Sheets;
using Fieldwright.Geometry;

namespace Fieldwright.App.Sheets;

/// <summary>Sets text, tables and drawings on A4 pages from top to bottom, px of 1/96 inch.</summary>
internal sealed class A4Pages
{
    /// <summary>Width and height of A4 and its margins.</summary>
    public const double Width = 793.7, Height = 1122.5, Margin = 52, TopMargin = 56, BottomMargin = 74;

    /// <summary>Width between the margins.</summary>
    public const double Measure = Width - 2 * Margin;

    private const double Body = 11.2, Leading = 15, Widest = 60;
    private static readonly Palette Ink = Palette.Paper;
    private readonly List<List<Mark>> pages = [];
    private double y = double.PositiveInfinity;

    /// <summary>The pages as pictures, each with a foot line.</summary>
    /// <param name="title">Title of the document.</param>
    /// <param name="foot">What stands at the left of each foot.</param>
    public IReadOnlyList<Scene> Finish(string title, string foot) => [.. pages.Select((marks, i) =>
    {
        double at = Height - BottomMargin + 30;
        string number = string.Create(CultureInfo.InvariantCulture, $"{i + 1} of {pages.Count}");
        marks.Add(Rule(at - 14, 0.8));
        marks.Add(Text(foot, Margin, at, 9.5, Face.Regular, Ink.QuietText));
        marks.Add(Text(number, Width - Margin, at, 9.5, Face.Regular, Ink.QuietText, Anchor.End));
        return new Scene(Width, Height, title, foot, [new AreaMark([[new(0, 0), new(Width, 0), new(Width, Height), new(0, Height)]], Ink.Sheet), .. marks]);
    })];

    /// <summary>Starts a new page.</summary>
    public void Break()
    {
        pages.Add([]);
        y = TopMargin;
    }

    /// <summary>Space, unless a page has just begun.</summary>
    public void Space(double height)
    {
        if (pages.Count > 0 && y > TopMargin)
            y += height;
    }

    /// <summary>The head of the document: a name and a line about it.</summary>
    public void Title(string name, string about)
    {
        Need(60);
        y += 14;
        Add(Text(name, Margin, y, 25, Face.Bold, Ink.Text));
        y += 12;
        Add(Rule(y, 1.6));
        y += 8;
        Prose(about, 12, Face.Regular, Ink.QuietText);
    }

    /// <summary>The head of a section, kept together with what follows.</summary>
    /// <param name="text">The heading.</param>
    /// <param name="keep">Height of what follows that must stand on the same page.</param>
    public void Heading(string text, double keep = 44)
    {
        Space(14);
        Need(22 + keep);
        y += 14;
        Add(Text(text, Margin, y, 14.5, Face.Bold, Ink.Text));
        y += 8;
    }

    /// <summary>Prose over the whole measure.</summary>
    public void Prose(string text, double size = Body, Face face = Face.Regular, Ink? ink = null, double indent = 0)
    {
        foreach (string line in Setting.Wrapped(text, size, face, Measure - indent, TypeFace.Width))
        {
            Need(Leading);
            y += size * 1.34;
            Add(Text(line, Margin + indent, y, size, face, ink ?? Ink.Text));
        }
    }

    /// <summary>Starts a new page where less than a height is left, so that what belongs together stays together.</summary>
    public void Keep(double height) => Need(height);

    /// <summary>Lines as they stand in a file, in two columns; what is too long goes on in the next line, indented.</summary>
    public void Verbatim(IReadOnlyList<string> lines)
    {
        const double size = 9.2, leading = 12.5, gutter = 18, column = 0.5 * (Measure - gutter), deeper = 12;
        var pieces = new Queue<(string Text, double Indent, Ink Ink)>();
        foreach (string line in lines)
        {
            double indent = 2.6 * (line.Length - line.TrimStart().Length);
            var ink = line.TrimStart().StartsWith('#') ? Ink.QuietText : Ink.Text;
            var wrapped = Setting.Wrapped(line, size, Face.Regular, column - indent - deeper, TypeFace.Width);
            if (wrapped.Count == 0)
                pieces.Enqueue(("", 0, ink));
            for (int i = 0; i < wrapped.Count; i++)
                pieces.Enqueue((wrapped[i], indent + (i == 0 ? 0 : deeper), ink));
        }

        while (pieces.Count > 0)
        {
            Need(leading);
            int rows = Math.Min((int)((Height - BottomMargin - y) / leading), (pieces.Count + 1) / 2);
            for (int side = 0; side < 2; side++)
                for (int row = 0; row < rows && pieces.TryDequeue(out var piece); row++)
                    if (piece.Text.Length > 0)
                        Add(Text(piece.Text, Margin + side * (column + gutter) + piece.Indent, y + leading * (row + 1), size, Face.Regular, piece.Ink));
            y += leading * rows;
        }
    }

    /// <summary>A drawing, in the middle of the measure, as large as it is.</summary>
    public void Drawing(Scene scene)
    {
        if (scene.Height == 0)
            return;
        Need(scene.Height);
        foreach (var mark in Marks.Moved(scene.Marks, Margin + Math.Max(0, 0.5 * (Measure - scene.Width)), y))
            Add(mark);
        y += scene.Height;
    }

    /// <summary>A claim: its lamp, what is said, and how much there is to spare.</summary>
    public void Claim(string lamp, string said, string decided, string margin)
    {
        Need(36);
        y += 15;
        Lamp(lamp, new Point(Margin + 7, y - 4));
        Add(Text(Fitting(said, 11.5, Measure - 150), Margin + 24, y, 11.5, Face.Bold, Ink.Text));
        Add(Text(margin, Width - Margin, y, 10.8, Face.Regular, Ink.Text, Anchor.End));
        y += 13.5;
        Add(Text(decided, Margin + 24, y, 10, Face.Regular, Ink.QuietText));
        y += 4;
    }

    /// <summary>A table: columns as wide as their words ask for, long cells broken into lines.</summary>
    public void Table(SheetTable table)
    {
        double[] widths = Widths(table);
        Row(table.Columns, widths, 9.8, Face.Regular, Ink.QuietText);
        Add(Rule(y + 3, 0.9));
        y += 4;
        foreach (var row in table.Rows)
        {
            Row(row, widths, Body - 0.6, Face.Regular, Ink.Text);
            Add(Rule(y + 3.4, 0.35));
            y += 3;
        }

        if (table.Note.Length > 0)
        {
            y += 4;
            Prose(table.Note, 9.8, Face.Regular, Ink.QuietText);
        }
    }

    private void Row(IReadOnlyList<string> cells, double[] widths, double size, Face face, Ink ink)
    {
        var lines = cells.Select((c, i) => Setting.Wrapped(c, size, face, widths[i] - 8, TypeFace.Width)).ToList();
        int tall = Math.Max(1, lines.Max(l => l.Count));
        Need(tall * 13.6 + 4);
        double x = Margin;
        for (int i = 0; i < cells.Count; i++)
        {
            for (int k = 0; k < lines[i].Count; k++)
                Add(Text(lines[i][k], x, y + 13.6 * (k + 1), size, face, ink));
            x += widths[i];
        }

        y += 13.6 * tall;
    }

    // Every column gets what its widest word needs; what is left goes to those whose cells are long.
    private static double[] Widths(SheetTable table)
    {
        var rows = table.Rows.Append(table.Columns).ToList();
        double Of(string text) => TypeFace.Width(text, Body, Face.Regular);
        double[] least = [.. table.Columns.Select((_, i) => rows.Max(r => r[i].Split(' ').Max(Of)) + 10)];
        double[] most = [.. table.Columns.Select((_, i) => rows.Max(r => Of(r[i])) + 12)];
        double spare = Measure - least.Sum(), wanted = most.Sum() - least.Sum();
        double share = wanted > 0 ? Math.Clamp(spare / wanted, 0, 1) : 0;
        // What is left over goes between the columns, so that a table fills the measure.
        double over = Math.Min(Widest, Math.Max(0, spare - wanted) / Math.Max(1, least.Length - 1));
        return [.. least.Select((l, i) => l + share * (most[i] - l) + (i < least.Length - 1 ? over : 0))];
    }

    private void Lamp(string shape, Point at)
    {
        var pen = new Pen(Ink.Edge, 1.4);
        if (shape == "●")
            Add(new CircleMark(at, 5.6, Ink.Edge, pen));
        else
            Add(new CircleMark(at, 5.6, null, shape == "◌" ? pen with { Dash = [2, 2.4] } : pen));
        if (shape == "✕")
            Add(new StrokesMark([(new(at.X - 4, at.Y - 4), new(at.X + 4, at.Y + 4)), (new(at.X - 4, at.Y + 4), new(at.X + 4, at.Y - 4))], pen));
    }

    private static string Fitting(string text, double size, double width = Measure)
    {
        if (TypeFace.Width(text, size, Face.Bold) <= width)
            return text;
        int length = text.Length;
        while (length > 1 && TypeFace.Width(text[..length] + " …", size, Face.Bold) > width)
            length--;
        return text[..length] + " …";
    }

    private void Need(double height)
    {
        if (y + height > Height - BottomMargin)
            Break();
    }

    private void Add(Mark mark) => pages[^1].Add(mark);

    private static LineMark Rule(double at, double width) => new([new(Margin, at), new(Width - Margin, at)], new Pen(Ink.Edge, width));

    private static TextMark Text(string text, double x, double at, double size, Face face, Ink ink, Anchor anchor = Anchor.Start) =>
        new(text, new Point(x, at), size, face, ink, anchor, TypeFace.Width(text, size, face));
}
