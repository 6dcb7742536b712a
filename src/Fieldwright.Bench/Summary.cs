using System.Globalization;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench;

/// <summary>An apparatus in a line.</summary>
public static class Summary
{
    /// <summary>Name, layout, parts, windings and supplies, in one line.</summary>
    /// <param name="apparatus">The apparatus.</param>
    public static string Of(Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        var pieces = new List<string> { $"{apparatus.Name}: {Word(apparatus.Layout)}" };
        if (apparatus.Parts.Count > 0)
            pieces.Add(string.Join(", ", apparatus.Parts.Where(p => p.Shape is not ProbeShape).Select(p => p.Name == p.Shape.Word ? $"{p.Name} of {p.Material.Name}" : $"{p.Name} ({p.Shape.Word} of {p.Material.Name})")));
        if (apparatus.Box is { } box)
            pieces.Add(string.Create(CultureInfo.InvariantCulture, $"{box.Discs.Count:0} {(box.Discs.Moment > 0 ? "magnets that repel" : "discs")} in {1e3 * box.Width:0.#} × {1e3 * box.Height:0.#} mm"));
        if (apparatus.Board is { } board)
            pieces.Add($"{File.Words.Count(board.Elements.Count)} elements of {Analogues.DomainWords.Of(board.Domain).Carries}" + (board.Jet is null ? "" : ", a ball on a jet"));
        if (apparatus.Windings.Count > 0)
            pieces.Add(string.Join(", ", apparatus.Windings.Select(w => string.Create(CultureInfo.InvariantCulture, $"{w.Name} {w.Turns:0} turns"))));
        pieces.AddRange(apparatus.Supplies.Select(Describe));
        return string.Join(" · ", pieces);
    }

    private static string Word(Layout layout) => layout switch
    {
        Layout.Round => "round",
        Layout.Long => "long",
        Layout.Flat => "flat",
        Layout.Board => "board",
        _ => "free",
    };

    private static string Describe(Supply supply)
    {
        double root = supply.Frequency > 0 ? Math.Sqrt(2) : 1;
        string frequency = supply.Frequency > 0 ? string.Create(CultureInfo.InvariantCulture, $" {supply.Frequency:0.##} Hz") : "";
        string size = supply.Current is { } current
            ? string.Create(CultureInfo.InvariantCulture, $"{current / root:0.##} A")
            : string.Create(CultureInfo.InvariantCulture, $"{(supply.Voltage ?? 0) / root:0.##} V");
        return $"{supply.Name} {size}{frequency}";
    }
}
