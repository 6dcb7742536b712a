using System.ComponentModel;
using System.Net.Sockets;
using Fieldwright.App.Commands;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Spectre.Console.Cli;

namespace Fieldwright.App.Page;

/// <summary><c>page [FOLDER]</c>: the bench in the browser.</summary>
internal sealed class PageCommand : BenchCommand<PageCommand.Settings>
{
    private const int UsualPort = 4747;

    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        if (settings.Port is < 0 or > 65535)
            throw new WrongCallException("--port: this is no port. expected a number between 0 and 65535; 0 takes any that is free.");
        Serve(settings, terminal).GetAwaiter().GetResult();
        return ExitCode.Good;
    }

    private static async Task Serve(Settings settings, Terminal terminal)
    {
        var app = PageServer.Build(settings.Folder, settings.Port ?? UsualPort);
        try
        {
            await app.StartAsync(terminal.Stop);
        }
        catch (IOException e) when (Taken(e))
        {
            await app.DisposeAsync();
            if (settings.Port is { } wished)
                throw new WrongCallException(FormattableString.Invariant($"--port: {wished} is in use. expected a free one, or none to let one be chosen."));
            app = PageServer.Build(settings.Folder, 0);
            await app.StartAsync(terminal.Stop);
        }

        await using (app)
        {
            string address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
            terminal.Out.WriteLine($"The bench is lit: {address}");
            terminal.Out.WriteLine("Open it in a browser on this machine. Ctrl-C puts the light out.");
            terminal.Out.Flush();
            try
            {
                await Task.Delay(Timeout.Infinite, terminal.Stop);
            }
            catch (OperationCanceledException)
            {
                using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(2));
                await app.StopAsync(soon.Token);
            }
        }
    }

    private static bool Taken(Exception e) =>
        e is SocketException { SocketErrorCode: SocketError.AddressAlreadyInUse } || (e.InnerException is { } inner && Taken(inner)) || e is Microsoft.AspNetCore.Connections.AddressInUseException;

    /// <summary>What it takes.</summary>
    internal sealed class Settings : CommandSettings
    {
        /// <summary>The folder.</summary>
        [CommandArgument(0, "[FOLDER]")]
        [Description("The folder of apparatus files; this one if not said.")]
        public string Folder { get; set; } = ".";

        /// <summary>The port.</summary>
        [CommandOption("--port <NUMBER>")]
        [Description("Port on this machine's own address; 4747, or a free one when that is taken.")]
        public int? Port { get; set; }
    }
}
