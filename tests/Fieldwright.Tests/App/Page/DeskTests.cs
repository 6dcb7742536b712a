using System.Text;
using Fieldwright.App.Page;
using Xunit;

namespace Fieldwright.Tests.App.Page;

/// <summary>A window's desk without its window: what it tells, and how it stops.</summary>
public sealed class DeskTests
{
    internal const string Board = """
        apparatus: A warm bar
        symmetry: board
        board:
          carries: heat
          ground: tray
          elements:
            heater: {heater: 12 W, from: tray, to: hot end}
            lagging: {heat resistance: 60 K/W, from: hot end, to: tray}
        dials:
          power of heater: {from: 0 W, to: 20 W, now: 12 W}
        states:
          gentle: {power of heater: 2 W}
          strong: {power of heater: 20 W}
        """;

    [Fact]
    public async Task Board_OnItsDesk_IsDrawnLiveAndForTheShow()
    {
        using var folder = new Folder();
        using var workers = new SemaphoreSlim(1);
        using var desk = new Desk("board.yaml", new SharedText(folder.File("board.yaml", Board)), workers);
        async Task<string> Next(string wanted)
        {
            await foreach (object message in desk.Outbox.ReadAllAsync(TestContext.Current.CancellationToken))
                if (message is byte[] bytes && Encoding.UTF8.GetString(bytes) is var told && told.Contains(wanted, StringComparison.Ordinal))
                    return told;
            throw new InvalidOperationException("The desk has closed.");
        }

        Assert.Contains("12 W", Plain(await Next("\"kind\":\"drawing\"")), StringComparison.Ordinal);
        desk.Turn(0, 5, 7);
        Assert.Contains("5 W", Plain(await Next("\"stamp\":7")), StringComparison.Ordinal);
        desk.PrepareShow();
        Assert.Contains("\"state\":\"gentle\"", await Next("\"forShow\":true"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stop_WhileItRehearses_EndsTheWorkAndLeavesTheClaimsUnanswered()
    {
        using var folder = new Folder();
        using var workers = new SemaphoreSlim(1);
        // A claim that takes far longer than the test.
        string text = System.IO.File.ReadAllText(Path.Combine(Repository.Root, "examples", "ring-shot.yaml"));
        using var desk = new Desk("shot.yaml", new SharedText(folder.File("shot.yaml", text)), workers);
        await Until(desk, d => d.Working?.Contains("answers", StringComparison.Ordinal) == true);
        desk.Stop();
        await Until(desk, d => d.Working is null);
        Assert.Null(desk.Report);
        Assert.Null(desk.Trouble);
        // And the next turn of a dial is answered.
        int stand = desk.Stand;
        desk.Turn(0, 100, 1);
        await Until(desk, d => d.Working is not null && d.Stand > stand);
    }

    // Numbers and units keep together.
    private static string Plain(string told) => told.Replace("\\u00A0", " ", StringComparison.Ordinal);

    private static async Task Until(Desk desk, Func<Desk, bool> holds)
    {
        for (int i = 0; i < 6000 && !holds(desk); i++)
            await Task.Delay(10, TestContext.Current.CancellationToken);
        Assert.True(holds(desk), $"working: {desk.Working}, trouble: {desk.Trouble}");
    }
}
