using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using SkiaSharp;
using Xunit;

namespace Fieldwright.Tests.App.Page;

/// <summary>What people do on the page, done in a real browser.</summary>
[Collection(PageTests.Name)]
public sealed class JourneyTests(Browser browser)
{
    private const string Bench = Small.Plate + """

        dials:
          current in coil: {from: 1 A, to: 10 A}
        states:
          gentle: {current in coil: 2 A}
          strong: {current in coil: 10 A}
        claims:
          - {say: The coil has the resistance we want, measure: resistance of coil, at most: 5 ohm, in: strong}
          - {say: The plate is pushed up, measure: lift on plate, at least: 0.001 N, in: strong}
        """;

    [Fact(Explicit = true)]
    public async Task Shelf_NewCopyRenameSearchAndDisk_AreAllThere()
    {
        using var served = new Served(("plate.yaml", Bench), ("coil.yaml", Small.Coil("at most: 5 ohm")));
        await using var window = await browser.Open();
        var page = window.Page;
        await page.GotoAsync(served.Address);
        await page.WaitForSelectorAsync(".card >> nth=1");
        await page.WaitForFunctionAsync("[...document.querySelectorAll('.card img')].every(i => i.complete && i.naturalWidth > 0)");
        await page.GetByRole(AriaRole.Button, new() { Name = "Copy coil.yaml" }).ClickAsync();
        await page.GetByLabel("Name of the copy").FillAsync("second coil");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForSelectorAsync("text=second-coil.yaml");
        await page.GetByRole(AriaRole.Button, new() { Name = "Rename second-coil.yaml" }).ClickAsync();
        await page.GetByLabel("New name").FillAsync("plate");
        await page.Keyboard.PressAsync("Enter");
        Assert.Contains("already", await page.GetByRole(AriaRole.Alert).First.TextContentAsync(), StringComparison.Ordinal);
        await page.GetByLabel("New name").FillAsync("third");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForSelectorAsync("text=third.yaml");
        served.Write("from-outside.yaml", Small.Coil("at least: 99 ohm"));
        await page.WaitForSelectorAsync("text=from-outside.yaml");
        await page.WaitForSelectorAsync(".lamp-Fails");
        await page.GetByRole(AriaRole.Searchbox).FillAsync("plate");
        await page.WaitForFunctionAsync("document.querySelectorAll('.card').length === 1");
        await Passes(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "New apparatus" }).ClickAsync();
        await page.GetByLabel("Name of the new apparatus").FillAsync("Evening of rings");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("window.bench?.stage?.field");
        Assert.Contains("apparatus: Evening of rings", served.Read("Evening-of-rings.yaml"), StringComparison.Ordinal);
        window.WasQuiet();
    }

    [Fact(Explicit = true)]
    public async Task Bench_DialTurnedByKeys_BrightensTheStageAndLightsTheLamps()
    {
        using var served = new Served(("plate.yaml", Bench));
        await using var window = await browser.Open();
        var page = window.Page;
        await window.Bench(served, "plate.yaml");
        await page.WaitForFunctionAsync("document.querySelectorAll('.cue .lamp-Holds').length === 2");
        using (var before = await Shot(page))
        {
            Assert.True(Colours(before) > 200, "The stage is nearly empty.");
            Assert.True(Warm(before) > 150, "No current glows towards the reader.");
        }

        double was = await page.EvaluateAsync<double>("bench.stage.field.head.mostCurrentDensity");
        await page.GetByRole(AriaRole.Slider, new() { Name = "current in coil" }).FocusAsync();
        await page.Keyboard.PressAsync("End");
        await page.WaitForFunctionAsync("was => bench.stage.field.head.mostCurrentDensity > 1.8 * was", was);
        Assert.Equal("10 A", await page.TextContentAsync(".dial-value"));
        await page.FocusAsync("#stage canvas >> nth=1");
        await page.Keyboard.PressAsync("p");
        await page.WaitForFunctionAsync("document.querySelector('.readout').textContent.includes('would')");
        Assert.Matches(@"\d (m|µ)?T", await page.InnerTextAsync(".readout"));
        await page.Keyboard.PressAsync("p");
        double scale = await page.EvaluateAsync<double>("bench.stage.view.scale");
        await page.Keyboard.PressAsync("+");
        Assert.True(await page.EvaluateAsync<double>("bench.stage.view.scale") > scale);
        await page.GetByRole(AriaRole.Button, new() { Name = "Back to the file" }).ClickAsync();
        await page.WaitForFunctionAsync("was => Math.abs(bench.stage.field.head.mostCurrentDensity / was - 1) < 0.1", was);
        await Passes(page);
        foreach (string tab in (string[])["file", "chart", "cautions", "take"])
        {
            await page.ClickAsync("#tab-" + tab);
            await page.WaitForSelectorAsync($"#panel-{tab}:visible");
            await Passes(page);
        }

        window.WasQuiet();
    }

    [Fact(Explicit = true)]
    public async Task Stage_PlateDragged_WritesItsPlaceAndCanBeUndone()
    {
        using var served = new Served(("plate.yaml", Bench));
        await using var window = await browser.Open();
        var page = window.Page;
        await window.Bench(served, "plate.yaml");
        double[] spot = await page.EvaluateAsync<double[]>("(() => { const [x, y] = bench.stage.toScreen(0.02, 0.0155), r = bench.stage.over.getBoundingClientRect(); return [x + r.left, y + r.top, bench.stage.view.scale]; })()");
        await page.Mouse.MoveAsync((float)spot[0], (float)spot[1]);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync((float)spot[0], (float)(spot[1] - 0.006 * spot[2]), new() { Steps = 4 });
        await page.Mouse.UpAsync();
        await page.WaitForFunctionAsync("/z: 20(\\.\\d)? mm|z: 19\\.9 mm/.test(bench.editor.view.state.doc.toString())");
        await page.WaitForFunctionAsync("bench.stage.field.head.bodies[0].loops[0].some((v, i) => i % 2 && v > 0.0225)");
        await page.ClickAsync("#tab-file");
        await page.FocusAsync(".cm-content");
        await page.Keyboard.PressAsync("Control+z");
        await page.WaitForFunctionAsync("bench.editor.view.state.doc.toString().includes('z: 14 mm')");
        await Until(() => served.Read("plate.yaml") == Bench);
        window.WasQuiet();
    }

    [Fact(Explicit = true)]
    public async Task Editor_MistakeTwoWindowsAndPowerCut_LoseNothing()
    {
        using var served = new Served(("plate.yaml", Bench));
        await using var one = await browser.Open();
        await using var two = await browser.Open();
        await one.Bench(served, "plate.yaml");
        await two.Bench(served, "plate.yaml");
        await one.Page.ClickAsync("#tab-file");
        // Both type at once, in different lines.
        const string Replace = "([from, to]) => { const v = bench.editor.view, at = v.state.doc.toString().indexOf(from); v.dispatch({ changes: { from: at, to: at + from.length, insert: to } }); }";
        await Task.WhenAll(one.Page.EvaluateAsync(Replace, (string[])["radius: 30 mm", "radis: 31 mm"]), two.Page.EvaluateAsync(Replace, (string[])["turns: 100", "turns: 120"]));
        await one.Page.WaitForSelectorAsync(".cm-lintRange-error");
        await one.Page.WaitForFunctionAsync("document.getElementById('slips').textContent.includes('Nearest: radius')");
        await one.Page.WaitForFunctionAsync("bench.editor.view.state.doc.toString().includes('turns: 120')");
        await two.Page.WaitForFunctionAsync("bench.editor.view.state.doc.toString().includes('radis: 31 mm')");
        await one.Page.EvaluateAsync(Replace, (string[])["radis: 31 mm", "radius: 31 mm"]);
        await two.Page.WaitForFunctionAsync("document.getElementById('slips').textContent.includes('right, and saved')");
        // A server that is gone makes the browser complain, and rightly; until then there is nothing to complain of.
        one.WasQuiet();
        two.WasQuiet();
        served.CutOff();
        string kept = served.Read("plate.yaml");
        Assert.Contains("radius: 31 mm", kept, StringComparison.Ordinal);
        Assert.Contains("turns: 120", kept, StringComparison.Ordinal);
        await one.Page.WaitForSelectorAsync("#components-reconnect-modal.shown");
    }

    [Fact(Explicit = true)]
    public async Task Show_DrivenByAClicker_StepsThroughStatesAndGoesDark()
    {
        using var served = new Served(("plate.yaml", Bench));
        await using var window = await browser.Open(1920, 1080);
        var page = window.Page;
        await window.Bench(served, "plate.yaml");
        await page.WaitForFunctionAsync("document.querySelectorAll('.cue .lamp-Holds').length === 2");
        await page.FocusAsync("#show");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("document.querySelector('.show').dataset.shown === 'gentle'");
        await page.Keyboard.PressAsync("PageDown");
        await page.WaitForFunctionAsync("document.querySelector('.show').dataset.shown === 'strong'");
        await page.Keyboard.PressAsync("PageDown");
        await page.Keyboard.PressAsync("ArrowRight");
        Assert.Equal(2, await page.Locator(".show-claims li").CountAsync());
        Assert.Equal("strong", await page.TextContentAsync(".show-state"));
        Assert.True(await page.EvaluateAsync<double>("parseFloat(getComputedStyle(document.querySelector('.show-state')).fontSize)") >= 40);
        await Passes(page);
        using (var lit = await Shot(page))
            Assert.True(Warm(lit) > 300, "The stage of the show is dark.");
        await page.Keyboard.PressAsync("b");
        using (var dark = await Shot(page))
            Assert.True(Colours(dark) <= 2, "B did not darken the hall.");
        await page.Keyboard.PressAsync("PageUp");
        await page.Keyboard.PressAsync("Escape");
        await page.WaitForFunctionAsync("document.querySelector('.show').hidden && document.querySelector('#stage canvas')");
        window.WasQuiet();
    }

    [Fact(Explicit = true)]
    public async Task TakeAway_EveryKind_IsWhole()
    {
        using var served = new Served(("plate.yaml", Bench));
        await using var window = await browser.Open(900, 700);
        var page = window.Page;
        await window.Bench(served, "plate.yaml");
        await page.WaitForFunctionAsync("document.querySelectorAll('.cue .lamp-Holds').length === 2 && !bench.working");
        await page.ClickAsync("#tab-take");
        async Task<byte[]> Take(string what)
        {
            var download = await page.RunAndWaitForDownloadAsync(() => page.ClickAsync(what));
            return await File.ReadAllBytesAsync(await download.PathAsync());
        }

        Assert.StartsWith("<svg", System.Text.Encoding.UTF8.GetString(await Take(".take a:text-is('SVG')")), StringComparison.Ordinal);
        Assert.Equal("%PDF", System.Text.Encoding.ASCII.GetString(await Take(".take a:text-is('PDF')"), 0, 4));
        Assert.Contains("lift on plate", System.Text.Encoding.UTF8.GetString(await Take(".take a:text-is('CSV')")), StringComparison.Ordinal);
        byte[] gif = await Take("#take-gif");
        Assert.Equal("GIF89a", System.Text.Encoding.ASCII.GetString(gif, 0, 6));
        using (var codec = SKCodec.Create(new MemoryStream(gif)))
            Assert.Equal(24, codec.FrameCount);
        Assert.Equal("1A45DFA3", Convert.ToHexString(await Take("#take-webm"), 0, 4));
        string file = Path.Combine(served.Folder, "taken.html");
        await File.WriteAllBytesAsync(file, await Take(".take a:text-is('One HTML file')"), TestContext.Current.CancellationToken);
        served.CutOff();
        await using var alone = await browser.Open(1000, 800);
        await alone.Page.GotoAsync("file://" + file);
        await alone.Page.WaitForSelectorAsync("#play [data-field]");
        await alone.Page.ClickAsync("#play [data-field='1']");
        using (var shot = await Shot(alone.Page))
            Assert.True(Warm(shot) > 150, "The apparatus taken away does not play.");
        await Passes(alone.Page);
        alone.WasQuiet();
    }

    private static async Task Passes(IPage page)
    {
        var result = await page.RunAxe(new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] } });
        Assert.True(result.Violations.Length == 0, string.Join(Environment.NewLine, result.Violations.Select(v => $"{v.Id}: {v.Help}: {string.Join("; ", v.Nodes.Take(4).Select(n => n.Html))}")));
    }

    private static async Task Until(Func<bool> holds)
    {
        for (int i = 0; i < 200 && !holds(); i++)
            await Task.Delay(50, TestContext.Current.CancellationToken);
        Assert.True(holds());
    }

    private static async Task<SKBitmap> Shot(IPage page) => SKBitmap.Decode(await page.ScreenshotAsync());

    private static int Colours(SKBitmap shot)
    {
        var found = new HashSet<uint>();
        for (int y = 0; y < shot.Height; y += 3)
            for (int x = 0; x < shot.Width; x += 3)
                found.Add((uint)shot.GetPixel(x, y) & 0xfcfcfc);
        return found.Count;
    }

    // Pixels as warm as current towards the reader.
    private static int Warm(SKBitmap shot)
    {
        int count = 0;
        for (int y = shot.Height / 6; y < shot.Height * 3 / 4; y++)
            for (int x = 0; x < shot.Width * 2 / 3; x++)
                if (shot.GetPixel(x, y) is { Red: > 150 } p && p.Red > p.Blue + 70)
                    count++;
        return count;
    }
}
