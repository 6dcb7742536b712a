using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>The wiring: each supply with its windings between two rails, each winding with start S (dotted) and finish F, and the windings that drive loads.</summary>
/// <remarks>Symbols after IEC 60617, drawn from memory. Windings that share a core or a field are dotted where their flux adds for currents that enter at the dots.</remarks>
/// <source key="IEC60617"/>
internal sealed class WiringDiagram
{
    private const double Width = 690, RowHeight = 138, Rail = 72, First = 34, CoilWidth = 64, Gap = 42;
    private static readonly Palette Ink = Palette.Paper;
    private static readonly Pen Wire = new(Ink.Edge, 1.3);
    private readonly List<Mark> marks = [];
    private readonly TextWidth textWidth;
    private double top = 4;

    private WiringDiagram(TextWidth textWidth) => this.textWidth = textWidth;

    /// <summary>The diagram of an apparatus; of no height when it has no windings.</summary>
    public static Scene Of(Apparatus apparatus, TextWidth textWidth)
    {
        var diagram = new WiringDiagram(textWidth);
        foreach (var supply in apparatus.Supplies)
            diagram.Row(apparatus, supply);
        foreach (var load in apparatus.Loads.Where(l => apparatus.SupplyOf(l.On) is null))
            diagram.Row(load);
        return new Scene(Width, apparatus.Windings.Count == 0 ? 0 : diagram.top, apparatus.Name + ": wiring", "The dot is the start S of each winding.", diagram.marks);
    }

    private void Row(Apparatus apparatus, Supply supply)
    {
        double up = top + 30, down = up + Rail, x = First + 22;
        Source(supply, new Point(x, 0.5 * (up + down)));
        Line(new(x, 0.5 * (up + down) - 18), new(x, up));
        Line(new(x, 0.5 * (up + down) + 18), new(x, down));
        double on = x + 26;
        Line(new(x, up), new(on, up));
        Line(new(x, down), new(on, down));
        if (supply.Breaker is { } breaker)
            on = Breaker(breaker, on, up, down);
        if (supply.Through is { } through)
            on = Transformer(through, on, up, down);
        bool series = supply.Connection == Connection.Series;
        double end = on + 10;
        foreach (string name in supply.Feeds)
        {
            bool reversed = apparatus.Winding(name)!.Reversed;
            if (on + CoilWidth + Gap > Width - 20 && series)
            {
                // Too long for the page: the chain goes on in the next row.
                Text("goes on below", new(on + 4, up - 6), Face.Italic, Anchor.Start);
                top += RowHeight;
                (up, down) = (up + RowHeight, down + RowHeight);
                on = First + 22;
            }

            if (series)
            {
                Line(new(on, up), new(on + Gap - 12, up));
                on = Across(name, reversed, on + Gap - 12, up);
                end = on + 14;
            }
            else
            {
                double at = on + 46;
                Line(new(on, up), new(at, up));
                Line(new(on, down), new(at, down));
                Down(name, reversed, at, up, down);
                (on, end) = (at + 62, at);
            }
        }

        if (series)
        {
            Line(new(on, up), new(end, up));
            Line(new(end, up), new(end, down));
            Line(new(end, down), new(First + 48, down));
        }

        Text(supply.Name, new(First + 4, down + 32), Face.Bold, Anchor.Start);
        Text(Words(supply), new(First + 12 + textWidth(supply.Name, 11, Face.Bold), down + 32), Face.Regular, Anchor.Start);
        top += RowHeight;
    }

