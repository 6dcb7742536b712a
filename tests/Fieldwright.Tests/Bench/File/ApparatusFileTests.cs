using Fieldwright.Bench.File;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

public class ApparatusFileTests
{
    public static TheoryData<string> Files =>
        [.. Directory.GetFiles(Path.Combine(Repository.Root, "examples"), "*.yaml").Where(f => !f.EndsWith(".programme.yaml", StringComparison.Ordinal)).Concat(Directory.GetFiles(Path.Combine(Repository.Root, "validation"), "*.yaml", SearchOption.AllDirectories).Where(f => !f.Contains("/bin/", StringComparison.Ordinal)))
            .Select(f => Path.GetRelativePath(Repository.Root, f))];

    [Theory]
    [MemberData(nameof(Files))]
    public void File_OfTheRepository_ReadsWithoutMistakes(string path)
    {
        var reading = ApparatusFile.Read(System.IO.File.ReadAllText(Path.Combine(Repository.Root, path)), path);
        Assert.Equal("", string.Join('\n', reading.Mistakes.Select(Write)));
        Assert.NotNull(reading.Apparatus);
    }

    internal static string Write(Mistake m) => $"{m.Line}:{m.Column} {m.Finding}; expected {m.Expectation}" + (m.NearestWord is null ? "" : $" (perhaps {m.NearestWord})");
}
