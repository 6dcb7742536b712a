namespace Fieldwright.Bench.File;

/// <summary>Reads apparatus files.</summary>
public static class ApparatusFile
{
    /// <summary>Reads an apparatus from the text of its file. Every mistake is reported, not the first only.</summary>
    /// <param name="text">Text of the file, at most a million characters.</param>
    /// <param name="path">Path of the file, for messages; it is not opened.</param>
    /// <returns>The apparatus, or the mistakes that stand in its way. Nothing is thrown for any text.</returns>
    public static Reading Read(string text, string path)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(path);
        var mistakes = new List<Mistake>();
        var root = YamlTree.Read(text, mistakes);
        var file = root is null ? null : new Walk(mistakes).Read(Vocabulary.File, root) as Section;
        var apparatus = file is null ? null : new ApparatusBuilder(file, mistakes).Build();
        return new Reading(mistakes.Count == 0 ? apparatus : null, [.. mistakes.Distinct().OrderBy(m => m.Line).ThenBy(m => m.Column)], path);
    }
}
