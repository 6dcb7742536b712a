using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>The wiring: each supply with what protects it and its windings, each winding with start S (dotted) and finish F, phases line by line, and the windings that drive loads.</summary>
/// <remarks>Windings that share a core or a field are dotted where their flux adds for currents that enter at the dots.</remarks>
internal sealed class WiringDiagram : WiringSymbols
{
    private const double PageWidth = 690, RowHeight = 138, Rail = 72, First = 34, Gap = 42, LineHeight = 54;
    private double top = 4;

    private WiringDiagram(TextWidth textWidth)
        : base(textWidth)
    {
    }

    /// <summary>The diagram of an apparatus; of no height when nothing in it is joined to anything.</summary>
    public static Scene Of(Apparatus apparatus, TextWidth textWidth)
    {
        var diagram = new WiringDiagram(textWidth);
        foreach (var supply in apparatus.Supplies)
            if (supply.Phases > 1)
                diagram.Lines(apparatus, supply);
            else
                diagram.Row(apparatus, supply);
        foreach (var load in apparatus.Loads.Where(l => apparatus.SupplyOf(l.On) is null))
            diagram.Row(load);
        foreach (var part in apparatus.Parts)
            if (part.Shape is FoilLoopShape foil)
                diagram.Row(part, foil, MostCarried(apparatus, part, foil.Carries));
            else if (part.Shape is PumpChannelShape channel)
                diagram.Row(part, MostCarried(apparatus, part, channel.Carries));
        return new Scene(PageWidth, diagram.Marks.Count == 0 ? 0 : diagram.top, apparatus.Name + ": wiring", "The dot is the start S of each winding.", diagram.Marks);
    }

    private void Row(Apparatus apparatus, Supply supply)
    {
        double up = top + 30, down = up + Rail, x = First + 22, middle = 0.5 * (up + down), on = x + 26;
        Source(supply, new Point(x, middle));
        Line(new(x, middle - 18), new(x, up), new(on, up));
        Line(new(x, middle + 18), new(x, down), new(on, down));
        double from = on;
        if (supply is { Kind: SupplyKind.CapacitorBank, Bleeder: { } bleeder })
        {
            double at = on + 16;
            Line(new(on, up), new(on + 32, up));
            StandingResistor(at, up, down);
            Joint(new(at, up));
            Joint(new(at, down));
            Text(SupplyWords.Ohms(bleeder), new(at + 11, middle + 4), Face.Regular, Anchor.Start);
            on += 32 + 24;
            Line(new(on - 24, up), new(on, up));
        }

        if (supply.Breaker is { } breaker)
            on = Breaker(breaker, on, up);
        if (supply.Fuse is { } fuse)
            on = Fuse(fuse, on, up);
        if (supply is { Breaker: null, Kind: not SupplyKind.Current })
            on = Switch("", on, up);
        Line(new(from, down), new(on, down));
        if (supply.Through is { } through)
            on = Transformer(through, on, up, down);
        if (supply.Connection == Connection.Series)
            Chain(apparatus, supply, on, up, down);
        else
            SideBySide(apparatus, supply, on, up, down);
        top += RowHeight;
    }

    private void Chain(Apparatus apparatus, Supply supply, double on, double up, double down)
    {
        double end = on + 10, back = on;
        foreach (string name in supply.Feeds)
        {
            if (on + CoilWidth + Gap > PageWidth - 20)
            {
                // Too long for the page: the chain goes on in the next row.
                Text("goes on below", new(on + 4, up - 6), Face.Italic, Anchor.Start);
                Named(supply, down);
                top += RowHeight;
                (up, down) = (up + RowHeight, down + RowHeight);
                (on, back) = (First + 22, First + 22);
            }

            var winding = apparatus.Winding(name)!;
            Line(new(on, up), new(on + Gap - 12, up));
            on = Across(name, Coils(winding), winding.Reversed, on + Gap - 12, up);
            end = on + 14;
        }

        Line(new(on, up), new(end, up), new(end, down), new(back, down));
        Named(supply, down);
    }

