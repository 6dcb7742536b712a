using Fieldwright.Numerics.Ordinary;
using Xunit;

namespace Fieldwright.Tests.Numerics;

/// <summary>Adaptive steps against equations solved in closed form.</summary>
public class RungeKuttaTests
{
    // y″ = −y from (1, 0): cos t.
    private static void Swing(double time, ReadOnlySpan<double> y, Span<double> slope) => (slope[0], slope[1]) = (y[1], -y[0]);

    private static StepOptions Closely(double error, int count = 2) => new(error, [.. Enumerable.Repeat(error, count)]);

    // Errors of steps add up over 40 rad; each is held to the demand.
    [Theory]
    [InlineData(1e-4)]
    [InlineData(1e-7)]
    [InlineData(1e-10)]
    public void Swing_Followed_KeepsToTheDemand(double demand)
    {
        var way = RungeKutta.Follow(Swing, 0, [1, 0], 40, Closely(demand));
        Assert.Equal(Math.Cos(40), way.At(40)[0], 40 * demand);
        Assert.Null(way.Ended);
    }

    // Equal steps of a smooth equation: five orders, so half the step leaves a 32nd.
    [Fact]
    public void Step_Halved_LeavesAThirtySecondOfTheError()
    {
        double Error(double step) => Math.Abs(RungeKutta.Follow(Swing, 0, [1, 0], 4, Closely(0.09) with { LongestStep = step }).At(4)[0] - Math.Cos(4));
        Assert.InRange(Error(0.1) / Error(0.05), 25, 42);
    }

    [Fact]
    public void Way_BetweenSteps_IsOfFourthOrder()
    {
        double Worst(double step)
        {
            var way = RungeKutta.Follow(Swing, 0, [1, 0], 4, Closely(0.09) with { LongestStep = step });
            return Enumerable.Range(0, 400).Max(i => Math.Abs(way.At(0.01 * i)[0] - Math.Cos(0.01 * i)));
        }

        Assert.InRange(Worst(0.2) / Worst(0.1), 25, 42);
    }

    // A stone thrown up at 10 m/s under 10 m/s² is back after 2 s, and at its top after 1 s.
    [Fact]
    public void Event_FallingThroughZero_EndsTheWay()
    {
        static void Fall(double time, ReadOnlySpan<double> y, Span<double> slope) => (slope[0], slope[1]) = (y[1], -10);
        var way = RungeKutta.Follow(Fall, 0, [0, 10], 100, Closely(1e-8), [(_, y) => y[0], (_, y) => y[1]]);
        Assert.Equal((1, 1.0), (way.Ended!.Value, Math.Round(way.End, 9)));
        Assert.Equal(2, RungeKutta.Follow(Fall, 0, [1e-12, 10], 100, Closely(1e-8), [(_, y) => y[0]]).End, 1e-9);
    }

    [Fact]
    public void Way_ThatEndsInInfinity_IsGivenUp() =>
        Assert.Throws<StepsFailedException>(() => RungeKutta.Follow((double _, ReadOnlySpan<double> y, Span<double> slope) => slope[0] = y[0] * y[0], 0, [1], 2, Closely(1e-6, 1)));
}
