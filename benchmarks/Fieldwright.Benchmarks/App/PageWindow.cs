using System.Diagnostics;
using Fieldwright.App.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

namespace Fieldwright.Benchmarks.App;

/// <summary>The page served over a copy of the examples, and a browser window on it, drawn by software.</summary>
internal sealed class PageWindow : IAsyncDisposable
{
    private static readonly string[] Installed = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];
    private readonly string folder = Path.Combine(Directory.CreateTempSubdirectory("fieldwright").FullName, "examples");
    private WebApplication? server;
    private IPlaywright? playwright;
    private IBrowser? browser;

    public string Address { get; private set; } = "";

    public string Browser { get; private set; } = "";

    public static async Task<PageWindow> Open()
    {
        string examples = Path.Combine(Root(), "examples");
        string path = Installed.FirstOrDefault(File.Exists) ?? throw new InvalidOperationException("No Chromium was found; install the package 'chromium'.");
        var window = new PageWindow();
        Directory.CreateDirectory(window.folder);
        foreach (string file in Directory.EnumerateFiles(examples, "*.yaml"))
            File.Copy(file, Path.Combine(window.folder, Path.GetFileName(file)));
        window.server = PageServer.Build(window.folder, 0);
        await window.server.StartAsync();
        window.Address = window.server.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
        window.playwright = await Playwright.CreateAsync();
        window.browser = await window.playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = path,
            Args = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--disable-background-networking", "--disable-quic"],
        });
        window.Browser = "Chromium " + window.browser.Version;
        return window;
    }

    /// <summary>A page of the server in a window of a size.</summary>
    public async Task<IPage> Page(string path, int width, int height, double dots = 1, bool still = true)
    {
        var context = await browser!.NewContextAsync(new BrowserNewContextOptions
        {
            BypassCSP = true,
            ViewportSize = new ViewportSize { Width = width, Height = height },
            DeviceScaleFactor = (float)dots,
            ReducedMotion = still ? ReducedMotion.Reduce : ReducedMotion.NoPreference,
        });
        context.SetDefaultTimeout(300_000);
        var page = await context.NewPageAsync();
        await page.GotoAsync(Address + path);
        return page;
    }

    /// <summary>The top of the repository.</summary>
    public static string Root()
    {
        for (var at = new DirectoryInfo(AppContext.BaseDirectory); at is not null; at = at.Parent)
            if (File.Exists(Path.Combine(at.FullName, "Fieldwright.slnx")))
                return at.FullName;
        throw new InvalidOperationException("This runs from within the repository only.");
    }

    public async ValueTask DisposeAsync()
    {
        if (browser is not null)
            await browser.CloseAsync();
        playwright?.Dispose();
        if (server is not null)
            await server.DisposeAsync();
        Directory.Delete(Path.GetDirectoryName(folder)!, true);
    }
}