    private void SideBySide(Apparatus apparatus, Supply supply, double on, double up, double down)
    {
        var feeds = supply.Feeds.OrderBy(f => supply.Split is { } s && Apparatus.Same(s.Before, f)).ToList();
        foreach (string name in feeds)
        {
            double before = on;
            if (supply.Split is { } split && Apparatus.Same(split.Before, name))
                on = Capacitor(SupplyWords.Farads(split.Capacitance), on + 8, up);
            double at = on + 46;
            Line(new(before, up), new(before + (on > before ? 8 : 0), up));
            Line(new(on, up), new(at, up));
            Line(new(before, down), new(at, down));
            Down(name, apparatus.Winding(name)!.Reversed, at, up, down);
            // The winding behind a capacitor stands last, for the rail does not go on behind it.
            on = at + 16 + Width(name, Face.Bold) + 10;
            if (name != feeds[^1])
            {
                Line(new(at, up), new(on, up));
                Line(new(at, down), new(on, down));
            }
        }

        Named(supply, down);
    }

    // Line by line: each phase with its windings in series, to the star point or to the next line.
    private void Lines(Apparatus apparatus, Supply supply)
    {
        int n = supply.Phases;
        double up = top + 30, down = up + (n - 1) * LineHeight, left = First + 4, on = left + 44;
        Box(left, up - 16, left + 40, down + 16);
        Wave(new(left + 20, 0.5 * (up + down) - 6));
        Text(Say($"{n} ~"), new(left + 20, 0.5 * (up + down) + 16), Face.Bold, Anchor.Middle);
        var phases = Enumerable.Range(0, n).Select(k => supply.Feeds.Where((_, i) => i % n == k).ToList()).ToList();
        double star = 0, labels = on + 62;
        for (int k = 0; k < n; k++)
        {
            double y = up + k * LineHeight, at = labels;
            Line(new(left + 40, y), new(at, y));
            Text(Say($"L{k + 1}"), new(left + 46, y - 5), Face.Bold, Anchor.Start);
            Text(Lag(apparatus, supply, phases[k][0], k), new(left + 62, y - 5), Face.Regular, Anchor.Start);
            if (supply.Breaker is { } breaker)
                at = Breaker(k == 0 ? breaker : "", at, y);
            if (supply.Fuse is { } fuse)
                at = Fuse(fuse, at, y);
            if (supply.Through is { } through)
            {
                double wide = at + 74;
                Line(new(at, y), new(at + 8, y));
                if (k == 0)
                {
                    Box(at + 8, up - 18, wide - 8, down + 18);
                    Text(through, new(at + 37, down + 31), Face.Regular, Anchor.Middle);
                }

                foreach (double c in (ReadOnlySpan<double>)[at + 31, at + 43])
                    Marks.Add(new CircleMark(new(c, y), 10, null, new Pen(Ink.Edge, 1.3)));
                Line(new(at + 8, y), new(at + 21, y));
                Line(new(at + 53, y), new(wide, y));
                at = wide;
            }

            foreach (string name in phases[k])
            {
                var winding = apparatus.Winding(name)!;
                Line(new(at, y), new(at + 26, y));
                at = Across(name, Coils(winding), winding.Reversed, at + 26, y);
            }

            Line(new(at, y), new(at + 26, y));
            star = Math.Max(star, at + 26);
        }

        for (int k = 0; k < n; k++)
        {
            double y = up + k * LineHeight;
            if (supply.Connection == Connection.Delta)
            {
                Terminal(new(star, y));
                Text(Say($"to L{(k + 1) % n + 1}"), new(star + 8, y + 4), Face.Bold, Anchor.Start);
            }
            else
                Joint(new(star, y));
        }

        if (supply.Connection != Connection.Delta)
        {
            Line(new(star, up), new(star, down));
            Text("star point,", new(star + 8, 0.5 * (up + down) - 2), Face.Regular, Anchor.Start);
            Text(n == 3 ? "joined to nothing" : "with a return", new(star + 8, 0.5 * (up + down) + 12), Face.Regular, Anchor.Start);
        }

        double foot = down + (supply.Through is null ? 6 : 20);
        Named(supply, foot);
        top = foot + 52;
    }

