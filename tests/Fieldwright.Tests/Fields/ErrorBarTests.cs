using Fieldwright.Benchmarks.Fields;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>A slice of the study of docs/error-bars.md: the families whose truth is exact, from a seed the bars were not chosen on.</summary>
public class ErrorBarTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(11)]
    [InlineData(12)]
    public void ErrorBar_OfAnApparatusWithAnExactAnswer_ReachesIt(int family)
    {
        for (var turn = 0; turn < 3; turn++)
        {
            var (bars, brackets) = BarStudy.Run(5, [family + (turn * GeneratedApparatus.FamilyCount)]);
            Assert.All(bars, b => Assert.True(b.Covered, $"{b}"));
            Assert.All(brackets, b => Assert.True(b.Held, $"{b}"));
            // a bar that reaches the truth by being endless is none
            Assert.All(bars.Where(b => b.Last), b => Assert.InRange(b.Bar, 0, 0.05 * Math.Abs(b.Value)));
        }
    }

    [Fact]
    public void Apparatus_OfOneSeed_IsTheSameEveryTime()
    {
        for (var k = 0; k < GeneratedApparatus.FamilyCount; k++)
            Assert.Equal(GeneratedApparatus.At(7, k).Model.Parts.SelectMany(p => p.Edges), GeneratedApparatus.At(7, k).Model.Parts.SelectMany(p => p.Edges));
    }
}
