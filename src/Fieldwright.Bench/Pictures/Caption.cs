using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>What stands under a picture: its title, what it shows, and the key to its signs.</summary>
internal sealed class Caption
{
    private const double TitleSize = 19, TextSize = 12.5, Leading = 17, KeyWidth = 250;
    private readonly List<Mark> marks = [];

    /// <summary>Sets the caption.</summary>
    public Caption(
        Apparatus apparatus, PictureOptions options, string note, double angle, FluxLayer lines, WashLayer wash, CurrentLayer currents, TurningLayer? turning,
        Palette palette, TextWidth textWidth, Point corner, double width)
    {
        Title = apparatus.Titled(options.State);
        Text = Words(apparatus, options, angle, lines, wash) + Turns(turning) + (note.Length > 0 ? " " + note : "");
        marks.Add(new TextMark(Title, new Point(corner.X, corner.Y + 8), TitleSize, Face.Bold, palette.Text, Anchor.Start, textWidth(Title, TitleSize, Face.Bold)));
        double y = corner.Y + 33;
        foreach (string line in Setting.Wrapped(Text, TextSize, Face.Regular, width - KeyWidth - 30, textWidth))
        {
            marks.Add(new TextMark(line, new Point(corner.X, y), TextSize, Face.Regular, palette.QuietText, Anchor.Start, textWidth(line, TextSize, Face.Regular)));
            y += Leading;
        }

        double keyBottom = Key(wash, currents, turning, palette, textWidth, new Point(corner.X + width - KeyWidth, corner.Y));
        Bottom = Math.Max(y - Leading, keyBottom) + 4;
    }

    /// <summary>The title.</summary>
    public string Title { get; }

    /// <summary>What the picture shows, in words.</summary>
    public string Text { get; }

    /// <summary>Lower edge, px.</summary>
    public double Bottom { get; }

    /// <summary>The marks.</summary>
    public IReadOnlyList<Mark> Marks => marks;

    private static string Words(Apparatus apparatus, PictureOptions options, double angle, FluxLayer lines, WashLayer wash)
    {
        bool round = apparatus.Layout == Layout.Round;
        string section = round ? "Section through the axis" : string.Create(CultureInfo.InvariantCulture, $"Section of a depth of {1000 * (apparatus.Depth ?? 1):0.#} mm");
        string instant = apparatus.Frequency > 0
            ? string.Create(CultureInfo.InvariantCulture, $", at {apparatus.Frequency:0.##} Hz, {Phase(options.PhaseDegrees, angle)}")
            : apparatus.Supplies.Count > 0 ? ", direct current" : "";
        if (lines.Step == 0)
            return section + instant + ". There is no field.";
        string flux = round ? $" Between neighbouring lines flow {Together(lines.StepText)} through the full turn" : $" Between neighbouring lines flow {Together(lines.StepText)}";
        return section + instant + "." + flux + $"; the wash follows the flux density up to {Together(WashLayer.Text(wash.Most))}.";
    }

    private static string Turns(TurningLayer? turning) => turning is not { Marks.Count: > 0 } ? ""
        : turning is { Tester: { } tester, MostTorque: { } most }
            ? $" Ellipses are traced by the tip of the field, larger where it is stronger; filled as strongly as '{tester.Name}' is turned when held there, by up to {Together(Shown.In("mN m").Rounded(most, 2))}."
            : " Ellipses are traced by the tip of the field, larger where it is stronger.";

    private static string Phase(double? asked, double angle)
    {
        double degrees = asked is { } given ? Math.Round(given, 1) : Math.Round(angle * 180 / Math.PI);
        string when = degrees == 0 ? "as the source peaks" : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(degrees):0.#}° {(degrees > 0 ? "after" : "before")} the source peaks");
        return asked is null ? $"at the instant when the field is strongest ({when})" : when;
    }

    // A number and its unit stay on one line.
    private static string Together(string text) => text.Replace(' ', '\u00a0');

    private static double KeyLine(double y, int line) => y + line * 21;

    private double Key(WashLayer wash, CurrentLayer currents, TurningLayer? turning, Palette palette, TextWidth textWidth, Point corner)
    {
        int line = 0;
        void Text(string text, double x, double y) =>
            marks.Add(new TextMark(text, new Point(x, y + 4), 12, Face.Regular, palette.QuietText, Anchor.Start, textWidth(text, 12, Face.Regular)));
        if (currents.IsAny)
        {
            foreach (bool towards in (ReadOnlySpan<bool>)[true, false])
            {
                double y = KeyLine(corner.Y, line++);
                marks.AddRange(CurrentLayer.Sign(new Point(corner.X + 6, y), 5.5, towards, palette));
                Text(towards ? "current towards you" : "current away from you", corner.X + 22, y);
            }
        }

        if (turning is { Marks.Count: > 0 })
        {
            foreach (bool counterClockwise in (ReadOnlySpan<bool>)[true, false])
            {
                double y = KeyLine(corner.Y, line++);
                marks.AddRange(TurningLayer.Sign(new Point(corner.X + 6, y), 5.5, counterClockwise, palette));
                Text(counterClockwise ? "field goes round counter-clockwise" : "field goes round clockwise", corner.X + 22, y);
            }
        }

        if (wash.Most > 0)
        {
            double y = KeyLine(corner.Y, line++), width = 120;
            const int Steps = 60;
            byte[] pixels = new byte[4 * Steps];
            for (int k = 0; k < Steps; k++)
            {
                // Even in the number that is read; the wash itself is even in its root.
                double share = Math.Sqrt((k + 0.5) / Steps);
                var ink = Palette.Mix(palette.StageRim, palette.Wash(share), 0.9 * share);
                (pixels[4 * k], pixels[4 * k + 1], pixels[4 * k + 2], pixels[4 * k + 3]) = (ink.Red, ink.Green, ink.Blue, 255);
            }

            marks.Add(new GridMark(new Point(corner.X, y - 5), width, 10, Steps, 1, pixels));
            marks.Add(new LineMark([new(corner.X, y - 5), new(corner.X + width, y - 5), new(corner.X + width, y + 5), new(corner.X, y + 5)], new Pen(palette.StageEdge, 0.8), true));
            Text($"0 … {WashLayer.Text(wash.Most)}", corner.X + width + 10, y);
        }

        return KeyLine(corner.Y, Math.Max(0, line - 1)) + 4;
    }
}
