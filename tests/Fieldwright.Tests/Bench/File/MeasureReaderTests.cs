using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

public class MeasureReaderTests
{
    // Kinds that ask for something the shared apparatus does not have, and so are turned away for good reason.
    private static readonly HashSet<string> OfMovingParts = ["rest height", "vertical stiffness", "swing period", "height", "speed"];

    [Fact]
    public void Measure_EveryKindAsTheCatalogueWritesIt_IsReadBack()
    {
        int read = 0;
        foreach (var apparatus in new[] { Bench.Disc, Bench.Ring })
            foreach (var kind in MeasureCatalogue.Kinds)
                foreach (string? subject in kind.Subject == SubjectKind.Nothing ? (IEnumerable<string?>)[null] : MeasureCatalogue.Subjects(kind.Subject, apparatus))
                {
                    string? other = kind.Subject == SubjectKind.TwoWindings ? apparatus.Windings.First(w => w.Name != subject).Name : null;
                    string text = kind.Write(subject, other);
                    if (!MeasureReader.TryRead(text, apparatus, out var measure, out var mistake))
                    {
                        Assert.True(
                            (kind.Subject == SubjectKind.Part && Fieldwright.Bench.Travelling.TravelMeasures.MakesSense(kind, apparatus.Part(subject!)!, apparatus) == false) || OfMovingParts.Contains(kind.Name) || kind.Name is "flux" or "flux density" or "pull across gap" or "brightness" || Fieldwright.Bench.Routes.FreeMeasures.Kinds.Contains(kind) || GasMeasures.Kinds.Contains(kind)
                                || Fieldwright.Bench.Routes.MeasureFamily.Of(kind)?.Missing(kind, subject, apparatus) is not null,
                            $"{text}: {mistake.Finding}");
                        continue;
                    }

                    read++;
                    Assert.Equal((kind.Name, subject, other, text), (measure.Kind, measure.Subject, measure.Other, measure.Text));
                    Assert.Equal(kind.NeedsTime ? 30 : null, measure.After);
                    Assert.Same(kind, MeasureCatalogue.KindOf(measure, apparatus));
                }

        Assert.True(read > 60, $"only {read} were read");
    }

    [Fact]
    public void Measure_WithConditions_TakesThemForItsSubject()
    {
        Assert.True(MeasureReader.TryRead("  lift on  disc at height 5 mm at current in inner 18 A peak at material copper at rest", Bench.Disc, out var measure, out _));
        Assert.Equal(["height of disc", "current in inner", "material of disc"], measure.Conditions.Select(c => c.Input.Text));
        Assert.Equal(0.005, measure.Conditions[0].Value, 1e-15);
        Assert.Equal(18, measure.Conditions[1].Value, 1e-12);
        Assert.Equal("copper", measure.Conditions[2].Word);
        Assert.True(measure.AtRest);
        Assert.Equal("lift on disc at height 5 mm at current in inner 18 A peak at material copper at rest", measure.Text);
    }

    [Fact]
    public void Measure_OfALoad_KeepsItsOwnAt()
    {
        Assert.True(MeasureReader.TryRead("voltage at lamp at gap in core 1 mm", Bench.Ring, out var measure, out _));
        Assert.Equal(("voltage", "lamp"), (measure.Kind, measure.Subject));
        Assert.Equal("gap in core", Assert.Single(measure.Conditions).Input.Text);
    }

    [Fact]
    public void Measure_OfANameOfSeveralWords_IsRead()
    {
        Assert.True(MeasureReader.TryRead("weight of Upper Ring at temperature of hall 30 °C", Bench.Disc, out var measure, out _));
        Assert.Equal("upper ring", measure.Subject);
        Assert.Equal(303.15, Assert.Single(measure.Conditions).Value, 1e-9);
    }

    [Theory]
    [InlineData("lift on dsic", 9, "there is no part 'dsic'", "disc")]
    [InlineData("lift of disc", 6, "'lift of'", "lift on")]
    [InlineData("lft on disc", 1, "no measure is called 'lft'", "lift")]
    [InlineData("lift", 1, "'lift' of nothing", "lift on")]
    [InlineData("lift on inner", 9, "'inner' is no part", null)]
    [InlineData("lift on disc at heigth 5 mm", 14, "sets no input", "height")]
    [InlineData("lift on disc at height of dsic 5 mm", 14, "there is no 'dsic'", "disc")]
    [InlineData("lift on disc at height", 14, "no value", null)]
    [InlineData("lift on disc at gap 5 mm", 14, "no input 'gap'", null)]
    [InlineData("hottest winding after 30 s after 40 s", 28, "second 'after'", null)]
    [InlineData("hottest winding after -30 s", 17, "no sense", null)]
    [InlineData("hottest winding of inner after 30 s", 17, "'of inner'", null)]
    [InlineData("hottest winding at height 5 mm after 30 s", 17, "without saying whose", null)]
    [InlineData("", 1, "no measure was given", null)]
    public void Measure_ThatIsWrong_SaysWhatAndWhere(string text, int column, string finding, string? nearest)
    {
        Assert.False(MeasureReader.TryRead(text, Bench.Disc, out _, out var mistake));
        Assert.Contains(finding, mistake.Finding, StringComparison.Ordinal);
        Assert.Equal((1, column, nearest), (mistake.Line, mistake.Column, mistake.NearestWord));
    }

    [Fact]
    public void Measure_OfRandomWords_NeverThrows()
    {
        string[] words = [.. MeasureCatalogue.Kinds.SelectMany(k => k.Write("disc").Split(' ')), .. Inputs.Of(Bench.Disc).SelectMany(i => i.Name.Text.Split(' ')), "5", "mm", "A", "-3", "rest", "°C", "and"];
        var random = new Random(11);
        int read = 0;
        for (int i = 0; i < 4000; i++)
        {
            string text = (i % 2 == 0 ? "lift on disc " : "") + string.Join(' ', Enumerable.Range(0, random.Next(9)).Select(_ => words[random.Next(words.Length)]));
            Assert.Equal(MeasureReader.TryRead(text, Bench.Disc, out var measure, out var mistake), measure is not null && mistake is null);
            read += measure is null ? 0 : 1;
        }

        Assert.True(read > 0);
    }
}
