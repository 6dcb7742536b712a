using System.Globalization;
using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>Symbols of a wiring diagram: lines, coils with their ends, switches, breakers, fuses, transformers, capacitors, resistors.</summary>
/// <remarks>After IEC 60617, drawn from memory.</remarks>
/// <source key="IEC60617"/>
internal class WiringSymbols(TextWidth textWidth)
{
    /// <summary>Length of a lying coil.</summary>
    protected const double CoilWidth = 64;

    /// <summary>The ink.</summary>
    protected static readonly Palette Ink = Palette.Paper;

    private static readonly Pen Wire = new(Ink.Edge, 1.3);

    /// <summary>All that has been drawn.</summary>
    protected List<Mark> Marks { get; } = [];

    /// <summary>A line of wire through points.</summary>
    protected void Line(params ReadOnlySpan<Point> points) => Marks.Add(new LineMark([.. points], Wire));

    /// <summary>A joint of wires.</summary>
    protected void Joint(Point at) => Marks.Add(new CircleMark(at, 2.4, Ink.Edge, null));

    /// <summary>A terminal.</summary>
    protected void Terminal(Point at) => Marks.Add(new CircleMark(at, 2.6, Ink.Sheet, Wire));

    /// <summary>A box.</summary>
    protected void Box(double left, double top, double right, double bottom) =>
        Marks.Add(new LineMark([new(left, top), new(right, top), new(right, bottom), new(left, bottom)], Wire, true));

    /// <summary>A circle of wire.</summary>
    protected void Circle(Point at, double radius) => Marks.Add(new CircleMark(at, radius, Ink.Sheet, Wire));

    /// <summary>A cross inside a circle: a lamp.</summary>
    protected void Cross(Point at, double reach) => Marks.Add(new StrokesMark([(new(at.X - reach, at.Y - reach), new(at.X + reach, at.Y + reach)), (new(at.X - reach, at.Y + reach), new(at.X + reach, at.Y - reach))], Wire));

    /// <summary>A wave: alternating.</summary>
    protected void Wave(Point at, double width = 20) => Marks.Add(new LineMark([.. Enumerable.Range(0, 25).Select(k => new Point(at.X - 0.5 * width + width * k / 24.0, at.Y - 0.3 * width * Math.Sin(2 * Math.PI * k / 24.0)))], Wire));

    /// <summary>An arrow upwards: a given current.</summary>
    protected void Arrow(double x, double from, double to)
    {
        Line(new(x, from), new(x, to + 5));
        Marks.Add(new AreaMark([[new(x, to), new(x - 3, to + 8), new(x + 3, to + 8)]], Ink.Edge));
    }

    /// <summary>A battery standing, its long plate up; the wires come to 18 above and below.</summary>
    protected void Battery(Point at)
    {
        Line(new(at.X, at.Y - 18), new(at.X, at.Y - 4));
        Line(new(at.X, at.Y + 18), new(at.X, at.Y + 4));
        Line(new(at.X - 14, at.Y - 4), new(at.X + 14, at.Y - 4));
        Marks.Add(new LineMark([new(at.X - 7, at.Y + 4), new(at.X + 7, at.Y + 4)], new Pen(Ink.Edge, 3)));
        Text("+", new(at.X - 22, at.Y - 6), Face.Bold, Anchor.Middle);
    }

    /// <summary>A capacitor standing; the wires come to 18 above and below.</summary>
    protected void StandingCapacitor(Point at)
    {
        Line(new(at.X, at.Y - 18), new(at.X, at.Y - 4));
        Line(new(at.X, at.Y + 18), new(at.X, at.Y + 4));
        foreach (double y in (ReadOnlySpan<double>)[-4, 4])
            Marks.Add(new LineMark([new(at.X - 13, at.Y + y), new(at.X + 13, at.Y + y)], new Pen(Ink.Edge, 2)));
    }

    /// <summary>A resistor standing between two heights.</summary>
    protected void StandingResistor(double x, double up, double down)
    {
        double a = 0.5 * (up + down) - 14, b = 0.5 * (up + down) + 14;
        Line(new(x, up), new(x, a));
        Line(new(x, b), new(x, down));
        Box(x - 6, a, x + 6, b);
    }

    /// <summary>An open switch on a rail; gives where it ends.</summary>
    protected double Switch(string name, double x, double y)
    {
        Line(new(x, y), new(x + 10, y));
        Line(new(x + 10, y), new(x + 38, y - 13));
        Line(new(x + 40, y), new(x + 52, y));
        Joint(new(x + 10, y));
        Joint(new(x + 40, y));
        Text(name, new(x + 24, y - 18), Face.Regular, Anchor.Middle);
        return x + 52;
    }

