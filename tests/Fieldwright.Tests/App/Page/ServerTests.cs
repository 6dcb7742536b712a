using System.Net;
using System.Text.Json;
using Fieldwright.App;
using Fieldwright.App.Page;
using Xunit;

namespace Fieldwright.Tests.App.Page;

/// <summary>What the server lets in, and what the shelf keeps inside its folder.</summary>
public sealed class ServerTests
{
    [Fact]
    public async Task Server_ForeignHostOriginOrSite_IsTurnedAway()
    {
        using var served = new Served(("plate.yaml", Small.Plate));
        using var client = new HttpClient();
        async Task<HttpStatusCode> Ask(string path, params (string Name, string Value)[] headers)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, served.Address + path);
            foreach (var (name, value) in headers)
                request.Headers.TryAddWithoutValidation(name, value);
            using var response = await client.SendAsync(request, TestContext.Current.CancellationToken);
            return response.StatusCode;
        }

        Assert.Equal(HttpStatusCode.OK, await Ask("/"));
        Assert.Equal(HttpStatusCode.Forbidden, await Ask("/", ("Host", "bench.example")));
        Assert.Equal(HttpStatusCode.Forbidden, await Ask("/", ("Origin", "http://bench.example")));
        Assert.Equal(HttpStatusCode.Forbidden, await Ask("/card/plate.yaml", ("Sec-Fetch-Site", "cross-site")));
        Assert.Equal(HttpStatusCode.NotFound, await Ask("/desk?key=guess"));
        Assert.Equal(HttpStatusCode.NotFound, await Ask("/take/answers.csv?key=guess"));
    }

    [Theory]
    [InlineData("../plate.yaml")]
    [InlineData("/etc/passwd")]
    [InlineData("..yaml")]
    [InlineData("a/b.yaml")]
    [InlineData("notes.txt")]
    [InlineData(".hidden.yaml")]
    public void Shelf_NameThatLeadsOutOrIsNone_IsRefused(string name)
    {
        using var folder = new Folder();
        using var shelf = new Shelf(folder.Path);
        Assert.Throws<WrongCallException>(() => shelf.PathOf(name));
    }

    [Fact]
    public void Shelf_LinkOutOfTheFolder_IsRefused()
    {
        using var inside = new Folder();
        using var outside = new Folder();
        File.CreateSymbolicLink(Path.Combine(inside.Path, "away.yaml"), outside.File("secret.yaml", "apparatus: Secret"));
        using var shelf = new Shelf(inside.Path);
        Assert.Throws<WrongCallException>(() => shelf.Open("away.yaml"));
    }

    [Fact]
    public void Shelf_CopyAndRename_KeepWhatIsThere()
    {
        using var folder = new Folder();
        folder.File("one.yaml", "apparatus: One");
        folder.File("two.yaml", "apparatus: Two");
        using var shelf = new Shelf(folder.Path);
        shelf.Copy("one.yaml", "three.yaml");
        shelf.Rename("three.yaml", "four.yaml");
        Assert.Throws<WrongCallException>(() => shelf.Rename("four.yaml", "two.yaml"));
        Assert.Equal(["four.yaml", "one.yaml", "two.yaml"], shelf.Files);
        Assert.Equal("apparatus: Two", File.ReadAllText(Path.Combine(folder.Path, "two.yaml")));
    }

    [Fact]
    public void SharedText_TwoWindowsFromOneVersion_SecondIsToldToCatchUpAndNothingIsLost()
    {
        using var folder = new Folder();
        string path = folder.File("a.yaml", "one\ntwo\n");
        var text = new SharedText(path);
        Assert.True(text.TryPush(0, [Update("a", """[[3, "ONE"], 5]""")]));
        Assert.False(text.TryPush(0, [Update("b", """[4, [3, "TWO"], 1]""")]));
        Assert.Equal("ONE\ntwo\n", File.ReadAllText(path));
        Assert.True(text.TryPush(1, [Update("b", """[4, [3, "TWO", "three"], 1]""")]));
        Assert.Equal("ONE\nTWO\nthree\n", File.ReadAllText(path));
    }

    [Fact]
    public void SharedText_FileChangedOnDisk_IsTakenOverBeforeAnythingIsWritten()
    {
        using var folder = new Folder();
        string path = folder.File("a.yaml", "one\r\ntwo\r\n");
        var text = new SharedText(path);
        File.WriteAllText(path, "one\r\nand a half\r\ntwo\r\n");
        Assert.False(text.TryPush(0, [Update("a", """[[3, "ONE"], 5]""")]));
        Assert.Equal("one\nand a half\ntwo\n", text.Text);
        Assert.True(text.TryPush(1, [Update("a", """[[3, "ONE"], 16]""")]));
        Assert.Equal("ONE\r\nand a half\r\ntwo\r\n", File.ReadAllText(path));
    }

    [Theory]
    [InlineData("[99]")]
    [InlineData("[3]")]
    [InlineData("{}")]
    [InlineData("[[-1], 8]")]
    public void SharedText_ChangeThatDoesNotFit_IsRefused(string changes) =>
        Assert.Throws<FormatException>(() => SharedText.Apply("one\ntwo\n", JsonDocument.Parse(changes).RootElement));

    private static TextUpdate Update(string window, string changes) => new(window, JsonDocument.Parse(changes).RootElement);
}
