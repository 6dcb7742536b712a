using Fieldwright.Particles;
using Xunit;

namespace Fieldwright.Tests.Particles;

/// <summary>A box whose left and right are one, against what can be said of a channel without following its discs.</summary>
public class JoinedSidesTests
{
    private const double Width = 24, Radius = 0.5;

    private static DiscState[] Start(double stream, int seed = 3) =>
        [.. Placement.Lattice(100, Radius, 1, Width, 18, 5, seed).Select((d, i) => d with { Y = d.Y + 0.5, Vx = d.Vx + stream, Mass = 1 + i % 3 })];

    /// <summary>Floor, lid and top push up and down only, so that nothing changes the momentum along the channel but grip.</summary>
    [Fact]
    public void Momentum_AlongTheChannel_StaysThoughItIsShakenAndLoses()
    {
        var box = new BoxDescription
        {
            Width = Width, Height = 60, Sides = Sides.Joined, Gravity = 9.81, Restitution = 0.95, WallRestitution = 0.98, ContactTime = 1e-4,
            Floor = new ShakingFloor(0.3, 4), Lid = new Lid(20, 50, 20),
        };
        var discs = new HardDiscs(box, Start(0.7));
        double before = discs.States.Sum(d => d.Mass * d.Vx);
        discs.Run(10, TestContext.Current.CancellationToken);
        Assert.True(discs.Meetings > 2000);
        Assert.Equal(before, discs.States.Sum(d => d.Mass * d.Vx), 1e-9 * before);
        Assert.True(discs.Ledger.Mismatch < 1e-9, discs.Ledger.ToString());
        Apart(discs);
    }

    /// <summary>Who moves along with a stream sees the same meetings (Galilei): only the joint is elsewhere.</summary>
    [Fact]
    public void Stream_SeenByOneWhoMovesAlong_IsTheGasAtRest()
    {
        const double Speed = 3.7, Time = 3;
        var box = new BoxDescription { Width = Width, Height = 20, Sides = Sides.Joined, Gravity = 0.3 };
        var (rests, streams) = (new HardDiscs(box, Start(0)), new HardDiscs(box, Start(Speed)));
        rests.Run(Time);
        streams.Run(Time);
        Assert.True(rests.Meetings > 150);
        Assert.Equal(rests.Meetings, streams.Meetings);
        Assert.Equal(1, streams.Virial / rests.Virial, 1e-6);
        for (int i = 0; i < 100; i++)
        {
            double ahead = streams[i].X - rests[i].X - Speed * Time;
            Assert.Equal(0, ahead - Width * Math.Round(ahead / Width), 1e-6);
            Assert.Equal(rests[i].Y, streams[i].Y, 1e-6);
        }
    }

    /// <summary>A gas so thin that its discs meet floor and top only. Each touch of the floor, which travels at U, leaves (1 − α) u + α U of a speed along it, each of the top (1 − β) u:
    /// up they fly at α U/(1 − (1 − α)(1 − β)), down at (1 − β) of that, and the mean of both is the stream.</summary>
    [Theory]
    [InlineData(0.3, 0.5)]
    [InlineData(0.2, 0.2)]
    [InlineData(0.4, 0)]
    public void Drift_OfAThinGas_IsThatOfItsTouches(double floor, double top)
    {
        const double U = 2;
        var box = new BoxDescription { Width = 20, Height = 4, Sides = Sides.Joined, Drag = U, Grip = floor, TopGrip = top };
        var discs = new HardDiscs(box, [.. Placement.Lattice(60, 0.001, 1, 20, 4, 1, 5).Select((d, i) => d with { Vy = (i % 2 == 0 ? 1 : -1) * (1 + i / 100.0) })]);
        discs.Run(200);
        double sum = 0;
        const int Samples = 200;
        for (int n = 0; n < Samples; n++)
        {
            discs.Run(discs.Now + 0.37);
            sum += discs.States.Average(d => d.Vx) / Samples;
        }

        double up = floor * U / (1 - (1 - floor) * (1 - top));
        // The few meetings of two, some one in a hundred flights, and samples that see more fly up than down.
        Assert.Equal(0.5 * (up + (1 - top) * up), sum, 0.01 * U);
        Assert.True(discs.Ledger.Mismatch < 1e-9, discs.Ledger.ToString());
    }

    /// <summary>Where only three cells went round, a disc two cells away would be looked for on the wrong side.</summary>
    [Fact]
    public void Channel_TooShortForFourDiscs_IsTurnedAway() =>
        Assert.Throws<ArgumentException>(() => new HardDiscs(new BoxDescription { Width = 3.9, Height = 20, Sides = Sides.Joined }, [new(1, 5, 0, 0, 0.5, 1)]));

    [Fact]
    public void Discs_ThatRepel_AreTurnedAway() =>
        Assert.Throws<ArgumentException>(() => new HardDiscs(new BoxDescription { Width = Width, Height = 20, Sides = Sides.Joined, Moments = [1] }, [new(1, 5, 0, 0, 0.5, 1)]));

    private static void Apart(HardDiscs discs)
    {
        var states = discs.States;
        for (int i = 0; i < states.Count; i++)
        {
            Assert.InRange(states[i].X, -1e-9, Width + 1e-9);
            for (int j = 0; j < i; j++)
            {
                double x = states[i].X - states[j].X, y = states[i].Y - states[j].Y;
                x -= Width * Math.Round(x / Width);
                Assert.True(x * x + y * y > 4 * Radius * Radius * (1 - 1e-9));
            }
        }
    }
}
