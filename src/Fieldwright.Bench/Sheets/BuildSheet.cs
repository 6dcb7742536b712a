using System.Security.Cryptography;
using System.Text;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Sheets;

/// <summary>A table of a build sheet.</summary>
/// <param name="Title">What it tells: <c>What to wind</c>.</param>
/// <param name="Columns">Heads of the columns.</param>
/// <param name="Rows">Rows, each with a cell a column.</param>
/// <param name="Note">What a reader must know about it; may be empty.</param>
public sealed record SheetTable(string Title, IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows, string Note);

/// <summary>Everything a workshop needs to build an apparatus and switch it on, ready for any writer.</summary>
/// <param name="Apparatus">The apparatus, dials where they stand.</param>
/// <param name="Drawing">The drawing to scale, sizes in mm; its sheet is in px of 1/96 inch, so that it is to scale on paper.</param>
/// <param name="Scale">Its scale: <c>1 : 2</c>.</param>
/// <param name="Wiring">The wiring diagram.</param>
/// <param name="Build">What to make, wind, connect and buy.</param>
/// <param name="Duty">How long it may stay on.</param>
/// <param name="Report">Claims with their margins, and cautions.</param>
/// <param name="Inputs">The file the sheet was made from, line by line as it stands.</param>
/// <param name="Fingerprint">First twelve hexadecimal digits of the file's SHA-256, by which a print is held against a file.</param>
public sealed record BuildSheet(
    Apparatus Apparatus,
    Scene Drawing,
    string Scale,
    Scene Wiring,
    IReadOnlyList<SheetTable> Build,
    SheetTable Duty,
    RehearsalReport Report,
    IReadOnlyList<string> Inputs,
    string Fingerprint)
{
    /// <summary>Title of the table that the wiring stands under: how the coils join, else what to wind, else what to make.</summary>
    public string? WiringAfter => Build.Where(t => t.Title is "What to make" or "What to wind" or "How the coils lie and join").Select(t => t.Title).LastOrDefault();

    /// <summary>What stands under the wiring: how to read the ends of its windings and the phases of what alternates; empty without windings.</summary>
    public string UnderWiring => Apparatus.Windings.Count == 0 ? ""
        : "S start, with a dot; F finish."
        + (Apparatus.Frequency > 0 ? " Angles are the phases of the lines or supplies: a positive one leads, so lines follow one another as numbered unless their order is reversed." : "");

    /// <summary>Rehearses an apparatus and gathers its sheet.</summary>
    /// <param name="apparatus">The apparatus, read and checked.</param>
    /// <param name="file">The text of its file.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="textWidth">Widths of text in the type the sheet is set in.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="OperationCanceledException">The work was stopped.</exception>
    public static BuildSheet Of(
        Apparatus apparatus, string file, RehearsalOptions options, TextWidth textWidth, IProgress<RehearsalStep>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(textWidth);
        var panel = new RoutePanel(apparatus, options.RelativeTarget, cancellation);
        var report = Rehearsal.Run(apparatus, options, panel, progress);
        var worst = new WorstOf(apparatus, panel);
        var drawing = WorkshopDrawing.Of(apparatus, textWidth);
        return new BuildSheet(
            apparatus,
            drawing.Scene,
            drawing.Scale,
            WiringDiagram.Of(apparatus, textWidth),
            BuildTables.Of(worst),
            DutyTable.Of(worst),
            report,
            file.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n'),
            Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(file)))[..12]);
    }
}
