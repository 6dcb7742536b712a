using Microsoft.Playwright;

namespace Fieldwright.Benchmarks.App;

/// <summary>Not a timing: makes the pictures of the page that the docs show, in a real browser, into <c>docs/pictures</c>.</summary>
internal static class PagePicturesBenchmark
{
    public static string Name => "page-pictures";

    private const string Lit = "window.bench?.stage?.field?.head.isRefined && !document.querySelector('.cue .lamp-Waiting') && document.fonts.status === 'loaded'";

    public static int Run(string[] arguments)
    {
        Make(arguments).GetAwaiter().GetResult();
        return 0;
    }

    private static async Task Make(string[] only)
    {
        await using var window = await PageWindow.Open();
        await Take("bench", "/bench/floating-disc.yaml", Lit, null);
        await Take("space", "/bench/floating-ball-two-coils.yaml", Lit, "document.querySelector('[data-layer=density]').click(); bench.stage.setPhase(0.6)");
        await Take("box", "/bench/gas-in-a-tray.yaml", "window.bench?.stage?.field && document.fonts.status === 'loaded'", "bench.stage.play(true); new Promise(done => setTimeout(done, 6000))");
        await Take("show", "/bench/ring-and-lamp.yaml", Lit, "(async () => { bench.show.open(); while (!document.querySelector('.show').dataset.shown || document.querySelector('.show').dataset.shown === 'held') await new Promise(r => setTimeout(r, 200)); dispatchEvent(new KeyboardEvent('keydown', { key: 'PageDown' })); await new Promise(r => setTimeout(r, 800)); })()");
        await Take("shelf", "/", "document.querySelectorAll('.card').length > 8", "(async () => { for (let i = 0; i < 240 && ![...document.querySelectorAll('.card img')].slice(0, 8).every(x => x.complete && x.naturalWidth); i++) await new Promise(r => setTimeout(r, 500)); })()");

        async Task Take(string name, string path, string ready, string? then)
        {
            if (only.Length > 0 && !only.Contains(name))
                return;
            var page = await window.Page(path, 1440, 810);
            await page.WaitForFunctionAsync(ready);
            if (then is not null)
                await page.EvaluateAsync(then);
            await page.WaitForTimeoutAsync(600);
            string file = Path.Combine(PageWindow.Root(), "docs", "pictures", $"page-{name}.jpg");
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = file, Type = ScreenshotType.Jpeg, Quality = 82 });
            Console.WriteLine($"{file}: {new FileInfo(file).Length / 1000} kB");
            await page.Context.CloseAsync();
        }
    }
}
