using System.Globalization;
using System.Text;
using Fieldwright.App.Pictures;
using Fieldwright.App.Reports;
using Fieldwright.App.Sheets;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Sheets;
using Microsoft.AspNetCore.Http;

namespace Fieldwright.App.Page;

/// <summary>What a person may carry home from a desk: pictures, answers, the whole apparatus in one file.</summary>
internal static class TakeAway
{
    private const double SheetTarget = 0.02;

    /// <summary>One thing to take away.</summary>
    /// <param name="desk">The desk.</param>
    /// <param name="what">picture.svg, picture.png, picture.pdf, answers.csv, answers.json, sheet.pdf, sheet.html or apparatus.html.</param>
    /// <param name="phase">Instant of a picture, degrees; null for the strongest.</param>
    /// <param name="light">Whether a picture is drawn dark on light.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static async Task<IResult> Of(Desk desk, string what, double? phase, bool light, CancellationToken cancellation)
    {
        if (desk.Staged is not { } apparatus)
            return Results.Text("The file is wrong, so there is nothing to take away yet.", statusCode: StatusCodes.Status409Conflict);
        using var bounded = new Bounds(cancellation);
        string stem = Path.GetFileNameWithoutExtension(desk.File);
        try
        {
            switch (what)
            {
                case "picture.svg":
                    return File(Encoding.UTF8.GetBytes(SvgPicture.Of(await Scene(apparatus, phase, light, bounded.Token))), "image/svg+xml", stem + ".svg");
                case "picture.png":
                    return File(Written(await Scene(apparatus, phase, light, bounded.Token), SkiaPicture.WritePng), "image/png", stem + ".png");
                case "picture.pdf":
                    return File(Written(await Scene(apparatus, phase, light, bounded.Token), (scene, stream) => SkiaPicture.WritePdf([scene], stream)), "application/pdf", stem + ".pdf");
                case "sheet.pdf":
                    return File(await Task.Run(() => SheetAsPdf(desk, bounded.Token), bounded.Token), "application/pdf", stem + "-sheet.pdf");
                case "sheet.html":
                    return File(Encoding.UTF8.GetBytes(await Task.Run(() => SheetOnScreen.Of(Sheet(desk.Turned!, desk.Text.Text, bounded.Token)), bounded.Token)), "text/html", stem + "-sheet.html");
                case "answers.json" when desk.Report is { } report:
                    return File(Encoding.UTF8.GetBytes(JsonReport.Of(report)), "application/json", stem + ".json");
                case "answers.csv" when desk.Report is { } report:
                    return File(Encoding.UTF8.GetBytes(Csv(report)), "text/csv", stem + ".csv");
                case "apparatus.html":
                    return File(Encoding.UTF8.GetBytes(await Task.Run(() => WholeApparatus.Of(desk, bounded.Token), bounded.Token)), "text/html", stem + ".html");
                default:
                    return what.StartsWith("answers", StringComparison.Ordinal)
                        ? Results.Text("The claims are still being answered; take the answers when the lamps are lit.", statusCode: StatusCodes.Status409Conflict)
                        : Results.NotFound();
            }
        }
        catch (Exception e) when (e is RouteFailedException or ArgumentException)
        {
            return Results.Text(e.Message, statusCode: StatusCodes.Status409Conflict);
        }
    }

    /// <summary>The build sheet of an apparatus.</summary>
    internal static BuildSheet Sheet(Apparatus apparatus, string text, CancellationToken cancellation) => BuildSheet.Of(apparatus, text, new RehearsalOptions(SheetTarget), TypeFace.Width, null, cancellation);

    /// <summary>Answers as a table: one line a route and claim, numbers in the unit of the measure.</summary>
    internal static string Csv(RehearsalReport report)
    {
        var csv = new StringBuilder("claim,state,measure,bound,outcome,route,value,error bar,unit,remark\r\n");
        foreach (var verdict in report.Verdicts)
        {
            var shown = Shown.In(verdict.Answer.Unit);
            foreach (var answer in verdict.Answer.Answers)
            {
                string[] cells =
                [
                    verdict.Claim.Say, verdict.Claim.State ?? "", verdict.Claim.Measure.Text, verdict.Claim.Bound.Text, Lamp.Of(verdict.Outcome).Word, Judge.Word(answer.Route),
                    shown.Of(answer.Value).ToString("R", CultureInfo.InvariantCulture), shown.Difference(answer.ErrorBar).ToString("R", CultureInfo.InvariantCulture), shown.Unit, answer.Remark,
                ];
                csv.AppendJoin(',', cells.Select(Quoted)).Append("\r\n");
            }
        }

        return csv.ToString();
    }

    // A cell that starts like a formula would be one in a spreadsheet.
    private static string Quoted(string cell)
    {
        if (cell.Length > 0 && "=+@".Contains(cell[0], StringComparison.Ordinal))
            cell = "'" + cell;
        return cell.AsSpan().ContainsAny(",\"\r\n") ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;
    }

    private static IResult File(byte[] content, string type, string name) => Results.File(content, type, name);

    private static Task<Scene> Scene(Apparatus apparatus, double? phase, bool light, CancellationToken cancellation) =>
        Task.Run(() => ApparatusPicture.Of(apparatus, new PictureOptions(null, phase, light), TypeFace.Width, cancellation), cancellation);

    private static byte[] SheetAsPdf(Desk desk, CancellationToken cancellation)
    {
        using var stream = new MemoryStream();
        SkiaPicture.WritePdf(SheetOnPaper.Of(Sheet(desk.Turned!, desk.Text.Text, cancellation)), stream);
        return stream.ToArray();
    }

    private static byte[] Written(Scene scene, Action<Scene, Stream> write)
    {
        using var stream = new MemoryStream();
        write(scene, stream);
        return stream.ToArray();
    }
}