    private void Row(Load load)
    {
        double up = top + 30, down = up + Rail, x = First + 40, far = x + 190;
        Down(load.On, false, x, up, down);
        Line(new(x, up), new(far, up));
        Line(new(x, down), new(far, down));
        var centre = new Point(far, 0.5 * (up + down));
        if (load.Kind == LoadKind.Resistor)
            StandingResistor(far, up, down);
        else
        {
            Line(new(far, up), new(far, centre.Y - 15));
            Line(new(far, down), new(far, centre.Y + 15));
            Circle(centre, 15);
        }

        if (load.Kind == LoadKind.FilamentLamp)
            Cross(centre, 10.6);
        if (load.Kind == LoadKind.Meter)
            Text("meter", new(far, centre.Y + 4), Face.Bold, Anchor.Middle);
        Text(load.Name, new(far + 24, centre.Y), Face.Bold, Anchor.Start);
        Text(Words(load), new(far + 24, centre.Y + 14), Face.Regular, Anchor.Start);
        top += RowHeight - 20;
    }

    // A foil between its clips, hanging.
    private void Row(Part foil, FoilLoopShape shape, double most)
    {
        double up = top + 30, down = up + Rail, x = First + 22, on = x + 26, middle = 0.5 * (up + down);
        Battery(new(x, middle));
        Line(new(x, middle - 18), new(x, up), new(on, up));
        on = Switch("push-button", on, up);
        Line(new(on, up), new(on + 40, up), new(on + 40, up + 10));
        Line(new(x, middle + 18), new(x, down + 10), new(on + 76, down + 10), new(on + 76, up), new(on + 60, up), new(on + 60, up + 10));
        Terminal(new(on + 40, up + 12));
        Terminal(new(on + 60, up + 12));
        Marks.Add(new LineMark([.. Enumerable.Range(0, 31).Select(k => new Point(on + 50 - 10 * Math.Cos(Math.PI * k / 30) * (1 + 0.6 * Math.Sin(Math.PI * k / 30)), up + 14 + 52 * Math.Sin(Math.PI * k / 30)))], new Pen(Ink.Edge, 2.4)));
        Text(foil.Name, new(on + 90, middle), Face.Bold, Anchor.Start);
        Text(Say($"up to {most:0.##} A, direct, through two clips {ShapeWords.Mm(shape.Span)} mm apart"), new(on + 90, middle + 14), Face.Regular, Anchor.Start);
        top += RowHeight;
    }

    // A channel of liquid metal seen from above, its electrodes along either side: positive current crosses upwards, and the field that stands out of the page drives the metal to the right.
    private void Row(Part channel, double most)
    {
        const double Long = 120, Across = 44;
        double up = top + 22, down = up + Rail + 12, x = First + 22, on = x + 26, middle = 0.5 * (up + down);
        Battery(new(x, middle));
        Line(new(x, middle - 18), new(x, up), new(on, up));
        on = Switch("", on, up);
        double left = on + 34, right = left + Long, high = middle - 0.5 * Across, low = middle + 0.5 * Across;
        Line(new(on, up), new(right + 24, up), new(right + 24, low), new(right, low));
        Line(new(x, middle + 18), new(x, down), new(left - 20, down), new(left - 20, high), new(left, high));
        Line(new(left, high), new(left, low));
        Line(new(right, high), new(right, low));
        foreach (double y in (ReadOnlySpan<double>)[high, low])
            Marks.Add(new LineMark([new(left, y), new(right, y)], new Pen(Ink.Edge, 4)));
        Joint(new(right, low));
        Joint(new(left, high));
        Arrow(left + 0.32 * Long, low - 6, high + 6);
        Text("I", new(left + 0.32 * Long - 8, middle + 4), Face.Italic, Anchor.End);
        double tip = right - 14;
        Line(new(left + 0.55 * Long, middle), new(tip - 5, middle));
        Marks.Add(new AreaMark([[new(tip, middle), new(tip - 8, middle - 3), new(tip - 8, middle + 3)]], Ink.Edge));
        Text("flow", new(left + 0.72 * Long, middle - 5), Face.Italic, Anchor.Middle);
        Text(channel.Name, new(right + 40, middle - 10), Face.Bold, Anchor.Start);
        Text(Say($"up to {most:0.##} A, direct, into the electrodes along its sides"), new(right + 40, middle + 4), Face.Regular, Anchor.Start);
        Text("seen from above; the flow is that of a field that points up", new(right + 40, middle + 18), Face.Regular, Anchor.Start);
        top += RowHeight;
    }

    private static double MostCarried(Apparatus apparatus, Part part, double carries) => apparatus.States.SelectMany(s => s.Settings)
        .Where(s => s.Input is { Quantity: "current" } && Apparatus.Same(s.Input.Owner, part.Name)).Select(s => Math.Abs(s.Value)).Append(Math.Abs(carries)).Max();

