using System.Text.RegularExpressions;
using Xunit;

namespace Fieldwright.Tests;

/// <summary>Every source a docstring names stands in the bibliography.</summary>
public partial class SourcesTests
{
    [Fact]
    public void Sources_EveryKeyInTheCode_StandsInTheBibliography()
    {
        var known = Entry().Matches(File.ReadAllText(Path.Combine(Repository.Root, "docs", "sources.bib"))).Select(m => m.Groups[1].Value).ToHashSet();
        var missing = Directory.EnumerateFiles(Path.Combine(Repository.Root, "src"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .SelectMany(file => Key().Matches(File.ReadAllText(file)).Select(m => (Key: m.Groups[1].Value, File: Path.GetFileName(file))))
            .Where(s => !known.Contains(s.Key))
            .Select(s => $"{s.Key} in {s.File}")
            .ToList();
        Assert.True(missing.Count == 0, "not in docs/sources.bib: " + string.Join(", ", missing));
    }

    [Fact]
    public void Sources_EveryEntry_HasAYearOrSaysWhereItWasRead()
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "docs", "sources.bib"));
        var bare = text.Split("\n@").Skip(1).Where(e => !e.Contains("year", StringComparison.Ordinal) && !e.Contains("note", StringComparison.Ordinal)).Select(e => e.Split(',')[0]).ToList();
        Assert.True(bare.Count == 0, "without year or note: " + string.Join(", ", bare));
    }

    [GeneratedRegex(@"^@\w+\{([^,]+),", RegexOptions.Multiline)]
    private static partial Regex Entry();

    [GeneratedRegex(@"<source key=""([^""]+)""")]
    private static partial Regex Key();
}
