using System.Text;
using System.Text.Json;

namespace Fieldwright.App.Page;

/// <summary>A change of a text, as the editor writes it.</summary>
/// <param name="Window">The window that made it, or <see cref="SharedText.Disk"/>.</param>
/// <param name="Changes">A list that walks the text from its start: a number keeps so many characters, [n] drops n, [n, line, line …] replaces n by lines.</param>
public sealed record TextUpdate(string Window, JsonElement Changes);

/// <summary>The text of one apparatus file as all windows share it. Every accepted change is on disk before it is accepted; a change made against an older text is refused, so that its window may bring it up to date: none is lost.</summary>
public sealed class SharedText
{
    /// <summary>Who made a change that came from the disk.</summary>
    public const string Disk = "disk";

    private readonly Lock gate = new();
    private readonly List<TextUpdate> updates = [];
    private readonly string path;
    private readonly string lineEnd;
    private string text;

    /// <summary>Opens a file.</summary>
    /// <exception cref="WrongCallException">It cannot be read, or is longer than an apparatus file may be: what was cut off would be lost when it is saved.</exception>
    public SharedText(string path)
    {
        this.path = path;
        string raw = FileText.Read(path);
        if (raw.Length >= FileText.MostCharacters)
            throw TooLong();
        lineEnd = raw.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
        text = Plain(raw);
    }

    /// <summary>Raised after the text has changed, never under the lock.</summary>
    public event Action? Changed;

    /// <summary>The text, lines ended by line feeds.</summary>
    public string Text
    {
        get
        {
            lock (gate)
                return text;
        }
    }

    /// <summary>Text and number of changes so far.</summary>
    public (string Text, int Version) Now
    {
        get
        {
            lock (gate)
                return (text, updates.Count);
        }
    }

    /// <summary>Changes after a version.</summary>
    public IReadOnlyList<TextUpdate> Since(int version)
    {
        lock (gate)
            return version >= 0 && version <= updates.Count ? [.. updates.Skip(version)] : [];
    }

    /// <summary>Takes changes made against a version.</summary>
    /// <param name="version">The version they were made against.</param>
    /// <param name="changes">The changes, one after another.</param>
    /// <returns>Whether they were taken; if not, the window is behind and must bring them up to date first.</returns>
    /// <exception cref="WrongCallException">The file cannot be written, or has meanwhile become too long to be one.</exception>
    /// <exception cref="FormatException">A change does not fit the text.</exception>
    public bool TryPush(int version, IReadOnlyList<TextUpdate> changes)
    {
        bool taken;
        lock (gate)
        {
            taken = !TakeDiskHeld(TooLong) && version == updates.Count;
            if (taken)
            {
                string changed = changes.Aggregate(text, (t, u) => Apply(t, u.Changes));
                if (changed.Length > FileText.MostCharacters)
                    throw new FormatException("The text is longer than an apparatus file may be.");
                Save(changed);
                text = changed;
                updates.AddRange(changes);
            }
        }

        Changed?.Invoke();
        return taken;
    }

    /// <summary>Takes over what another program wrote to the file.</summary>
    public void TakeDisk()
    {
        bool differs;
        lock (gate)
            differs = TakeDiskHeld();
        if (differs)
            Changed?.Invoke();
    }

    /// <summary>A text after a change.</summary>
    /// <exception cref="FormatException">The change does not fit.</exception>
    internal static string Apply(string text, JsonElement changes)
    {
        if (changes.ValueKind != JsonValueKind.Array)
            throw new FormatException("A change is a list.");
        var result = new StringBuilder();
        int at = 0;
        foreach (var piece in changes.EnumerateArray())
        {
            bool keeps = piece.ValueKind == JsonValueKind.Number;
            if (!keeps && (piece.ValueKind != JsonValueKind.Array || piece.GetArrayLength() == 0))
                throw new FormatException("A piece of a change is a number or a list.");
            int count = (keeps ? piece : piece[0]).GetInt32();
            if (count < 0 || at + count > text.Length)
                throw new FormatException("A change reaches beyond the text.");
            if (keeps)
                result.Append(text, at, count);
            else
                result.AppendJoin('\n', piece.EnumerateArray().Skip(1).Select(line => line.GetString()));
            at += count;
        }

        return at == text.Length ? result.ToString() : throw new FormatException("A change ends before the text.");
    }

    /// <summary>The change from one text to another, as one replacement.</summary>
    internal static JsonElement Between(string from, string to)
    {
        int start = 0, most = Math.Min(from.Length, to.Length);
        while (start < most && from[start] == to[start])
            start++;
        int end = 0;
        while (end < most - start && from[^(end + 1)] == to[^(end + 1)])
            end++;
        var pieces = new List<object>();
        if (start > 0)
            pieces.Add(start);
        pieces.Add((object[])[from.Length - start - end, .. to[start..^end].Split('\n')]);
        if (end > 0)
            pieces.Add(end);
        return JsonSerializer.SerializeToElement(pieces);
    }

    private WrongCallException TooLong() => new($"{Path.GetFileName(path)}: the file is longer than an apparatus file may be, and is left alone.");

    private bool TakeDiskHeld(Func<Exception>? tooLong = null)
    {
        string raw;
        try
        {
            raw = FileText.Read(path);
        }
        catch (WrongCallException)
        {
            // Renamed or gone for the moment: the text at hand stays.
            return false;
        }

        // What another program put there is not overwritten because it cannot be taken in.
        if (raw.Length >= FileText.MostCharacters)
            return tooLong is null ? false : throw tooLong();
        string disk = Plain(raw);
        if (disk == text)
            return false;
        updates.Add(new TextUpdate(Disk, Between(text, disk)));
        text = disk;
        return true;
    }

    private void Save(string changed)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(lineEnd == "\n" ? changed : changed.Replace("\n", lineEnd, StringComparison.Ordinal));
        WholeFile.Write(path, stream => stream.Write(bytes));
    }

    private static string Plain(string raw) => raw.Replace("\r\n", "\n", StringComparison.Ordinal).Replace('\r', '\n');
}
