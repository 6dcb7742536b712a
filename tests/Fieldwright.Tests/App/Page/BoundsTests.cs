using Fieldwright.App.Page;
using Fieldwright.Bench.Claims;
using Xunit;

namespace Fieldwright.Tests.App.Page;

/// <summary>Work that is bounded, and lamps that are kept.</summary>
public sealed class BoundsTests
{
    [Fact]
    public async Task Bounds_TooMuchMemory_StopsAndSaysSo()
    {
        using var bounds = new Bounds(TestContext.Current.CancellationToken, mostBytes: 1);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Task.Delay(TimeSpan.FromMinutes(1), bounds.Token));
        Assert.True(bounds.IsTooLarge);
        Assert.Contains("memory", bounds.Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Bounds_TooLong_StopsAndSaysSo()
    {
        using var bounds = new Bounds(TestContext.Current.CancellationToken, TimeSpan.FromMinutes(0.01));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Task.Delay(TimeSpan.FromMinutes(1), bounds.Token));
        Assert.False(bounds.IsTooLarge);
        Assert.Contains("after 0.01 minutes", bounds.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void KeptLamps_OpenedAgain_AreThereForTheSameTextOnly()
    {
        using var folder = new Folder();
        new KeptLamps(folder.Path).Keep("mark", [Outcome.Holds, null, Outcome.Fails]);
        var again = new KeptLamps(folder.Path);
        Assert.Equal([Outcome.Holds, null, Outcome.Fails], again.Find("mark"));
        Assert.Null(again.Find("another mark"));
        File.WriteAllText(Path.Combine(folder.Path, KeptLamps.FileName), "{broken");
        Assert.Null(new KeptLamps(folder.Path).Find("mark"));
    }
}
