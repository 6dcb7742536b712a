using Fieldwright.App;
using Fieldwright.App.Sheets;
using Fieldwright.Bench.Pictures;
using Xunit;

namespace Fieldwright.Tests.App;

public class SheetCommandTests
{
    [Fact]
    public void Pdf_OfAnApparatus_IsOnA4AndTitled()
    {
        using var folder = new Folder();
        string output = Path.Combine(folder.Path, "plate.pdf");
        Assert.Equal(ExitCode.Good, Spoken.Call("sheet", folder.File("plate.yaml", Small.Plate), "-o", output).Code);
        string pdf = System.Text.Encoding.Latin1.GetString(File.ReadAllBytes(output));
        Assert.StartsWith("%PDF-", pdf);
        // A4 is 595.3 × 841.9 points.
        Assert.Matches(@"/MediaBox \[0 0 595\.\d+ 841\.\d+\]", pdf);
        Assert.Contains("/Title (Plate & coil)", pdf);
    }

    [Fact]
    public void Html_OfAnApparatus_StandsAloneAndHoldsEveryPart()
    {
        using var folder = new Folder();
        string output = Path.Combine(folder.Path, "plate.html");
        Assert.Equal(ExitCode.Good, Spoken.Call("sheet", folder.File("plate.yaml", Small.Plate), "-o", output).Code);
        string html = File.ReadAllText(output);
        foreach (string part in new[] { "What to make", "What to wind", "How to connect it", "What to set", "What to buy", "How long it may stay on", "Cautions", "What is claimed of it", "What it was made from", "Plate &amp; coil", "<svg" })
            Assert.Contains(part, html);
        Assert.DoesNotContain("<script", html);
        Assert.DoesNotContain("src=\"http", html);
        Assert.DoesNotContain("<img", html);
    }

    /// <summary>The file goes into the print whole: a long line goes on in the next instead of being cut.</summary>
    [Fact]
    public void Verbatim_LongLines_ArePrintedToTheirEnd()
    {
        string[] words = [.. Enumerable.Range(0, 60).Select(i => $"word{i:00}")];
        var pages = new A4Pages();
        pages.Title("Long", "");
        pages.Verbatim(["short: 1", "  " + string.Join(' ', words), .. Enumerable.Repeat("filler: 2", 300), "last: 3"]);
        var texts = pages.Finish("Long", "foot").SelectMany((p, page) => p.Marks.OfType<TextMark>().Select(t => (Page: page, Mark: t))).ToList();
        string all = string.Join(' ', texts.Select(t => t.Mark.Text));
        Assert.All(words, w => Assert.Contains(w, all));
        Assert.Equal(300, texts.Count(t => t.Mark.Text == "filler: 2"));
        Assert.Contains(texts, t => t.Mark.Text == "last: 3");
        Assert.True(texts.Max(t => t.Page) >= 1);
        Assert.All(texts, t => Assert.InRange(t.Mark.At.X + (t.Mark.Anchor == Anchor.Start ? t.Mark.Width : 0), 0, A4Pages.Width - A4Pages.Margin + 0.5));
    }

    [Fact]
    public void Output_OfAnotherKind_IsRefusedAndNothingIsWritten()
    {
        using var folder = new Folder();
        var said = Spoken.Call("sheet", folder.File("plate.yaml", Small.Plate), "-o", Path.Combine(folder.Path, "plate.doc"));
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.Contains(".pdf or .html", said.Error);
        Assert.Single(Directory.GetFiles(folder.Path));
    }
}
