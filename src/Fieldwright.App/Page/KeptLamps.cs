using System.Text.Json;
using Fieldwright.Bench.Claims;

namespace Fieldwright.App.Page;

/// <summary>Cue lamps found before, by the content of the file they belong to, in one small file beside the apparatus: the shelf is lit at once when it is opened again.</summary>
/// <remarks>Lamps of another version of the program, or of a text that has changed by one character, are not taken. A file that cannot be read or written is done without.</remarks>
internal sealed class KeptLamps
{
    /// <summary>Name of the file.</summary>
    public const string FileName = ".fieldwright-lamps.json";

    private const int Most = 1000;

    // Another build of any room may answer otherwise.
    private static readonly string Version = string.Join(' ', typeof(Bench.Rehearsal).Assembly.GetReferencedAssemblies().Where(n => n.Name!.StartsWith("Fieldwright", StringComparison.Ordinal))
        .Select(n => System.Reflection.Assembly.Load(n)).Append(typeof(Bench.Rehearsal).Assembly).Select(a => a.ManifestModule.ModuleVersionId.ToString("N")[..8]).Prepend(CommandLine.Version));
    private readonly string path;
    private readonly Lock gate = new();
    private readonly Dictionary<string, string?[]> known = new(StringComparer.Ordinal);

    /// <summary>Opens the lamps kept in a folder.</summary>
    public KeptLamps(string folder)
    {
        path = Path.Combine(folder, FileName);
        try
        {
            if (File.Exists(path) && JsonSerializer.Deserialize<Kept>(File.ReadAllText(path)) is { Lamps: { } lamps } kept && kept.Version == Version)
                foreach (var (mark, outcomes) in lamps)
                    known[mark] = outcomes;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            // Then they are found anew.
        }
    }

    /// <summary>Lamps of a text; null when they are not known.</summary>
    public IReadOnlyList<Outcome?>? Find(string mark)
    {
        lock (gate)
            return known.TryGetValue(mark, out string?[]? words) ? [.. words.Select(w => Enum.TryParse<Outcome>(w, out var o) ? (Outcome?)o : null)] : null;
    }

    /// <summary>Keeps the lamps of a text.</summary>
    public void Keep(string mark, IReadOnlyList<Outcome?> outcomes)
    {
        lock (gate)
        {
            string?[] words = [.. outcomes.Select(o => o?.ToString())];
            if (known.TryGetValue(mark, out string?[]? before) && before.SequenceEqual(words))
                return;
            if (known.Count >= Most)
                known.Clear();
            known[mark] = words;
            try
            {
                WholeFile.Write(path, stream => JsonSerializer.Serialize(stream, new Kept(Version, known)));
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException or WrongCallException)
            {
                // The folder may be read only.
            }
        }
    }

    private sealed record Kept(string Version, Dictionary<string, string?[]> Lamps);
}
