using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>A board of elements drawn: every node a level rail, the higher the potential the higher the rail; every element upright between its two rails; wires as thick as the flow.</summary>
/// <source key="IEC60617"/>
public static class BoardPicture
{
    private const double Edge = 36, Names = 128, Column = 184, Rung = 132, TitleSize = 19, TextSize = 12.5, Leading = 17, LabelSize = 11.5;

    /// <summary>Draws the board of an apparatus.</summary>
    /// <param name="apparatus">An apparatus with a board.</param>
    /// <param name="options">What is wanted; the phase has no meaning here.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    /// <exception cref="ArgumentException">The apparatus has no board.</exception>
    /// <exception cref="RouteFailedException">The board has no answer.</exception>
    public static Scene Of(Apparatus apparatus, PictureOptions options, TextWidth textWidth)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(textWidth);
        var board = Circumstances.Of(apparatus, options.State, []).Apparatus.Board ?? throw new ArgumentException("Only an apparatus with a board has one to draw.", nameof(apparatus));
        var words = DomainWords.Of(board.Domain);
        var own = LikenessStudy.Of(apparatus, options.State, words, words);
        string title = apparatus.Titled(options.State);
        return Sheet(title, Legend(words), options, textWidth,
            [(own.Original, own.Counterparts.Select(c => (c.Is, c.Flow)).ToList(), words)]);
    }

    /// <summary>The board of an apparatus on paper, dials where they stand, without a title: for a sheet that has its own.</summary>
    /// <param name="apparatus">An apparatus with a board.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    /// <exception cref="RouteFailedException">The board has no answer.</exception>
    internal static Scene OnSheet(Apparatus apparatus, TextWidth textWidth) => Bare(apparatus, textWidth, Palette.Paper, 1, apparatus.Name + ": drawing");

    /// <summary>The board of an apparatus for a dark stage, dials where they stand, in larger letters and without a title.</summary>
    /// <param name="apparatus">An apparatus with a board.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    /// <exception cref="RouteFailedException">The board has no answer.</exception>
    public static Scene OnStage(Apparatus apparatus, TextWidth textWidth)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(textWidth);
        return Bare(apparatus, textWidth, Palette.Hall, 1.25, apparatus.Name);
    }

    private static Scene Bare(Apparatus apparatus, TextWidth textWidth, Palette palette, double letters, string title)
    {
        var words = DomainWords.Of(apparatus.Board!.Domain);
        var own = LikenessStudy.Of(apparatus, null, words, words);
        var marks = new List<Mark>();
        double width = Wide(own.Original), height = Draw(marks, own.Original, [.. own.Counterparts.Select(c => (c.Is, c.Flow))], words, palette, textWidth, 0, width, letters);
        return new Scene(width - 2 * Edge, height, title, Legend(words), Marks.Moved(marks, -Edge, 0));
    }

    /// <summary>Draws a circuit beside what it becomes.</summary>
    /// <param name="title">The title.</param>
    /// <param name="likeness">The likeness.</param>
    /// <param name="options">What is wanted.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    public static Scene Of(string title, Likeness likeness, PictureOptions options, TextWidth textWidth)
    {
        ArgumentNullException.ThrowIfNull(likeness);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(textWidth);
        string text = $"Above as {likeness.From.Word}, below as {likeness.To.Word}. {likeness.ScaleOfPotential}; "
            + $"{likeness.ScaleOfFlow}. The higher a level line the higher its potential; each wire is as thick as its flow.";
        return Sheet(title, text, options, textWidth,
        [
            (likeness.Original, likeness.Counterparts.Select(c => (c.Is, c.Flow)).ToList(), likeness.From),
            (likeness.Redrawn, likeness.Counterparts.Select(c => (c.Becomes, c.RedrawnFlow)).ToList(), likeness.To),
        ]);
    }

    private static Scene Sheet(string title, string text, PictureOptions options, TextWidth textWidth, IReadOnlyList<(Board Board, List<(string Words, double Flow)> Elements, DomainWords Domain)> boards)
    {
        var palette = options.OnPaper ? Palette.Paper : Palette.Hall;
        double width = boards.Max(b => Wide(b.Board)), top = Edge;
        var marks = new List<Mark>();
        foreach (var (board, elements, domain) in boards)
        {
            double height = Draw(marks, board, elements, domain, palette, textWidth, top, width);
            top += height + 22;
        }

        double y = top + 14;
        marks.Add(new TextMark(title, new Point(Edge, y), TitleSize, Face.Bold, palette.Text, Anchor.Start, textWidth(title, TitleSize, Face.Bold)));
        y += 6;
        foreach (string line in Setting.Wrapped(text, TextSize, Face.Regular, width - 2 * Edge, textWidth))
        {
            y += Leading;
            marks.Add(new TextMark(line, new Point(Edge, y), TextSize, Face.Regular, palette.QuietText, Anchor.Start, textWidth(line, TextSize, Face.Regular)));
        }

        double bottom = y + Edge;
        return new Scene(width, bottom, title, text, [new AreaMark([[new(0, 0), new(width, 0), new(width, bottom), new(0, bottom)]], palette.Sheet), .. marks]);
    }

    private static string Legend(DomainWords words) => $"Each level line is a place of one {words.Potential}, the higher the more; each wire is as thick as its {words.Flow}.";

    private static double Wide(Board board) => Math.Max(560, 2 * Edge + Names + Column * board.Elements.Count + (board.Jet is not null ? 90 : 40));

    private static double Draw(List<Mark> marks, Board board, List<(string Words, double Flow)> elements, DomainWords domain, Palette palette, TextWidth textWidth, double top, double width, double letters = 1)
    {
        var state = BoardRoute.Solved(board, _ => 1);
        var ranked = board.Nodes.Select(n => (Name: n, Potential: BoardRoute.Potential(state, board, n))).OrderByDescending(n => n.Potential).ToList();
        double height = 46 + Rung * (ranked.Count - 1) + 30;
        marks.Add(new LitMark(new Point(Edge, top), width - 2 * Edge, height, new Point(0.5 * width, top + 0.5 * height), 0.6 * width, palette.StageLit, palette.StageRim));
        double Level(string node) => top + 46 + Rung * ranked.FindIndex(r => Apparatus.Same(r.Name, node));
        double X(int k) => Edge + Names + Column * (k + 0.28);
        double label = letters * LabelSize;
        double most = elements.Max(e => Math.Abs(e.Flow));
        double Thick(double flow) => 1 + 4.5 * Math.Sqrt(most > 0 ? Math.Abs(flow) / most : 0);
        void Text(string text, double x, double at, double size, Face face, Ink ink, Anchor anchor = Anchor.Start) =>
            marks.Add(new TextMark(text, new Point(x, at), size, face, ink, anchor, textWidth(text, size, face), palette.StageRim.At(0.85)));

        for (int i = 0; i < ranked.Count; i++)
        {
            var node = ranked[i];
            var columns = board.Elements.Select((e, k) => (e, k)).Where(c => Apparatus.Same(c.e.From, node.Name) || Apparatus.Same(c.e.To, node.Name)).Select(c => X(c.k)).ToList();
            double y = Level(node.Name);
            marks.Add(new LineMark([new(columns.Min(), y), new(columns.Max(), y)], new Pen(palette.FluxLine, 2.2)));
            marks.Add(new LineMark([new(Edge + 12, y), new(columns.Min() - 6, y)], new Pen(palette.StageEdge, 1, [2, 4])));
            Text(node.Name, Edge + 12, y - 6, label, Face.Bold, palette.Text);
            Text(domain.PotentialText(node.Potential), Edge + 12, y + 3 + 0.95 * label, label, Face.Regular, palette.QuietText);
        }

        for (int k = 0; k < board.Elements.Count; k++)
        {
            var element = board.Elements[k];
            double x = X(k), from = Level(element.From), to = Level(element.To), high = Math.Min(from, to), low = Math.Max(from, to);
            var (words, flow) = elements[k];
            var pen = new Pen(palette.FluxLine, Thick(flow));
            // Where a level line passes by without a joint the upright hops over it.
            double middle = low - high > Rung * 1.5 ? high + 0.5 * Rung : 0.5 * (high + low);
            marks.Add(new LineMark([new(x, high), new(x, middle - 26)], pen));
            marks.Add(new LineMark([new(x, middle + 26), new(x, low)], pen));
            foreach (double y in (double[])[high, low])
                marks.Add(new CircleMark(new Point(x, y), 3.6, palette.FluxLine, null));
            foreach (var passed in ranked.Where(r => Level(r.Name) > high + 1 && Level(r.Name) < low - 1 && Passes(board, r.Name, k)))
                marks.Add(new CircleMark(new Point(x, Level(passed.Name)), 7, palette.StageLit, new Pen(palette.FluxLine, 1.4)));
            Symbol(marks, element, domain, palette, x, middle, to < from);
            double side = x + 26, line = middle - 24;
            Text(element.Name, side, line, label + 0.5, Face.Bold, palette.Text);
            foreach (string piece in Setting.Wrapped(words, label, Face.Regular, Column - 66, textWidth))
                Text(piece, side, line += 1.3 * label, label, Face.Regular, palette.QuietText);
            Text(domain.FlowText(Math.Abs(flow)), side, line + 1.4 * label, label, Face.Bold, palette.Warm);
            // Which way it flows.
            bool up = (to < from) == (flow > 0);
            if (flow != 0)
            {
                double tip = middle + (up ? 38 : 46), tail = up ? 8 : -8;
                marks.Add(new AreaMark([[new(x, tip), new(x - 5.5, tip + tail), new(x + 5.5, tip + tail)]], palette.Warm));
            }
        }

        if (board.Jet is not null)
            Ball(marks, board, palette, X, Level, textWidth);
        Text(domain.Word, width - Edge - 12, top + 20, label, Face.Italic, palette.QuietText, Anchor.End);
        return height;
    }

    // Whether the level line of a node runs across a column that it has no joint in.
    private static bool Passes(Board board, string node, int column)
    {
        var at = board.Elements.Select((e, k) => (e, k)).Where(c => Apparatus.Same(c.e.From, node) || Apparatus.Same(c.e.To, node)).Select(c => c.k).ToList();
        return at.Min() < column && at.Max() > column;
    }

    private static void Symbol(List<Mark> marks, BoardElement element, DomainWords domain, Palette palette, double x, double y, bool risesToEnd)
    {
        var edge = new Pen(palette.Edge, 1.5);
        void Box(double half, Ink fill) => marks.Add(new AreaMark([[new(x - half, y - 26), new(x + half, y - 26), new(x + half, y + 26), new(x - half, y + 26)]], fill));
        void Outline(double half) => marks.Add(new LineMark([new(x - half, y - 26), new(x + half, y - 26), new(x + half, y + 26), new(x - half, y + 26)], edge, true));
        switch (element)
        {
            case DriveElement or FlowElement or MagnetElement:
                marks.Add(new CircleMark(new Point(x, y), 22, palette.Matter, edge));
                double s = risesToEnd ? -1 : 1;
                marks.Add(new LineMark([new(x, y - 13 * s), new(x, y + 13 * s)], new Pen(palette.Warm, 2.2)));
                marks.Add(new LineMark([new(x - 6, y + 6 * s), new(x, y + 13 * s), new(x + 6, y + 6 * s)], new Pen(palette.Warm, 2.2)));
                marks.Add(new LineMark([new(x, y - 22), new(x, y - 26)], edge));
                marks.Add(new LineMark([new(x, y + 22), new(x, y + 26)], edge));
                break;
            case PipeElement pipe:
                double half = Math.Clamp(4 + 1.2 * pipe.Bore * 1000, 5, 15);
                Box(half, palette.Cool.At(0.35));
                marks.Add(new LineMark([new(x - half, y - 26), new(x - half, y + 26)], edge));
                marks.Add(new LineMark([new(x + half, y - 26), new(x + half, y + 26)], edge));
                break;
            case FittingElement fitting:
                marks.Add(new AreaMark([[new(x - 12, y + 26), new(x + 12, y + 26), new(x + 3.5, y - 26), new(x - 3.5, y - 26)]], palette.Cool.At(0.35)));
                marks.Add(new LineMark([new(x - 12, y + 26), new(x - 3.5, y - 26)], edge));
                marks.Add(new LineMark([new(x + 12, y + 26), new(x + 3.5, y - 26)], edge));
                if (!fitting.IsNozzle)
                    marks.Add(new LineMark([new(x - 10, y), new(x + 10, y)], edge));
                break;
            case BarElement { Of.Name: "air" } when domain.Domain == BoardDomain.Magnetic:
                foreach (double y0 in (double[])[y - 26, y + 8])
                {
                    marks.Add(new AreaMark([[new(x - 15, y0), new(x + 15, y0), new(x + 15, y0 + 18), new(x - 15, y0 + 18)]], palette.Matter));
                    marks.Add(new LineMark([new(x - 15, y0), new(x + 15, y0), new(x + 15, y0 + 18), new(x - 15, y0 + 18)], edge, true));
                }

                marks.Add(new StrokesMark([.. Enumerable.Range(-2, 5).Select(i => (new Point(x + 6 * i, y - 7), new Point(x + 6 * i, y + 7)))], new Pen(palette.FluxLine, 1)));
                break;
            case BarElement:
                Box(11, palette.Matter);
                marks.Add(new StrokesMark([.. Enumerable.Range(0, 6).Select(i => (new Point(x - 11, y - 16 + 8 * i), new Point(x + 11, y - 24 + 8 * i)))], new Pen(palette.Hatch, 0.9)));
                Outline(11);
                break;
            default:
                Box(9, palette.Matter);
                Outline(9);
                break;
        }
    }

    private static void Ball(List<Mark> marks, Board board, Palette palette, Func<int, double> x, Func<string, double> level, TextWidth textWidth)
    {
        int k = board.Elements.ToList().FindIndex(e => Apparatus.Same(e.Name, board.Jet!.Nozzle));
        double at = x(k) + 150, foot = Math.Max(level(board.Elements[k].From), level(board.Elements[k].To)) - 10;
        marks.Add(new AreaMark([[new(at - 9, foot), new(at + 9, foot), new(at + 3.5, foot - 22), new(at - 3.5, foot - 22)]], palette.Matter));
        marks.Add(new LineMark([new(at, foot - 22), new(at, foot - 64)], new Pen(palette.Cool, 4)));
        marks.Add(new LineMark([new(at - 16, foot - 74), new(at - 4, foot - 62), new(at + 4, foot - 62), new(at + 16, foot - 74)], new Pen(palette.Cool.At(0.7), 1.6)));
        marks.Add(new CircleMark(new Point(at, foot - 78), 15, palette.Matter, new Pen(palette.Edge, 1.4)));
        marks.Add(new TextMark("ball", new Point(at, foot - 74), 10.5, Face.Regular, palette.Text, Anchor.Middle, textWidth("ball", 10.5, Face.Regular)));
    }
}