    private void Row(Load load)
    {
        double up = top + 30, down = up + Rail, x = First + 40, far = x + 190;
        Down(load.On, false, x, up, down);
        Line(new(x, up), new(far, up));
        Line(new(x, down), new(far, down));
        var centre = new Point(far, 0.5 * (up + down));
        Line(new(far, up), new(far, centre.Y - 15));
        Line(new(far, down), new(far, centre.Y + 15));
        if (load.Kind == LoadKind.Resistor)
            marks.Add(new LineMark([new(far - 7, centre.Y - 15), new(far + 7, centre.Y - 15), new(far + 7, centre.Y + 15), new(far - 7, centre.Y + 15)], Wire, true));
        else
            marks.Add(new CircleMark(centre, 15, null, Wire));
        if (load.Kind == LoadKind.FilamentLamp)
            marks.Add(new StrokesMark([(new(far - 10.6, centre.Y - 10.6), new(far + 10.6, centre.Y + 10.6)), (new(far - 10.6, centre.Y + 10.6), new(far + 10.6, centre.Y - 10.6))], Wire));
        if (load.Kind == LoadKind.Meter)
            Text("V", new(far, centre.Y + 4), Face.Bold, Anchor.Middle);
        Text(load.Name, new(far + 24, centre.Y), Face.Bold, Anchor.Start);
        Text(Words(load), new(far + 24, centre.Y + 14), Face.Regular, Anchor.Start);
        top += RowHeight;
    }

    private void Source(Supply supply, Point at)
    {
        if (supply.Kind == SupplyKind.Battery)
        {
            Line(new(at.X, at.Y - 18), new(at.X, at.Y - 4));
            Line(new(at.X, at.Y + 18), new(at.X, at.Y + 4));
            Line(new(at.X - 14, at.Y - 4), new(at.X + 14, at.Y - 4));
            marks.Add(new LineMark([new(at.X - 7, at.Y + 4), new(at.X + 7, at.Y + 4)], new Pen(Ink.Edge, 3)));
            Text("+", new(at.X + 20, at.Y - 6), Face.Bold, Anchor.Start);
            return;
        }

        marks.Add(new CircleMark(at, 18, Ink.Sheet, Wire));
        if (supply.Frequency > 0)
            marks.Add(new LineMark([.. Enumerable.Range(0, 25).Select(k => new Point(at.X - 10 + 20 * k / 24.0, at.Y - 6 * Math.Sin(2 * Math.PI * k / 24.0)))], Wire));
        else
            Line(new(at.X, at.Y + 9), new(at.X, at.Y - 9));
        if (supply.Kind == SupplyKind.Current)
        {
            // An arrow beside the circle: the current is given.
            Line(new(at.X - 25, at.Y + 12), new(at.X - 25, at.Y - 8));
            marks.Add(new AreaMark([[new(at.X - 25, at.Y - 13), new(at.X - 28, at.Y - 5), new(at.X - 22, at.Y - 5)]], Ink.Edge));
        }
    }

    private double Breaker(string name, double x, double up, double down)
    {
        Line(new(x, up), new(x + 10, up));
        Line(new(x + 10, up), new(x + 38, up - 12));
        marks.Add(new StrokesMark([(new(x + 36, up - 4), new(x + 44, up + 4)), (new(x + 36, up + 4), new(x + 44, up - 4))], Wire));
        Line(new(x + 40, up), new(x + 56, up));
        Line(new(x, down), new(x + 56, down));
        Text(name, new(x + 22, up - 16), Face.Regular, Anchor.Middle);
        return x + 56;
    }

    private double Transformer(string name, double x, double up, double down)
    {
        double middle = x + 34;
        foreach (int side in (ReadOnlySpan<int>)[-1, 1])
        {
            double at = middle + 8 * side, outer = middle + 34 * side;
            Line(new(outer, up), new(at, up));
            Line(new(outer, down), new(at, down));
            Bumps(new(at, up), new(at, down), side);
        }

        Line(new(middle - 2, up), new(middle - 2, down));
        Line(new(middle + 2, up), new(middle + 2, down));
        if (name.Contains("variable", StringComparison.OrdinalIgnoreCase))
        {
            Line(new(middle + 26, down - 10), new(middle - 26, up + 12));
            marks.Add(new AreaMark([[new(middle - 30, up + 9), new(middle - 21, up + 11), new(middle - 25, up + 18)]], Ink.Edge));
        }

        Text(name, new(middle, down + 14), Face.Regular, Anchor.Middle);
        return middle + 34;
    }

