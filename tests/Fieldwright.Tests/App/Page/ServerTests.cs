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
        // Nothing of what lies beside the folder or beside the program, not even where a link in the folder leads to it.
        using var outside = new Folder();
        File.CreateSymbolicLink(Path.Combine(served.Folder, "away.yaml"), outside.File("secret.yaml", Small.Plate));
        Assert.Equal(HttpStatusCode.OK, await Ask("/card/plate.yaml"));
        foreach (string path in (string[])["/card/away.yaml", "/card/..%2Fplate.yaml", "/card/%2Fetc%2Fpasswd", "/..%2F..%2Fetc%2Fpasswd", "/fieldwright.dll", "/type/..%2Fpage.css"])
            Assert.NotEqual(HttpStatusCode.OK, await Ask(path));
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

    [Fact]
    public void SharedText_LongerThanAFileMayBe_IsRefusedAndNothingIsWritten()
    {
        using var folder = new Folder();
        string path = folder.File("a.yaml", "one\n");
        var text = new SharedText(path);
        string flood = JsonSerializer.Serialize(new object[] { 4, new object[] { 0, new string('x', FileText.MostCharacters) } });
        Assert.Throws<FormatException>(() => text.TryPush(0, [Update("a", flood)]));
        Assert.Equal("one\n", File.ReadAllText(path));
        Assert.Equal("one\n", text.Text);
        // Nor is a flood from elsewhere overwritten by what is at hand.
        File.WriteAllText(path, new string('x', FileText.MostCharacters + 5));
        text.TakeDisk();
        Assert.Equal("one\n", text.Text);
        Assert.Throws<WrongCallException>(() => text.TryPush(0, [Update("a", """[[3, "ONE"], 1]""")]));
        Assert.Equal(FileText.MostCharacters + 5, new FileInfo(path).Length);
    }

    [Fact]
    public void Cards_HugeAndBrokenFiles_AreCardsWithAMistakeAndTheOthersStand()
    {
        using var folder = new Folder();
        folder.File("huge.yaml", new string('x', FileText.MostCharacters + 1));
        folder.File("broken.yaml", "apparatus: [\u0001\nparts: {");
        folder.File("plate.yaml", Small.Plate);
        File.WriteAllBytes(Path.Combine(folder.Path, "bytes.yaml"), [0xff, 0xfe, 0x00, 0x80, 0xc0]);
        using var shelf = new Shelf(folder.Path);
        using var cards = new Cards(shelf);
        var all = cards.All;
        Assert.Equal(4, all.Count);
        Assert.All(all.Where(c => c.File != "plate.yaml"), c => Assert.True(c.Mistakes > 0, c.File));
        Assert.Equal(0, all.Single(c => c.File == "plate.yaml").Mistakes);
    }

    [Fact]
    public void Cards_OfAProgramme_SayWhatItHolds()
    {
        using var folder = new Folder();
        folder.File("plate.yaml", Small.Plate);
        folder.File("tea.programme.yaml", "evening: Tea and plates\nhall: Saltpan Point hall\nbegins: 19:05\npeople: {Edda: shows}\nsteps:\n  - {apparatus: plate.yaml, shown by: Edda, on: 10 s}\n  - {pause: 15 min}\n  - {apparatus: gone.yaml, on: 10 s}\n");
        folder.File("wrong.programme.yaml", "evening: Wrong\nbegins: 25:00\nsteps: []\n");
        using var shelf = new Shelf(folder.Path);
        using var cards = new Cards(shelf);
        var evening = cards.All.Single(c => c.File == "tea.programme.yaml");
        Assert.Equal(0, evening.Mistakes);
        Assert.Equal("Tea and plates", evening.Title);
        Assert.Equal("A programme: 2 showings from 19:05 at Saltpan Point hall, by Edda.", evening.About);
        string plate = cards.All.Single(c => c.File == "plate.yaml").Title;
        Assert.Equal([new Showing(plate, "plate.yaml"), new Showing("pause, 15 min", null), new Showing("gone.yaml", null)], evening.Evening!);
        Assert.True(cards.All.Single(c => c.File == "wrong.programme.yaml").Mistakes > 0);
        Assert.Equal(Path.GetFileName(folder.Path), shelf.FolderName);
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
