using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>A piece of a file's text and what takes its place.</summary>
/// <param name="From">Where it starts, counted from 0 in characters.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Text">What takes its place.</param>
public sealed record TextEdit(int From, int To, string Text);

/// <summary>Changes the text of an apparatus file where a hand moves things, leaving everything else, comments included, as it was written.</summary>
public static class FileEdit
{
    private const double Grid = 1e-4;

    /// <summary>Shifts a part or a winding.</summary>
    /// <param name="text">Text of the file, lines ended by line feeds.</param>
    /// <param name="name">Name of the part or the winding.</param>
    /// <param name="dx">Shift along x, m; a round apparatus has none.</param>
    /// <param name="dy">Shift along z (round) or y (long and free), m.</param>
    /// <param name="dz">Shift along z in a free apparatus, m.</param>
    /// <remarks>A dial that sets the place goes along, and holds the shift to its range.</remarks>
    /// <returns>The edits, in the order of the text, places as they are before any; none when the thing cannot be moved so or the file is wrong. New places are rounded to 0.1 mm, places round a core to 1°.</returns>
    public static IReadOnlyList<TextEdit> Move(string text, string name, double dx, double dy, double dz = 0)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(name);
        if (YamlTree.Read(text, []) is not Mapping root || ApparatusFile.Read(text, "").Apparatus is not { } apparatus)
            return [];
        bool upright = apparatus.Layout is Layout.Round or Layout.Free;
        (string Axis, double By)[] shifts = apparatus.Layout switch { Layout.Round => [("z", dy)], Layout.Free => [("x", dx), ("y", dy), ("z", dz)], _ => [("x", dx), ("y", dy)] };
        var edits = new List<TextEdit>();
        for (int k = 0; k < shifts.Length; k++)
            shifts[k].By = OfDial(text, root, $"{(shifts[k].Axis == "z" ? "height" : shifts[k].Axis)} of {name}", shifts[k].By, edits);
        if (Find(root, "parts", name) is { } part)
            At(text, part, shifts, edits);
        else if (Find(root, "windings", name) is { } winding)
        {
            foreach (string end in (string[])["from z", "to z"])
                if (upright && winding[end] is Scalar z)
                    Shift(text, z, shifts[^1].By, edits);
            if (apparatus.Layout == Layout.Free)
                At(text, winding, shifts[..2], edits);
            foreach (string side in (string[])["out", "into"])
                foreach (var (axis, by) in shifts)
                    if (!upright && winding[side] is Mapping box && box[axis] is Scalar value)
                        Shift(text, value, by, edits);
            if (winding["centred at"] is Scalar angle && apparatus.Winding(name)?.Space is LimbSpace limb && apparatus.Part(limb.Core)?.Shape is CoreShape core)
                Round(text, angle, limb, core, dx, dy, edits);
        }

        return [.. edits.OrderBy(e => e.From)];
    }

    private static Mapping? Find(Mapping root, string group, string name) =>
        (root[group] as Mapping)?.Entries.FirstOrDefault(e => Apparatus.Same(e.Key.Text, name)).Value as Mapping;

    // The shift that a dial allows, which moves with the thing; the whole shift where no dial sets it.
    private static double OfDial(string text, Mapping root, string input, double by, List<TextEdit> edits)
    {
        if (Find(root, "dials", input) is not { } dial || dial["now"] is not Scalar now || !Units.TryRead(now.Text, "m", out double stands, out _))
            return by;
        if (dial["from"] is Scalar from && dial["to"] is Scalar to && Units.TryRead(from.Text, "m", out double least, out _) && Units.TryRead(to.Text, "m", out double most, out _))
            by = Math.Clamp(stands + by, least, most) - stands;
        Shift(text, now, by, edits);
        return by;
    }

    private static void At(string text, Mapping part, (string Axis, double By)[] shifts, List<TextEdit> edits)
    {
        if (part["at"] is Mapping at)
        {
            foreach (var (axis, by) in shifts)
            {
                if (at[axis] is Scalar value)
                    Shift(text, value, by, edits);
                else if (Rounded(by) != 0)
                    Insert(text, at, $"{axis}: {Written(by, "mm")}", edits);
            }
        }
        else if (shifts.Any(s => Rounded(s.By) != 0))
            Insert(text, part, $"at: {{{string.Join(", ", shifts.Select(s => $"{s.Axis}: {Written(s.By, "mm")}"))}}}", edits);
    }

    private static void Shift(string text, Scalar value, double by, List<TextEdit> edits)
    {
        int from = Offset(text, value.Line, value.Column);
        if (value.Quoted || string.CompareOrdinal(text, from, value.Text, 0, value.Text.Length) != 0 || !Units.TryRead(value.Text, "m", out double now, out _))
            return;
        string unit = Units.UnitIn(value.Text);
        string moved = Written(now + by, unit.Length == 0 ? "mm" : unit);
        if (moved != value.Text)
            edits.Add(new TextEdit(from, from + value.Text.Length, moved));
    }

    // Into a mapping in braces behind its brace, into one of lines as a line before its first.
    private static void Insert(string text, Mapping mapping, string entry, List<TextEdit> edits)
    {
        int from = Offset(text, mapping.Line, mapping.Column);
        if (from < text.Length && text[from] == '{')
            edits.Add(new TextEdit(from + 1, from + 1, mapping.Entries.Count > 0 ? entry + ", " : entry));
        else
            edits.Add(new TextEdit(from, from, entry + "\n" + new string(' ', mapping.Column - 1)));
    }

    // A winding on a limb slides round its core: the hand's way along the limb counts, its way across does not.
    private static void Round(string text, Scalar angle, LimbSpace limb, CoreShape core, double dx, double dy, List<TextEdit> edits)
    {
        int from = Offset(text, angle.Line, angle.Column);
        if (angle.Quoted || string.CompareOrdinal(text, from, angle.Text, 0, angle.Text.Length) != 0)
            return;
        double radius = 0.5 * (core.InnerRadius + core.OuterRadius);
        var (sin, cos) = Math.SinCos(limb.CentredAt * Math.PI / 180);
        double moved = Math.Round(Math.Atan2(radius * sin + dy, radius * cos + dx) * 180 / Math.PI);
        string unit = Units.UnitIn(angle.Text), written = FormattableString.Invariant($"{(moved < 0 ? moved + 360 : moved):0} {unit}");
        if (unit is "deg" or "°" && written != angle.Text)
            edits.Add(new TextEdit(from, from + angle.Text.Length, written));
    }

    private static double Rounded(double length) => Math.Round(length / Grid) * Grid;

    private static string Written(double length, string unit) => Units.WriteSi(Rounded(length), unit);

    private static int Offset(string text, int line, int column)
    {
        int at = 0;
        for (int l = 1; l < line; l++)
            at = text.IndexOf('\n', at) + 1;
        return at + column - 1;
    }
}