    private void Source(Supply supply, Point at)
    {
        if (supply.Kind == SupplyKind.Battery)
        {
            Battery(at);
            return;
        }

        if (supply.Kind == SupplyKind.CapacitorBank)
        {
            StandingCapacitor(at);
            Text("+", new(at.X - 20, at.Y - 6), Face.Bold, Anchor.Middle);
            return;
        }

        if (supply.Kind is SupplyKind.Inverter or SupplyKind.BenchSupply)
        {
            Box(at.X - 18, at.Y - 18, at.X + 18, at.Y + 18);
            if (supply.Kind == SupplyKind.Inverter)
            {
                Line(new(at.X - 18, at.Y + 18), new(at.X + 18, at.Y - 18));
                Wave(new(at.X + 8, at.Y + 9), 14);
                Text("=", new(at.X - 9, at.Y - 4), Face.Bold, Anchor.Middle);
            }
            else
            {
                Text("=", new(at.X, at.Y + 4), Face.Bold, Anchor.Middle);
                Text("+", new(at.X - 25, at.Y - 10), Face.Bold, Anchor.Middle);
            }

            return;
        }

        Circle(at, 18);
        if (supply.Frequency > 0)
            Wave(at);
        else
            Line(new(at.X, at.Y + 9), new(at.X, at.Y - 9));
        if (supply.Kind == SupplyKind.Current)
            Arrow(at.X - 25, at.Y + 12, at.Y - 13);
    }

    private void Named(Supply supply, double down)
    {
        Text(supply.Name, new(First + 4, down + 32), Face.Bold, Anchor.Start);
        Text(Words(supply), new(First + 12 + Width(supply.Name, Face.Bold), down + 32), Face.Regular, Anchor.Start);
    }

    private static string Coils(Winding winding) => winding.Space is PhaseSpace row && row.Of.CoilsOf(row.Phase) is > 1 and var coils ? Say($"{coils} coils") : "";

    // How far a line lags the first.
    private static string Lag(Apparatus apparatus, Supply supply, string winding, int phase)
    {
        double lag = (apparatus.Winding(winding)!.Space is PhaseSpace p ? p.Of.Lag(p.Phase) : 2 * Math.PI * phase / supply.Phases) * (supply.Backwards ? -1 : 1) * 180 / Math.PI;
        double turned = Math.IEEERemainder(supply.PhaseDegrees - lag, 360);
        return Say($"{turned:0.#}°").Replace("-", "−", StringComparison.Ordinal);
    }

    private static string Words(Supply s)
    {
        double root = s.Frequency > 0 ? Math.Sqrt(2) : 1;
        string rms = s.Frequency > 0 ? " rms" : ", direct";
        string size = s.Kind switch
        {
            SupplyKind.Battery => Say($"{s.Voltage ?? 0:0.##} V, direct"),
            SupplyKind.CapacitorBank => Say($"{SupplyWords.Farads(s.Capacitance ?? 0)} charged to {s.Voltage ?? 0:0.#} V"),
            SupplyKind.Current => Say($"{(s.Current ?? 0) / root:0.##} A{rms}"),
            _ => Say($"{(s.LineVoltage ?? s.Voltage ?? 0) / root:0.#} V{rms}{(s.ThreePhase ? " between lines" : "")}"),
        };
        string given = s.LineVoltage is not null && s.Voltage is { } volts ? Say($", {volts / root:0.#} V behind the transformer") : "";
        string limit = s.CurrentLimit is { } most ? Say($", at most {most / root:0.##} A") : "";
        string frequency = s.Frequency > 0 ? Say($", {s.Frequency:0.####} Hz{(s.Phases > 1 ? s.Backwards ? ", phase order reversed" : "" : Say($", phase {s.PhaseDegrees:0.#}°"))}") : "";
        string inside = s.InternalResistance > 0 ? Say($", {SupplyWords.Ohms(s.InternalResistance)} in source and leads") : "";
        return size + given + limit + frequency + inside;
    }

    private static string Words(Load l) => l.Kind == LoadKind.FilamentLamp ? Say($"{l.RatedVoltage:0.##} V, {l.RatedPower:0.##} W") : Say($"{l.Resistance:0.###} Ω");
}
