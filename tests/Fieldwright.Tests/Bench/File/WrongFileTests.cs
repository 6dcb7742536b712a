using Fieldwright.Bench.File;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

/// <summary>Files that are wrong in every way we could think of; beside each stands what must be said about it, read and approved by a person.</summary>
/// <remarks>With the variable FIELDWRIGHT_REWRITE_DOCS set to 1 the texts are written anew: read the difference before it is committed.</remarks>
public class WrongFileTests
{
    private static readonly string Folder = Path.Combine(Repository.Root, "tests", "Fieldwright.Tests", "Bench", "File", "Wrong");

    public static TheoryData<string> Files => [.. Directory.GetFiles(Folder, "*.yaml").Select(f => Path.GetFileNameWithoutExtension(f)).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Files))]
    public void WrongFile_Read_SaysAllThatIsWrongInItsPlace(string name)
    {
        var reading = ApparatusFile.Read(System.IO.File.ReadAllText(Path.Combine(Folder, name + ".yaml")), name + ".yaml");
        string said = string.Concat(reading.Mistakes.Select(m => ApparatusFileTests.Write(m) + "\n"));
        string beside = Path.Combine(Folder, name + ".txt");
        if (Environment.GetEnvironmentVariable("FIELDWRIGHT_REWRITE_DOCS") == "1")
            System.IO.File.WriteAllText(beside, said);
        Assert.Null(reading.Apparatus);
        Assert.NotEmpty(reading.Mistakes);
        Assert.Equal(System.IO.File.ReadAllText(beside), said);
    }
}
