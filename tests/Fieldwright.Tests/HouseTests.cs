using System.Xml.Linq;
using Xunit;

namespace Fieldwright.Tests;

/// <summary>Arrows between rooms point down only, and two routes never see one another.</summary>
public class HouseTests
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["Numerics"] = [],
        ["Geometry"] = ["Numerics"],
        ["Matter"] = ["Numerics"],
        ["Fields"] = ["Geometry", "Matter", "Numerics"],
        ["Series"] = ["Geometry", "Matter", "Numerics"],
        ["Circuits"] = ["Geometry", "Matter", "Numerics"],
        ["Particles"] = ["Numerics"],
        ["Bench"] = ["Fields", "Series", "Circuits", "Particles", "Geometry", "Matter", "Numerics"],
        ["App"] = ["Bench", "Fields", "Series", "Circuits", "Particles", "Geometry", "Matter", "Numerics"],
    };

    public static TheoryData<string> Rooms => [.. Allowed.Keys];

    [Theory]
    [MemberData(nameof(Rooms))]
    public void Room_References_PointDownOnly(string room)
    {
        var forbidden = References(ProjectFile(room)).Where(target => !Allowed[room].Contains(target)).ToList();
        Assert.True(forbidden.Count == 0, $"Fieldwright.{room} must not know {string.Join(", ", forbidden)}.");
    }

    [Fact]
    public void Source_EveryProject_IsARoomOfTheHouse()
    {
        var found = Directory.GetDirectories(Path.Combine(Repository.Root, "src")).Select(d => Path.GetFileName(d)["Fieldwright.".Length..]);
        Assert.Equal(Allowed.Keys.Order(), found.Order());
    }

    private static string ProjectFile(string room) =>
        Path.Combine(Repository.Root, "src", $"Fieldwright.{room}", $"Fieldwright.{room}.csproj");

    private static IEnumerable<string> References(string projectFile) =>
        XDocument.Load(projectFile).Descendants("ProjectReference")
            .Select(e => Path.GetFileNameWithoutExtension(e.Attribute("Include")!.Value.Replace('\\', '/')))
            .Select(name => name["Fieldwright.".Length..]);
}
