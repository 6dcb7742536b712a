using System.Diagnostics;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;

namespace Fieldwright.Tests.App.Page;

/// <summary>The program's own page, served by a process of its own over a folder of its own.</summary>
internal sealed partial class Served : IDisposable
{
    private readonly Process process;
    private readonly Folder folder;

    public Served(params (string Name, string Text)[] files)
        : this(new Folder(), files)
    {
    }

    private Served(Folder folder, params (string Name, string Text)[] files)
    {
        this.folder = folder;
        foreach (var (name, text) in files)
            folder.File(name, text);
        process = Start(folder.Path, out string address);
        Address = address;
    }

    public string Address { get; private set; }

    public string Folder => folder.Path;

    public string Read(string name) => System.IO.File.ReadAllText(Path.Combine(Folder, name));

    public void Write(string name, string text) => System.IO.File.WriteAllText(Path.Combine(Folder, name), text);

    /// <summary>Ends the process as a power cut would.</summary>
    public void CutOff()
    {
        process.Kill();
        process.WaitForExit();
    }

    public void Dispose()
    {
        if (!process.HasExited)
            CutOff();
        process.Dispose();
        folder.Dispose();
    }

    private static Process Start(string path, out string address)
    {
        // tests/Fieldwright.Tests/bin/Release/net10.0 → src/Fieldwright.App/bin/Release/net10.0
        string flavour = Path.GetFileName(Path.GetDirectoryName(Path.TrimEndingDirectorySeparator(AppContext.BaseDirectory))!);
        string program = Path.Combine(Repository.Root, "src", "Fieldwright.App", "bin", flavour, "net10.0", "fieldwright.dll");
        var process = Process.Start(new ProcessStartInfo("dotnet", [program, "page", path, "--port", "0"]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        string line = process.StandardOutput.ReadLine() ?? "";
        address = Url().Match(line).Value;
        // Its errors are read only when it failed: reading them to the end would wait for a server that runs.
        if (address.Length == 0)
            Assert.Fail("The server did not start: " + line + process.StandardError.ReadToEnd());
        _ = process.StandardOutput.ReadToEndAsync();
        _ = process.StandardError.ReadToEndAsync();
        return process;
    }

    [GeneratedRegex(@"http://\S+")]
    private static partial Regex Url();
}

/// <summary>One browser for all tests of the page: Debian's Chromium with software GL.</summary>
public sealed class Browser : IAsyncLifetime
{
    private IPlaywright? playwright;
    private IBrowser? browser;
    private Served? shared;

    private static string? Installed => new[] { "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome" }.FirstOrDefault(System.IO.File.Exists);

    public async ValueTask InitializeAsync()
    {
        if (Installed is not { } path)
            return;
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = path,
            // Flat canvases are painted by the processor: without a graphics card the way round by software GL costs ten times as much.
            Args = ["--no-sandbox", "--disable-accelerated-2d-canvas", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--disable-background-networking", "--disable-quic"],
        });
    }

    /// <summary>The folder and its server that journeys share which neither count the files nor end the server; each brings a file of its own name.</summary>
    internal Served Shared => shared ??= new Served();

    /// <summary>A window of its own, nothing shared with others.</summary>
    internal async Task<Window> Open(int width = 1100, int height = 660, bool still = true)
    {
        Assert.True(browser is not null, "No Chromium was found. Install it (Debian: apt-get install chromium) or run ./test, which does.");
        var context = await browser!.NewContextAsync(new BrowserNewContextOptions
        {
            // The driver asks its questions by evaluating text, which the page's own policy rightly forbids; the policy has a test of its own.
            BypassCSP = true,
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ReducedMotion = still ? ReducedMotion.Reduce : ReducedMotion.NoPreference,
            AcceptDownloads = true,
        });
        // Long, for machines that do much else: nothing waits for time, all for states.
        context.SetDefaultTimeout(240_000);
        return new Window(context, await context.NewPageAsync());
    }

    public async ValueTask DisposeAsync()
    {
        shared?.Dispose();
        if (browser is not null)
            await browser.CloseAsync();
        playwright?.Dispose();
    }
}

/// <summary>A window and what went wrong in it.</summary>
internal sealed class Window : IAsyncDisposable
{
    private readonly List<string> slips = [];

    public Window(IBrowserContext context, IPage page)
    {
        (Context, Page) = (context, page);
        page.PageError += (_, e) => slips.Add(e);
        page.Console += (_, m) =>
        {
            if (m.Type == "error" && !m.Text.Contains("WebSocket", StringComparison.Ordinal) && !m.Text.Contains("ERR_CONNECTION", StringComparison.Ordinal))
                slips.Add(m.Text);
        };
    }

    public IBrowserContext Context { get; }

    public IPage Page { get; }

    /// <summary>Opens the bench of a file and waits until text, dials and a sharp stage are there: before, what comes in still pushes the stage about.</summary>
    public async Task Bench(Served served, string file)
    {
        await Page.GotoAsync($"{served.Address}/bench/{file}");
        await Page.WaitForFunctionAsync("window.bench?.settled");
    }

    /// <summary>Nothing was thrown and nothing complained.</summary>
    public void WasQuiet() => Assert.True(slips.Count == 0, string.Join(Environment.NewLine, slips));

    public async ValueTask DisposeAsync() => await Context.CloseAsync();
}

[CollectionDefinition(Name)]
public sealed class PageTests : ICollectionFixture<Browser>
{
    public const string Name = "the page in a browser";
}