    // A winding lying along the rail; gives where it ends.
    private double Across(string name, bool reversed, double x, double y)
    {
        Bumps(new(x, y), new(x + CoilWidth, y), -1);
        Ends(name, reversed, new(x, y), new(x + CoilWidth, y), new Point(0, 1));
        Text(name, new(x + 0.5 * CoilWidth, y - 16), Face.Bold, Anchor.Middle);
        return x + CoilWidth;
    }

    // A winding standing between the rails.
    private void Down(string name, bool reversed, double x, double up, double down)
    {
        double a = up + 8, b = down - 8;
        Line(new(x, up), new(x, a));
        Line(new(x, b), new(x, down));
        Bumps(new(x, a), new(x, b), 1);
        Ends(name, reversed, new(x, a), new(x, b), new Point(-1, 0));
        Text(name, new(x + 16, 0.5 * (a + b) + 4), Face.Bold, Anchor.Start);
    }

    private void Ends(string name, bool reversed, Point enters, Point leaves, Point aside)
    {
        foreach (var (at, isEntry) in new[] { (enters, true), (leaves, false) })
        {
            bool isStart = isEntry != reversed;
            marks.Add(new CircleMark(at, 2.6, Ink.Sheet, Wire));
            Text(isStart ? "S" : "F", new(at.X + 11 * aside.X + (aside.X == 0 ? isEntry ? 5 : -5 : 0), at.Y + (aside.Y == 0 ? 4 : 15)), Face.Regular, Anchor.Middle);
            if (isStart)
                marks.Add(new CircleMark(new(at.X + 8 * (aside.X == 0 ? isEntry ? 1 : -1 : 2.6), at.Y + (aside.Y == 0 ? isEntry ? 3 : -3 : -12)), 2.6, Ink.Edge, null));
        }
    }

    // Four half circles between two points, bulging to one side.
    private void Bumps(Point from, Point to, int side)
    {
        const int Count = 4, Pieces = 12;
        var along = (1.0 / Count) * (to - from);
        var points = new List<Point>();
        for (int i = 0; i < Count; i++)
            for (int k = 0; k <= Pieces; k++)
            {
                var (sin, cos) = Math.SinCos(Math.PI * k / Pieces);
                points.Add(from + (i + 0.5 - 0.5 * cos) * along + 0.5 * side * sin * Turned(along) * new Point(-along.Y, along.X));
            }

        marks.Add(new LineMark(points, Wire));
    }

    // Bulges up from a lying winding and to the right of a standing one for side −1 and +1.
    private static double Turned(Point along) => Math.Abs(along.X) > Math.Abs(along.Y) ? 1 : -1;

    private static string Words(Supply s)
    {
        double root = s.Frequency > 0 ? Math.Sqrt(2) : 1;
        string size = s.Kind switch
        {
            SupplyKind.Battery => string.Create(CultureInfo.InvariantCulture, $"{s.Voltage ?? 0:0.##} V, direct"),
            SupplyKind.Current => string.Create(CultureInfo.InvariantCulture, $"{(s.Current ?? 0) / root:0.##} A{(s.Frequency > 0 ? " rms" : ", direct")}"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{(s.LineVoltage ?? s.Voltage ?? 0) / root:0} V rms"),
        };
        string frequency = s.Frequency > 0 ? string.Create(CultureInfo.InvariantCulture, $", {s.Frequency:0.####} Hz, phase {s.PhaseDegrees:0.#}°") : "";
        string inside = s.InternalResistance > 0 ? string.Create(CultureInfo.InvariantCulture, $", {s.InternalResistance:0.###} Ω in source and leads") : "";
        return size + frequency + inside;
    }

    private static string Words(Load l) => l.Kind == LoadKind.FilamentLamp
        ? string.Create(CultureInfo.InvariantCulture, $"{l.RatedVoltage:0.##} V, {l.RatedPower:0.##} W")
        : string.Create(CultureInfo.InvariantCulture, $"{l.Resistance:0.###} Ω");

    private void Line(Point from, Point to) => marks.Add(new LineMark([from, to], Wire));

    private void Text(string text, Point at, Face face, Anchor anchor) =>
        marks.Add(new TextMark(text, at, 11, face, face == Face.Regular ? Ink.QuietText : Ink.Text, anchor, textWidth(text, 11, face)));
}
