using System.Text;
using Fieldwright.Bench.File;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

/// <summary>No text whatever makes the reader throw or overflow the stack; what would take long is turned away.</summary>
public class HostileTextTests
{
    public static TheoryData<string> Files => ApparatusFileTests.Files;

    [Theory]
    [MemberData(nameof(Files))]
    public void File_WithRandomBytesChanged_NeverThrows(string path)
    {
        byte[] bytes = System.IO.File.ReadAllBytes(Path.Combine(Repository.Root, path));
        var random = new Random(20261125);
        int wrong = 0;
        for (int round = 0; round < 250; round++)
        {
            byte[] edited = Edit(bytes, random);
            var reading = ApparatusFile.Read(Encoding.UTF8.GetString(edited), path);
            AssertSound(reading);
            wrong += reading.Mistakes.Count > 0 ? 1 : 0;
        }

        Assert.InRange(wrong, 60, 250);
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void File_WithWordsSwapped_NeverThrows(string path)
    {
        string[] words = System.IO.File.ReadAllText(Path.Combine(Repository.Root, path)).Split(' ');
        var random = new Random(7);
        for (int round = 0; round < 200; round++)
        {
            string[] edited = [.. words];
            for (int i = 0; i < 1 + round % 4; i++)
                edited[random.Next(words.Length)] = words[random.Next(words.Length)];
            AssertSound(ApparatusFile.Read(string.Join(' ', edited), path));
        }
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void File_CutShortAnywhere_NeverThrows(string path)
    {
        string text = System.IO.File.ReadAllText(Path.Combine(Repository.Root, path));
        for (int length = 0; length < text.Length; length += 7)
            AssertSound(ApparatusFile.Read(text[..length], path));
    }

    [Fact]
    public void File_OfTenMegabytes_IsTurnedAway() => AssertTurnedAway(new string('x', 10 * 1024 * 1024), "characters");

    [Theory]
    [InlineData("[")]
    [InlineData("{a: ")]
    [InlineData("- ")]
    [InlineData("? ")]
    public void File_NestedAHundredThousandDeep_IsTurnedAway(string opening) => AssertTurnedAway(string.Concat(Enumerable.Repeat(opening, 100_000)), "nested");

    [Fact]
    public void File_NestedByIndentation_IsTurnedAway() =>
        AssertTurnedAway(string.Concat(Enumerable.Range(0, 500).Select(i => new string(' ', i) + "a:\n")), "nested");

    [Fact]
    public void File_OfManyValues_IsTurnedAway() => AssertTurnedAway("a: [" + string.Concat(Enumerable.Repeat("1,", 200_000)) + "]", "values");

    [Fact]
    public void File_OfManyParts_IsTurnedAway() =>
        AssertTurnedAway("apparatus: A\nsymmetry: round\nparts:\n" + string.Concat(Enumerable.Range(0, 5000).Select(i => $"  p{i}: {{shape: disc, radius: 10 mm, thickness: 1 mm, of: copper}}\n")), "entries");

    [Fact]
    public void File_OfTwoHundredOverlappingParts_BlamesEachOnce()
    {
        string text = "apparatus: A\nsymmetry: round\nparts:\n" + string.Concat(Enumerable.Range(0, 200).Select(i => $"  p{i}: {{shape: ball, radius: {10 + i} mm, of: copper}}\n"));
        var reading = ApparatusFile.Read(text, "many.yaml");
        AssertSound(reading);
        Assert.Equal(199, reading.Mistakes.Count);
    }

    [Theory]
    [InlineData("apparatus: \0\nsymmetry: round\n")]
    [InlineData("apparatus: A\u0007\nsymmetry: round\n")]
    [InlineData("\uFFFE")]
    [InlineData("%YAML 3.0\n---\napparatus: A\n")]
    [InlineData("apparatus: A\nsymmetry: round\nabout: \"\\x\"\n")]
    [InlineData("apparatus: A\nsymmetry: round\nparts: {disc: {shape: outline, of: copper, corners: [{at: [0 mm, 0 mm], arc about: [0 mm, 0 mm]}, {at: [1 mm, 0 mm], arc about: [1 mm, 0 mm]}, {at: [1 mm, 1 mm]}]}}\n")]
    [InlineData("apparatus: A\nsymmetry: round\nparts: {disc: {shape: outline, of: copper, corners: [{at: [0 mm, 0 mm]}, {at: [10 mm, 10 mm]}, {at: [10 mm, 0 mm]}, {at: [0 mm, 10 mm]}]}}\n")]
    [InlineData("apparatus: A\nsymmetry: free\nstates: {a: {temperature of hall: 20 °C, temperature of hall : 30 °C}}\nclaims: []\nmore: 1")]
    public void File_OfOddText_IsTurnedAway(string text)
    {
        var reading = ApparatusFile.Read(text, "odd.yaml");
        AssertSound(reading);
        Assert.NotEmpty(reading.Mistakes);
    }

    private static void AssertTurnedAway(string text, string word)
    {
        var reading = ApparatusFile.Read(text, "hostile.yaml");
        AssertSound(reading);
        Assert.Contains(reading.Mistakes, m => m.Finding.Contains(word, StringComparison.Ordinal));
    }

    // Either an apparatus or mistakes; each mistake has a place, words, and no trace of the machinery.
    private static void AssertSound(Reading reading)
    {
        Assert.Equal(reading.Mistakes.Count == 0, reading.Apparatus is not null);
        foreach (var mistake in reading.Mistakes)
        {
            Assert.True(mistake.Line >= 1 && mistake.Column >= 1, ApparatusFileTests.Write(mistake));
            Assert.True(mistake.Finding.Length is > 0 and < 400 && mistake.Expectation.Length is > 0 and < 1000, ApparatusFileTests.Write(mistake));
            Assert.DoesNotContain("Exception", mistake.Finding, StringComparison.Ordinal);
        }
    }

    private static byte[] Edit(byte[] bytes, Random random)
    {
        var edited = bytes.ToList();
        for (int i = 0; i < 1 + random.Next(4); i++)
        {
            int at = random.Next(edited.Count);
            switch (random.Next(4))
            {
                case 0:
                    edited[at] = (byte)random.Next(256);
                    break;
                case 1:
                    edited.RemoveAt(at);
                    break;
                case 2:
                    edited.Insert(at, (byte)" \t\n:{}[],&*!|>'\"%@`#-?0.e"[random.Next(25)]);
                    break;
                default:
                    edited.InsertRange(at, edited.GetRange(at, Math.Min(random.Next(30), edited.Count - at)));
                    break;
            }
        }

        return [.. edited];
    }
}
