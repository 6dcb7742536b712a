using System.Net;
using Fieldwright.App.Page.Components;
using Fieldwright.App.Pictures;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Pictures;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Fieldwright.App.Page;

/// <summary>The local server of the page: loopback only, its own windows only, one folder only.</summary>
internal static class PageServer
{
    private const int LargestRequest = 4_000_000;

    /// <summary>Builds the server; it does not listen yet.</summary>
    /// <param name="folder">The folder of apparatus files.</param>
    /// <param name="port">Port on the loopback address; 0 for any that is free.</param>
    /// <exception cref="WrongCallException">There is no such folder.</exception>
    public static WebApplication Build(string folder, int port)
    {
        var shelf = new Shelf(folder);
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ApplicationName = "fieldwright",
            ContentRootPath = AppContext.BaseDirectory,
            EnvironmentName = "Production",
        });
        builder.WebHost.UseStaticWebAssets();
        builder.WebHost.ConfigureKestrel(k =>
        {
            k.Listen(IPAddress.Loopback, port);
            k.Limits.MaxRequestBodySize = LargestRequest;
            k.AddServerHeader = false;
        });
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton(shelf);
        builder.Services.AddSingleton<Desks>();
        builder.Services.AddSingleton<Cards>();
        // Nothing is written outside the folder, keys of forms included: they live as long as the server does.
        builder.Services.AddDataProtection().UseEphemeralDataProtectionProvider();
        builder.Services.AddAntiforgery();
        builder.Services.AddRazorComponents().AddInteractiveServerComponents(o => o.DisconnectedCircuitRetentionPeriod = TimeSpan.FromMinutes(1));
        var app = builder.Build();
        app.Use(next => context => LocalOnly.Pass(context, next));
        app.UseStaticFiles();
        app.UseWebSockets();
        app.UseAntiforgery();
        Map(app);
        app.MapRazorComponents<Components.App>().AddInteractiveServerRenderMode(o => o.DisableWebSocketCompression = true);
        return app;
    }

    private static void Map(WebApplication app)
    {
        app.Map("/desk", async (HttpContext context, Desks desks) =>
        {
            if (!context.WebSockets.IsWebSocketRequest || desks.Find(context.Request.Query["key"]) is not { } desk)
            {
                context.Response.StatusCode = StatusCodes.Status404NotFound;
                return;
            }

            // With no context given the socket would negotiate compression once another socket has.
            using var socket = await context.WebSockets.AcceptWebSocketAsync(new WebSocketAcceptContext());
            await new DeskSocket(desk, socket).Run(context.RequestAborted);
        });
        app.MapGet("/alive", () => Results.Text("yes"));
        app.MapGet("/words.json", () => Results.Text(ApparatusSchema.Write(), "application/json"));
        app.MapGet("/type/{face}.ttf", (string face) => Enum.TryParse<Face>(face, true, out var which) ? Results.Bytes(TypeFace.Of(which).File, "font/ttf") : Results.NotFound());
        app.MapGet("/card/{name}", async (string name, Cards cards, HttpContext context) =>
            await cards.Picture(name, context.RequestAborted) is { } svg ? Results.Text(svg, "image/svg+xml") : Results.NotFound());
        app.MapGet("/take/{what}", async (string what, HttpContext context, Desks desks) =>
        {
            if (desks.Find(context.Request.Query["key"]) is not { } desk)
                return Results.NotFound();
            double? phase = double.TryParse(context.Request.Query["phase"], System.Globalization.CultureInfo.InvariantCulture, out double degrees) && Math.Abs(degrees) <= 360 ? degrees : null;
            return await TakeAway.Of(desk, what, phase, context.Request.Query["light"] == "1", context.RequestAborted);
        });
    }
}