    /// <summary>A breaker on a rail; gives where it ends.</summary>
    protected double Breaker(string name, double x, double y)
    {
        Line(new(x, y), new(x + 10, y));
        Line(new(x + 10, y), new(x + 38, y - 12));
        Marks.Add(new StrokesMark([(new(x + 36, y - 4), new(x + 44, y + 4)), (new(x + 36, y + 4), new(x + 44, y - 4))], Wire));
        Line(new(x + 40, y), new(x + 56, y));
        Text(name, new(x + 22, y - 16), Face.Regular, Anchor.Middle);
        return x + 56;
    }

    /// <summary>A fuse on a rail; gives where it ends.</summary>
    protected double Fuse(string name, double x, double y)
    {
        Line(new(x, y), new(x + 52, y));
        Box(x + 12, y - 6, x + 40, y + 6);
        Text(name, new(x + 26, y - 12), Face.Regular, Anchor.Middle);
        return x + 52;
    }

    /// <summary>A capacitor on a rail; gives where it ends.</summary>
    protected double Capacitor(string name, double x, double y)
    {
        Line(new(x, y), new(x + 17, y));
        Line(new(x + 25, y), new(x + 42, y));
        foreach (double at in (ReadOnlySpan<double>)[17, 25])
            Marks.Add(new LineMark([new(x + at, y - 12), new(x + at, y + 12)], new Pen(Ink.Edge, 2)));
        Text(name, new(x + 21, y - 17), Face.Regular, Anchor.Middle);
        return x + 42;
    }

    /// <summary>A transformer between two rails; gives where it ends.</summary>
    protected double Transformer(string name, double x, double up, double down)
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
            Marks.Add(new AreaMark([[new(middle - 30, up + 9), new(middle - 21, up + 11), new(middle - 25, up + 18)]], Ink.Edge));
        }

        Text(name, new(middle, down + 14), Face.Regular, Anchor.Middle);
        return middle + 34;
    }

    /// <summary>A winding lying along a rail, with what stands under it; gives where it ends.</summary>
    protected double Across(string name, string under, bool reversed, double x, double y)
    {
        Bumps(new(x, y), new(x + CoilWidth, y), -1);
        Ends(reversed, new(x, y), new(x + CoilWidth, y), new Point(0, 1));
        Text(name, new(x + 0.5 * CoilWidth, y - 16), Face.Bold, Anchor.Middle);
        if (under.Length > 0)
            Text(under, new(x + 0.5 * CoilWidth, y + 15), Face.Regular, Anchor.Middle);
        return x + CoilWidth;
    }

    /// <summary>A winding standing between two rails.</summary>
    protected void Down(string name, bool reversed, double x, double up, double down)
    {
        double a = up + 8, b = down - 8;
        Line(new(x, up), new(x, a));
        Line(new(x, b), new(x, down));
        Bumps(new(x, a), new(x, b), 1);
        Ends(reversed, new(x, a), new(x, b), new Point(-1, 0));
        Text(name, new(x + 16, 0.5 * (a + b) + 4), Face.Bold, Anchor.Start);
    }

    /// <summary>Words.</summary>
    protected void Text(string text, Point at, Face face, Anchor anchor) =>
        Marks.Add(new TextMark(text, at, 11, face, face == Face.Regular ? Ink.QuietText : Ink.Text, anchor, Width(text, face)));

    /// <summary>Width of words.</summary>
    protected double Width(string text, Face face) => textWidth(text, 11, face);

    /// <summary>A number in words.</summary>
    protected static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private void Ends(bool reversed, Point enters, Point leaves, Point aside)
    {
        foreach (var (at, isEntry) in new[] { (enters, true), (leaves, false) })
        {
            bool isStart = isEntry != reversed;
            Terminal(at);
            Text(isStart ? "S" : "F", new(at.X + 11 * aside.X + (aside.X == 0 ? isEntry ? 5 : -5 : 0), at.Y + (aside.Y == 0 ? 4 : 15)), Face.Regular, Anchor.Middle);
            if (isStart)
                Marks.Add(new CircleMark(aside.X == 0 ? new(at.X + (isEntry ? 6 : -6), at.Y - 12) : new(at.X + 18, at.Y + (isEntry ? 4 : -4)), 2.6, Ink.Edge, null));
        }
    }

    // Four half circles between two points, bulging up from a lying winding, and to the given side of a standing one.
    private void Bumps(Point from, Point to, int side)
    {
        const int Count = 4, Pieces = 12;
        var along = (1.0 / Count) * (to - from);
        double turned = Math.Abs(along.X) > Math.Abs(along.Y) ? 1 : -1;
        var points = new List<Point>();
        for (int i = 0; i < Count; i++)
            for (int k = 0; k <= Pieces; k++)
            {
                var (sin, cos) = Math.SinCos(Math.PI * k / Pieces);
                points.Add(from + (i + 0.5 - 0.5 * cos) * along + 0.5 * side * sin * turned * new Point(-along.Y, along.X));
            }

        Marks.Add(new LineMark(points, Wire));
    }
}
