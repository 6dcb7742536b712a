using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Bench.Pictures;

public class SectionPictureTests
{
    public static TheoryData<string> All => ["plate", "magnet", "ring"];

    [Theory]
    [MemberData(nameof(All))]
    public void Labels_Laid_StandOnTheSheetAndNeverOverlap(string name)
    {
        var scene = Of(name).Scene();
        var boxes = scene.Marks.OfType<TextMark>().Select(t => (t.Text, Box: Box(t))).ToList();
        Assert.True(boxes.Count >= 4);
        foreach (var (text, box) in boxes)
            Assert.True(box.Left >= 0 && box.Right <= scene.Width && box.Top >= 0 && box.Bottom <= scene.Height, text);
        for (int i = 0; i < boxes.Count; i++)
            for (int j = 0; j < i; j++)
                Assert.False(
                    boxes[i].Box.Left < boxes[j].Box.Right && boxes[j].Box.Left < boxes[i].Box.Right && boxes[i].Box.Top < boxes[j].Box.Bottom && boxes[j].Box.Top < boxes[i].Box.Bottom,
                    $"'{boxes[i].Text}' lies over '{boxes[j].Text}'");
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Everything_Drawn_HasItsNameAndFiniteMarks(string name)
    {
        var drawn = Of(name);
        var marks = Flat(drawn.Scene().Marks).ToList();
        var texts = marks.OfType<TextMark>().Select(t => t.Text).ToList();
        Assert.All(drawn.Apparatus.Parts, p => Assert.Contains(p.Name, texts));
        Assert.All(drawn.Apparatus.Windings, w => Assert.Contains(w.Name, texts));
        Assert.All(marks.OfType<LineMark>().SelectMany(l => l.Points), p => Assert.True(p.IsFinite));
        Assert.All(marks.OfType<StrokesMark>().SelectMany(s => s.Lines), l => Assert.True(l.From.IsFinite && l.To.IsFinite));
    }

    [Fact]
    public void Current_AlongPhi_GoesAwayOnTheRightAndComesBackOnTheLeft()
    {
        // At the peak of the source the coil's current is positive, that is along φ; seen from the front that is away on the right.
        var scene = Drawn.Plate.Scene(new PictureOptions(PhaseDegrees: 0));
        var stage = scene.Marks.OfType<ClippedMarks>().Single();
        double axis = stage.Corner.X + 0.5 * stage.Width;
        var strong = Flat(stage.Marks).OfType<CircleMark>().Where(c => c.Fill is { } f && (f == Palette.Hall.Warm || f == Palette.Hall.Cool) && c.Radius > 3).ToList();
        Assert.NotEmpty(strong);
        Assert.All(strong, c => Assert.Equal(c.Centre.X > axis ? Palette.Hall.Cool : Palette.Hall.Warm, c.Fill));
    }

    [Fact]
    public void Phase_HalfACycleOn_SwapsWarmAndCool()
    {
        int Warm(double degrees) => Flat(Drawn.Plate.Scene(new PictureOptions(PhaseDegrees: degrees)).Marks).OfType<CircleMark>().Count(c => c.Fill == Palette.Hall.Warm && c.Centre.X < 400);
        int Cool(double degrees) => Flat(Drawn.Plate.Scene(new PictureOptions(PhaseDegrees: degrees)).Marks).OfType<CircleMark>().Count(c => c.Fill == Palette.Hall.Cool && c.Centre.X < 400);
        Assert.Equal(Warm(20), Cool(200));
    }

    [Fact]
    public void Colour_OfACurrent_IsNeverAlone()
    {
        // Each warm disc carries a dot, each cool one a cross.
        var marks = Flat(Drawn.Plate.Scene(new PictureOptions(PhaseDegrees: 0)).Marks).ToList();
        for (int i = 0; i < marks.Count; i++)
            if (marks[i] is CircleMark { Fill: { } fill } circle && fill == Palette.Hall.Warm)
                Assert.True(marks[i + 1] is CircleMark dot && dot.Centre == circle.Centre && dot.Fill == Palette.Hall.MarkInk);
            else if (marks[i] is CircleMark { Fill: { } other } && other == Palette.Hall.Cool)
                Assert.IsType<StrokesMark>(marks[i + 1]);
    }

    [Fact]
    public void Magnet_Drawn_HasItsNorthEndUp()
    {
        var north = Assert.Single(Flat(Drawn.Magnet.Scene().Marks).OfType<TextMark>(), t => t.Text == "N");
        var stage = Drawn.Magnet.Scene().Marks.OfType<ClippedMarks>().Single();
        Assert.True(north.At.Y < stage.Corner.Y + 0.5 * stage.Height);
    }

    [Fact]
    public void Scene_DrawnTwice_IsTheSame()
    {
        string first = Fieldwright.App.Pictures.SvgPicture.Of(Drawn.Ring.Scene()), second = Fieldwright.App.Pictures.SvgPicture.Of(Drawn.Ring.Scene());
        Assert.Equal(first, second);
    }

    [Fact]
    public void Mix_OfTwoColours_GivesBothEnds()
    {
        Ink a = new(12, 200, 77), b = new(250, 3, 130);
        Assert.Equal(a, Palette.Mix(a, b, 0));
        Assert.Equal(b, Palette.Mix(a, b, 1));
    }

    [Fact]
    public void Wash_FromLowToHigh_RisesEvenlyInLightness()
    {
        // Lightness L* of CIE 1976, a measure of its own: steps of a tenth must be alike within the rounding to 8 bits.
        double[] steps = [.. Enumerable.Range(0, 10).Select(k => Lightness(Palette.Hall.Wash((k + 1) / 10.0)) - Lightness(Palette.Hall.Wash(k / 10.0)))];
        Assert.All(steps, s => Assert.InRange(s, 0.75 * steps.Average(), 1.25 * steps.Average()));
    }

    [Fact]
    public void Thinned_Line_StaysWithinItsTolerance()
    {
        List<Point> line = [.. Enumerable.Range(0, 400).Select(k => new Point(k, 40 * Math.Sin(0.03 * k)))];
        var thin = Polylines.Thinned(line, 0.1);
        Assert.InRange(thin.Count, 5, 120);
        foreach (var point in line)
            Assert.True(Enumerable.Range(1, thin.Count - 1).Min(i => Polylines.FromLine(point, thin[i - 1], thin[i])) <= 0.1);
    }

    [Fact]
    public void Hatching_OfARingSection_StaysOutOfTheHole()
    {
        IReadOnlyList<Point> Circle(double radius) => [.. Enumerable.Range(0, 90).Select(k => new Point(radius * Math.Cos(k * Math.PI / 45), radius * Math.Sin(k * Math.PI / 45)))];
        IReadOnlyList<IReadOnlyList<Point>> ring = [Circle(50), Circle(20)];
        var lines = Polylines.Hatching(ring, -45, 5);
        Assert.InRange(lines.Count, 20, 40);
        Assert.All(lines, l => Assert.True(Polylines.Contains(ring, 0.5 * (l.From + l.To))));
        Assert.True(Polylines.Contains(ring, Polylines.Inside(ring)));
    }

    private static Drawn Of(string name) => name switch
    {
        "plate" => Drawn.Plate,
        "magnet" => Drawn.Magnet,
        _ => Drawn.Ring,
    };

    private static double Lightness(Ink ink)
    {
        static double Linear(byte c) => c / 255.0 <= 0.04045 ? c / 255.0 / 12.92 : Math.Pow((c / 255.0 + 0.055) / 1.055, 2.4);
        double y = 0.2126 * Linear(ink.Red) + 0.7152 * Linear(ink.Green) + 0.0722 * Linear(ink.Blue);
        return y > 0.008856 ? 116 * Math.Cbrt(y) - 16 : 903.3 * y;
    }

    private static IEnumerable<Mark> Flat(IEnumerable<Mark> marks) => marks.SelectMany(m => m is ClippedMarks clipped ? Flat(clipped.Marks) : [m]);

    private static (double Left, double Top, double Right, double Bottom) Box(TextMark text)
    {
        double left = text.Anchor switch
        {
            Anchor.Middle => text.At.X - 0.5 * text.Width,
            Anchor.End => text.At.X - text.Width,
            _ => text.At.X,
        };
        return (left, text.At.Y - 0.72 * text.Size, left + text.Width, text.At.Y + 0.2 * text.Size);
    }
}
