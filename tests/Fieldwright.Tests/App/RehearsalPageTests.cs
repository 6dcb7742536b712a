using Fieldwright.App.Reports;
using Fieldwright.Bench;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.App;

/// <summary>The page for answers made by hand, so that what routes seldom do is seen too.</summary>
public class RehearsalPageTests
{
    [Fact]
    public void Routes_BeyondTheirBars_AreToldInWords()
    {
        string page = Print(new RoutedAnswer(Height, "mm", [new Answer(11.32e-3, 0.05e-3, RouteName.Field), new Answer(12.1e-3, 0.1e-3, RouteName.Series, "Thin sheet.")], []));
        Assert.Contains("field     11.32 ± 0.05 mm", page);
        Assert.Contains("series    12.10 ± 0.10 mm   0.78 mm above (6.9 %)  ¹", page);
        Assert.Contains("! The series route differs from the field route by 0.78 mm, more than both error bars together (0.15 mm)", string.Join(' ', page.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));
        Assert.Contains("¹ Thin sheet.", page);
    }

    [Fact]
    public void Routes_WithinTheirBars_AreNotWarnedOf()
    {
        string page = Print(new RoutedAnswer(Height, "mm", [new Answer(11.32e-3, 0.05e-3, RouteName.Field), new Answer(11.4e-3, 0.1e-3, RouteName.Series)], []));
        Assert.Contains("0.08 mm above (0.71 %)", page);
        Assert.DoesNotContain("!", page);
    }

    [Fact]
    public void Route_Silent_SaysWhy()
    {
        string page = Print(new RoutedAnswer(Height, "mm", [], [new SilentRoute(RouteName.Field, "Newton's method did not settle.")]));
        Assert.Contains("◌ no answer", page);
        Assert.Contains("no answer: Newton's method did not settle.", page);
        Assert.Contains("Of 1 claim, 1 has no answer.", page);
    }

    [Fact]
    public void Claim_TooClose_SaysWhy()
    {
        string page = Print(new RoutedAnswer(Height, "mm", [new Answer(8.01e-3, 0.05e-3, RouteName.Field)], []));
        Assert.Contains("○ too close", page);
        Assert.Contains("The bound lies inside the error bar.", page);
    }

    [Fact]
    public void Caution_Printed_HasNumberLimitStandardAndGrade()
    {
        string page = Print(
            new RoutedAnswer(Height, "mm", [new Answer(9e-3, 0.05e-3, RouteName.Field)], []),
            new Caution("hot metal disc", "It stands at 80 °C.", "51 °C for a minute", "ISO 13732-1:2006", 'c', "Use tongs.", Acknowledged: true));
        foreach (string piece in (string[])[" 1  hot metal disc (acknowledged in the file)", "It stands at 80 °C.", "limit     51 °C for a minute", "ISO 13732-1:2006 [grade c: from memory]", "do        Use tongs."])
            Assert.Contains(piece, page);
        Assert.EndsWith(Caution.Deferral[^20..] + "\n", page);
    }

    /// <summary>The file acknowledges the mains; where no such caution was found, the page says so.</summary>
    [Fact]
    public void Acknowledgement_OfNoCaution_IsSaidToBeInVain()
    {
        var answer = new RoutedAnswer(Height, "mm", [new Answer(9e-3, 0.05e-3, RouteName.Field)], []);
        Assert.Contains("Acknowledged in the file but not found: mains.", Print(answer));
        Assert.DoesNotContain("but not found", Print(answer, new Caution("Mains", "It is fed from 230 V.", "50 V", "IEC", 'c', "Cover it.", Acknowledged: true)));
    }

    [Fact]
    public void Tones_OnAScreen_ColourTheLampAndNothingElseChanges()
    {
        var report = Report(new RoutedAnswer(Height, "mm", [new Answer(9e-3, 0.05e-3, RouteName.Field)], []));
        var coloured = new StringWriter { NewLine = "\n" };
        RehearsalPage.Of(report, 92).WriteTo(coloured, colours: true);
        Assert.Contains("\e[32m● holds", coloured.ToString());
        string bare = System.Text.RegularExpressions.Regex.Replace(coloured.ToString(), "\e\\[[0-9;]*m", "");
        Assert.Equal(Print(report), string.Join('\n', bare.Split('\n').Select(l => l.TrimEnd())));
    }

    private static Measure Height { get; } = new("rest height", "disc", null, [], null, false, "rest height of disc");

    private static string Print(RoutedAnswer answer, params Caution[] cautions) => Print(Report(answer, cautions));

    private static string Print(RehearsalReport report)
    {
        var page = new StringWriter { NewLine = "\n" };
        RehearsalPage.Of(report, 92).WriteTo(page, colours: false);
        return page.ToString();
    }

    private static RehearsalReport Report(RoutedAnswer answer, params Caution[] cautions)
    {
        var apparatus = ApparatusFile.Read(File.ReadAllText(Path.Combine(Repository.Root, "examples/floating-disc.yaml")), "disc").Apparatus!;
        var claim = new Claim("It floats.", Height, new Bound(BoundKind.AtLeast, 8e-3, double.PositiveInfinity, "at least 8 mm"), null);
        return new RehearsalReport(apparatus, Summary.Of(apparatus), [Judge.Verdict(claim, answer)], cautions);
    }
}
