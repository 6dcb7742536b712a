using System.Net;
using System.Reflection;
using System.Text;
using System.Text.Json;
using Fieldwright.App.Pictures;
using Fieldwright.App.Reports;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Pictures.Live;

namespace Fieldwright.App.Page;

/// <summary>A whole apparatus as one HTML file that plays without the server: stage, states, claims, cautions and the file's own text.</summary>
internal static class WholeApparatus
{
    private const int Frames = 250;
    private const double FramesApart = 0.04;
    private static readonly string[] Modules = ["board.js", "light.js", "candle.js", "stage.js", "space.js", "box.js", "drawn.js", "stages.js", "player.js"];

    /// <summary>The page.</summary>
    public static string Of(Desk desk, CancellationToken cancellation)
    {
        var apparatus = desk.Turned!;
        IReadOnlyList<string?> states = apparatus.States.Count == 0 ? [desk.State] : [.. apparatus.States.Select(s => (string?)s.Name)];
        var fields = states.SelectMany(s => Kept(Desk.InState(apparatus, s), new StageNote(0, s, true, 0), cancellation)).ToList();
        var html = new StringBuilder();
        html.Append($"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <title>{E(apparatus.Name)}</title>
            <style>
            @font-face {"{"} font-family: Lato; src: url(data:font/ttf;base64,{Convert.ToBase64String(TypeFace.Of(Face.Regular).File)}); {"}"}
            {string.Join('\n', Asset("page.css").Split('\n').Where(l => !l.StartsWith("@font-face", StringComparison.Ordinal)))}
            </style>
            </head>
            <body class="taken">
            <header class="bar"><h1>{E(apparatus.Name)}</h1></header>
            <main>
            <p class="about">{E(apparatus.About)}</p>
            <section class="stage-box" aria-label="The stage"><div id="stage" class="stage"></div><div id="play" class="underboard"></div></section>
            <section aria-label="Claims"><h2>Claims</h2><ul class="claims">

            """);
        foreach (var (claim, verdict) in apparatus.Claims.Zip(desk.Verdicts))
            html.Append(Claim(claim, verdict));
        html.Append("</ul></section>\n<section aria-label=\"Cautions\"><h2>Cautions</h2><ul class=\"cautions\">\n");
        foreach (var caution in desk.Report?.Cautions ?? [])
            html.Append($"<li><strong>{E(caution.Name)}</strong> {E(caution.Finding)} {E(caution.Remedy)} <small>{E(caution.Limit)}; {E(caution.Standard)}</small></li>\n");
        html.Append($"</ul><p>{E(Bench.Cautions.Caution.Deferral)}</p></section>\n<section aria-label=\"The file\"><h2>The file</h2><pre tabindex=\"0\">{E(desk.Text.Text)}</pre></section>\n</main>\n<script>\n\"use strict\";\n");
        html.AppendJoin('\n', Modules.Select(m => Plain(Asset(m))));
        html.Append($"\nplay({JsonSerializer.Serialize(fields.Select(Convert.ToBase64String))});\n</script>\n</body>\n</html>\n");
        return html.ToString();
    }

    // A state that cannot be drawn is left out; the words stay. A box is filmed.
    private static IReadOnlyList<byte[]> Kept(Apparatus apparatus, StageNote note, CancellationToken cancellation)
    {
        try
        {
            if (apparatus.Layout != Layout.Flat)
                return [Desk.Kept(apparatus, note, null, cancellation)];
            var play = new BoxPlay(apparatus.Box!);
            play.Advance(FramesApart * Frames, cancellation);
            return [.. Enumerable.Range(0, Frames).Select(i =>
            {
                play.Advance(FramesApart, cancellation);
                return SpaceMessage.Of(play, note, i == 0);
            })];
        }
        catch (Bench.Routes.RouteFailedException)
        {
            return [];
        }
    }

    private static string Claim(Claim claim, Verdict? verdict)
    {
        var lamp = verdict is null ? new Lamp("◌", "not yet", Tone.Unsure) : Lamp.Of(verdict.Outcome);
        string answer = verdict?.Answer.Leading is { } a ? Shown.In(verdict.Answer.Unit).ValueAndBar(a.Value, a.ErrorBar) : "";
        return $"<li><span class=\"lamp lamp-{verdict?.Outcome.ToString() ?? "Waiting"}\" aria-hidden=\"true\"></span><div><strong>{E(claim.Say)}</strong><br><span class=\"quiet\">{E(lamp.Word)} · {(claim.State is { } s ? E(s) + ": " : "")}{E(claim.Measure.Text)}, {E(claim.Bound.Text)}: {E(answer)}</span></div></li>\n";
    }

    // Modules become one plain script: they import nothing but each other.
    private static string Plain(string module) => string.Join('\n', module.Split('\n')
        .Where(l => !l.StartsWith("import ", StringComparison.Ordinal))
        .Select(l => l.StartsWith("export ", StringComparison.Ordinal) ? l["export ".Length..] : l))
        .Replace("</script", "<\\/script", StringComparison.OrdinalIgnoreCase);

    private static string Asset(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name) ?? throw new InvalidDataException($"'{name}' is missing from the program.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
