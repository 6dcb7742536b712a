using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Geometry;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Pictures;

/// <summary>The picture of a flat box: its discs at an instant, each with the way it goes in the next moment, floor, lid and walls.</summary>
public static class BoxPicture
{
    private const double Edge = 36, Longest = 620, TitleSize = 19, TextSize = 12.5, Leading = 17;

    /// <summary>Runs the box until it has forgotten how it was set up, and draws it.</summary>
    /// <param name="apparatus">A flat apparatus.</param>
    /// <param name="options">What is wanted; the phase has no meaning here.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The apparatus is not flat.</exception>
    public static Scene Of(Apparatus apparatus, PictureOptions options, TextWidth textWidth, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(textWidth);
        var box = Circumstances.Of(apparatus, options.State, []).Apparatus.Box ?? throw new ArgumentException("Only a flat apparatus has a box to draw.", nameof(apparatus));
        var palette = options.OnPaper ? Palette.Paper : Palette.Hall;
        var (discs, floor, lid) = BoxRun.Instant(box, cancellation);
        int count = discs.Count;
        double top = double.IsNaN(lid) ? box.Height : Math.Min(box.Height, 1.25 * lid), scale = Longest / Math.Max(box.Width, top);
        double width = Math.Max(460, box.Width * scale + 2 * Edge), left = 0.5 * (width - box.Width * scale), bottom = Edge + top * scale;
        Point At(double x, double y) => new(left + x * scale, bottom - y * scale);
        // A disc on the joint is seen on both sides of it.
        if (box.IsJoined)
            discs = [.. discs, .. discs.Where(d => d.X < 2 * d.Radius || d.X > box.Width - 2 * d.Radius).Select(d => d with { X = d.X + (d.X < 0.5 * box.Width ? box.Width : -box.Width) })];
        var marks = new List<Mark>();
        double rms = Math.Sqrt(discs.Select(d => d.Vx * d.Vx + d.Vy * d.Vy).DefaultIfEmpty(0).Average());
        // Each tail is the path of the next moment: at the mean speed one radius beyond the rim.
        double moment = rms > 0 ? 2 * box.Discs.Radius / rms : 0;
        var inside = new List<Mark> { new LitMark(new Point(left, Edge), box.Width * scale, top * scale, At(0.5 * box.Width, 0.5 * top), 0.6 * Longest, palette.StageLit, palette.StageRim) };
        inside.Add(new StrokesMark([.. discs.Select(d => (At(d.X, d.Y), At(d.X + d.Vx * moment, d.Y + d.Vy * moment)))], new Pen(palette.Warm.At(0.8), Math.Max(1, 0.25 * box.Discs.Radius * scale))));
        if (box.Discs.Moment > 0)
        {
            // Half the distance at which two that close in with the mean energy of each have come to rest: μ₀ m²/(4π r³) = 2 E.
            double keep = 0.5 * Math.Cbrt(PhysicalConstants.MagneticConstant / (4 * Math.PI) * box.Discs.Moment * box.Discs.Moment / (box.Discs.Mass * Math.Max(rms * rms, 1e-12)));
            inside.AddRange(discs.Where(d => d.Radius < keep).Select(d => (Mark)new CircleMark(At(d.X, d.Y), keep * scale, palette.Cool.At(0.07), new Pen(palette.Cool.At(0.5), 0.8))));
        }

        inside.AddRange(discs.Select(d => (Mark)new CircleMark(At(d.X, d.Y), d.Radius * scale, palette.Matter, new Pen(palette.Edge, 1))));
        marks.Add(new ClippedMarks(new Point(left, Edge), box.Width * scale, top * scale, inside));
        var wall = new Pen(palette.Edge, 2.4);
        var side = box.IsJoined ? new Pen(palette.Edge, 1, [5, 5]) : wall;
        marks.Add(new LineMark([At(0, top), At(0, 0)], side));
        marks.Add(new LineMark([At(box.Width, top), At(box.Width, 0)], side));
        marks.Add(new LineMark([At(0, floor), At(box.Width, floor)], box.Floor is null ? wall : new Pen(palette.Warm, 3)));
        if (!double.IsNaN(lid))
            marks.Add(new LineMark([At(0, lid), At(box.Width, lid)], new Pen(palette.Cool, 4)));
        else if (!box.IsOpen)
            marks.Add(new LineMark([At(0, top), At(box.Width, top)], wall));
        string title = apparatus.Titled(options.State);
        string text = Words(box, count, rms, lid);
        double y = bottom + 34;
        marks.Add(new TextMark(title, new Point(Edge, y), TitleSize, Face.Bold, palette.Text, Anchor.Start, textWidth(title, TitleSize, Face.Bold)));
        foreach (string line in Setting.Wrapped(text, TextSize, Face.Regular, width - 2 * Edge, textWidth))
        {
            y += Leading + 4;
            marks.Add(new TextMark(line, new Point(Edge, y), TextSize, Face.Regular, palette.QuietText, Anchor.Start, textWidth(line, TextSize, Face.Regular)));
        }

        double height = y + Edge;
        return new Scene(width, height, title, text, [new AreaMark([[new(0, 0), new(width, 0), new(width, height), new(0, height)]], palette.Sheet), .. marks]);
    }

    private static string Words(ParticleBox box, int count, double rms, double lid)
    {
        var pieces = new List<string>
        {
            FormattableString.Invariant($"{count} discs of {Shown.In("mm").Gap(2 * box.Discs.Radius)} at an instant, root-mean-square speed {Shown.In("mm/s").Gap(rms)}; each tail is the way of the next moment."),
        };
        if (box.Discs.Moment > 0)
            pieces.Add("They are upright magnets and keep one another off; each thin ring is where two of the mean energy would turn.");
        if (box.Floor is { } floor)
            pieces.Add(FormattableString.Invariant($"The floor (warm line) shakes by ± {Shown.In("mm").Gap(floor.Amplitude)} at {floor.Frequency:0.#} Hz{(floor.Speed == 0 ? "" : FormattableString.Invariant($" and travels {(floor.Speed > 0 ? "to the right" : "to the left")} at {Shown.In("mm/s").Gap(Math.Abs(floor.Speed))}"))}."));
        if (!double.IsNaN(lid))
            pieces.Add(FormattableString.Invariant($"The lid (cool line) stands at {Shown.In("mm").Gap(lid)} just now."));
        if (box.IsOpen)
            pieces.Add("The top is open.");
        if (box.IsJoined)
            pieces.Add("Left and right (dashed) are one: what leaves on one side comes in on the other.");
        return string.Join(' ', pieces);
    }
}
