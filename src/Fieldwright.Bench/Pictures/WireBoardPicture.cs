using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.Claims;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>A wire board drawn: two rails, a wire for each tube with what is too long for the span wound on a card, the copper bar half pushed in, and the meter's readings.</summary>
public static class WireBoardPicture
{
    private const double Edge = 36, Width = 760, Gutter = 60, Span = 430, Pitch = 22, TitleSize = 19, TextSize = 12.5, Leading = 17, LabelSize = 11;

    /// <summary>Draws it.</summary>
    /// <param name="title">The title.</param>
    /// <param name="board">The board.</param>
    /// <param name="options">What is wanted.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    public static Scene Of(string title, WireBoard board, PictureOptions options, TextWidth textWidth)
    {
        ArgumentNullException.ThrowIfNull(board);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(textWidth);
        var palette = options.OnPaper ? Palette.Paper : Palette.Hall;
        var marks = new List<Mark>();
        void Text(string text, double x, double y, double size, Face face, Ink ink, Anchor anchor = Anchor.Start) => marks.Add(new TextMark(text, new Point(x, y), size, face, ink, anchor, textWidth(text, size, face)));
        string Q(double value, string unit, int digits = 3) => Shown.In(unit).Rounded(value, digits);

        int n = board.Wires.Count;
        double top = Edge, height = Pitch * n + 62, left = Edge + Gutter, right = left + Span;
        marks.Add(new LitMark(new Point(Edge, top), Width - 2 * Edge, height, new Point(left + 0.5 * Span, top + 0.5 * height), 0.6 * Width, palette.StageLit, palette.StageRim));
        double Y(int k) => top + 44 + Pitch * (k + 0.5);
        foreach (double x in (double[])[left, right])
            marks.Add(new LineMark([new(x, Y(0) - 16), new(x, Y(n - 1) + 12)], new Pen(palette.Warm, 5)));
        Text("rail +", left, top + 24, LabelSize, Face.Bold, palette.Text, Anchor.Middle);
        Text("rail −, meter", right, top + 24, LabelSize, Face.Bold, palette.Text, Anchor.Middle);
        foreach (var wire in board.Wires)
        {
            double y = Y(wire.Number - 1);
            Text(wire.Number.ToString(System.Globalization.CultureInfo.InvariantCulture), left - 12, y + 4, LabelSize, Face.Regular, palette.QuietText, Anchor.End);
            if (wire.Length is not { } length)
            {
                Text("left off: hardly anything drives its line", left + 12, y + 4, LabelSize, Face.Italic, palette.QuietText);
                continue;
            }

            double spare = length - board.Options.Span;
            int loops = (int)Math.Min(6, Math.Ceiling(spare / (0.25 * board.Options.Span) - 1e-9));
            var path = new List<Point> { new(left, y) };
            double card = right - 14 - 11 * loops;
            if (loops > 0)
            {
                path.Add(new Point(card, y));
                for (int i = 0; i < loops; i++)
                    path.AddRange(Enumerable.Range(1, 12).Select(s => new Point(card + 11 * (i + s / 12.0) + 3 * Math.Sin(2 * Math.PI * s / 12), y - 6 * Math.Sin(Math.PI * 2 * s / 12))));
            }

            path.Add(new Point(right, y));
            marks.Add(new LineMark(path, new Pen(palette.FluxLine, 1.5)));
            Text($"{Q(length, "m", 4)}   {Q(wire.Current, "mA")}", right + 14, y + 4, LabelSize, Face.Regular, palette.Text);
        }

        // The bar, pushed in over the first half of the wires.
        int covered = Math.Min(board.Readings.Count - 1, n / 2);
        double barWide = Span * board.Options.BarWidth / board.Options.Span, barLeft = left + 0.5 * (Span - barWide), barTop = Y(0) - 22, barBottom = Y(covered) - 0.5 * Pitch;
        marks.Add(new AreaMark([[new(barLeft, barTop), new(barLeft + barWide, barTop), new(barLeft + barWide, barBottom), new(barLeft, barBottom)]], palette.Warm.At(0.42)));
        marks.Add(new LineMark([new(barLeft, barTop), new(barLeft + barWide, barTop), new(barLeft + barWide, barBottom), new(barLeft, barBottom)], new Pen(palette.Edge, 1.2), true));
        Text("copper bar", barLeft + 0.5 * barWide, barTop - 5, LabelSize, Face.Bold, palette.Text, Anchor.Middle);

        double plotTop = top + height + 30, plotHeight = 120, most = board.Readings.Max(), least = board.Readings.Min();
        double Px(int k) => left + Span * k / Math.Max(1, board.Readings.Count - 1);
        double Py(double a) => plotTop + plotHeight * (1 - (most > least ? (a - least) / (most - least) : 0.5));
        marks.Add(new LineMark([new(left, plotTop - 6), new(left, plotTop + plotHeight + 6), new(right, plotTop + plotHeight + 6)], new Pen(palette.Leader, 1)));
        marks.Add(new LineMark([.. board.Readings.Select((a, k) => new Point(Px(k), Py(a)))], new Pen(palette.Warm, 2)));
        marks.AddRange(board.Readings.Select((a, k) => (Mark)new CircleMark(new Point(Px(k), Py(a)), 3, palette.Warm, null)));
        Text(Q(most, "mA", 4), left - 8, plotTop + 4, LabelSize, Face.Regular, palette.QuietText, Anchor.End);
        Text(Q(least, "mA", 4), left - 8, plotTop + plotHeight + 4, LabelSize, Face.Regular, palette.QuietText, Anchor.End);
        Text($"meter, bar over 0 to {File.Words.Count(board.Readings.Count - 1)} wires", right + 14, plotTop + plotHeight + 6, LabelSize, Face.Regular, palette.QuietText);

        double line = plotTop + plotHeight + 46;
        Text(title, Edge, line, TitleSize, Face.Bold, palette.Text);
        string about = $"Each of {File.Words.Count(n)} wires of constantan, {Q(board.Options.WireDiameter, "mm")} thick, stands for a tube of {Q(board.FluxOfTube, "µWb", 4)}; {Q(board.Options.Voltage, "V")} between the rails for {Q(board.AmpereTurns, "A", 4)}-turns; "
            + $"{Q(board.Current, "mA", 4)} in all for {Q(board.Flux, "µWb", 4)}. What a wire is longer than the span is wound on a card. A bar of copper takes the resistance away where it lies, as steel does with reluctance.";
        line += 6;
        foreach (string row in Setting.Wrapped(about, TextSize, Face.Regular, Width - 2 * Edge, textWidth))
            Text(row, Edge, line += Leading, TextSize, Face.Regular, palette.QuietText);
        double bottom = line + Edge;
        return new Scene(Width, bottom, title, about, [new AreaMark([[new(0, 0), new(Width, 0), new(Width, bottom), new(0, bottom)]], palette.Sheet), .. marks]);
    }
}
