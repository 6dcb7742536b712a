using Fieldwright.Particles;
using Xunit;

namespace Fieldwright.Tests.Particles;

public class HardDiscsTests
{
    private const double Radius = 0.5, Mass = 2;

    private static HardDiscs Gas(int count, double packing, int seed = 1, Sides sides = Sides.Endless)
    {
        double area = count * Math.PI * Radius * Radius / packing, side = Math.Sqrt(area);
        return new HardDiscs(new BoxDescription { Width = side, Height = side, Sides = sides }, Placement.Lattice(count, Radius, Mass, side, side, 1, seed, sides));
    }

    [Fact]
    public void TwoDiscs_HeadOn_SwapTheirSpeedsWhenTheyTouch()
    {
        var discs = new HardDiscs(new BoxDescription { Width = 20, Height = 10 }, [new(5, 5, 1, 0, 0.5, 2), new(10, 5, -2, 0, 0.5, 2)]);
        // Their edges are 4 apart and close at 3.
        discs.Run(4.0 / 3 + 0.5);
        Assert.Equal(1, discs.Meetings);
        Assert.Equal(-2, discs[0].Vx, 12);
        Assert.Equal(5 + 4.0 / 3 - 2 * 0.5, discs[0].X, 12);
        // Impulse 2 × 3, one metre between the centres.
        Assert.Equal(6, discs.Virial, 12);
    }

    [Fact]
    public void LightDisc_OnAHeavyOne_BouncesAsMomentumAndEnergySay()
    {
        var discs = new HardDiscs(new BoxDescription { Width = 20, Height = 10, Restitution = 0.5 }, [new(5, 5, 1, 0, 0.5, 1), new(10, 5, 0, 0, 0.5, 3)]);
        discs.Run(5);
        // v₁ = (m₁ − e m₂)/(m₁ + m₂), v₂ = m₁ (1 + e)/(m₁ + m₂).
        Assert.Equal(-0.125, discs[0].Vx, 12);
        Assert.Equal(0.375, discs[1].Vx, 12);
        Assert.Equal(0.5 * 0.75 * 0.75, discs.Ledger.LostBetweenDiscs, 12);
        Assert.True(discs.Ledger.Mismatch < 1e-14);
    }

    [Fact]
    public void Disc_UnderGravity_BouncesInTheTimeOfFreeFall()
    {
        var discs = new HardDiscs(new BoxDescription { Width = 4, Height = 100, Gravity = 9.81 }, [new(2, 5.5, 0, 0, 0.5, 1)]);
        double fall = Math.Sqrt(2 * 5 / 9.81);
        discs.Run(3 * fall);
        Assert.Equal(0.5, discs[0].Y, 9);
        discs.Run(4 * fall);
        Assert.Equal(5.5, discs[0].Y, 9);
        Assert.True(discs.Ledger.Mismatch < 1e-12);
    }

    [Theory]
    [InlineData(1.0)]
    [InlineData(0.9)]
    public void Ledger_OfAShakenBoxWithLidAndLosses_Closes(double restitution)
    {
        var box = new BoxDescription
        {
            Width = 20, Height = 60, Gravity = 9.81, Restitution = restitution, WallRestitution = 0.98, ContactTime = 1e-4, Drag = 0.3, Grip = 0.1,
            Floor = new ShakingFloor(0.3, 4), Lid = new Lid(20, 50, 20),
        };
        var discs = new HardDiscs(box, [.. Placement.Lattice(100, Radius, Mass, 20, 18, 5, 3).Select(d => d with { Y = d.Y + 0.5 })]);
        discs.Run(20, TestContext.Current.CancellationToken);
        var ledger = discs.Ledger;
        Assert.True(discs.Meetings > 5000);
        Assert.True(ledger.FromFloor > 0 && ledger.LostAtWalls > 0 && (restitution == 1) == (ledger.LostBetweenDiscs == 0));
        Assert.True(ledger.Mismatch < 1e-9, ledger.ToString());
        Apart(discs, box);
    }

    [Fact]
    public void Discs_AfterManyMeetings_NeitherOverlapNorStandOutside()
    {
        var discs = Gas(200, 0.6, sides: Sides.Walls);
        double side = Math.Sqrt(200 * Math.PI * 0.25 / 0.6);
        for (int i = 0; i < 20; i++)
        {
            discs.Run(discs.Now + 0.37);
            Apart(discs, new BoxDescription { Width = side, Height = side });
        }

        Assert.True(discs.Meetings > 5000);
    }

    [Fact]
    public void Speeds_TurnedRound_LeadBackToTheStart()
    {
        var start = Placement.Lattice(64, Radius, Mass, 20, 20, 1, 5);
        var box = new BoxDescription { Width = 20, Height = 20, Gravity = 0.2, Lid = new Lid(100, 1, 20) };
        var discs = new HardDiscs(box, start);
        discs.Run(8);
        Assert.True(discs.Meetings > 150);
        long there = discs.Meetings;
        discs.TurnBack();
        discs.Run(16);
        Assert.Equal(2 * there, discs.Meetings);
        // Each meeting makes a rounding error some times larger; after a few meetings each it is far below this.
        for (int i = 0; i < start.Count; i++)
            Assert.Equal(0, Math.Abs(discs[i].X - start[i].X) + Math.Abs(discs[i].Y - start[i].Y), 1e-5);
    }

    /// <summary>Cells only say who is looked at; so do the numbers that many discs are given anew on the way.</summary>
    [Theory]
    [InlineData(100, 20, Sides.Walls)]
    [InlineData(100, 20, Sides.Joined)]
    [InlineData(900, 60, Sides.Endless)]
    public void Run_FromTheSameStart_IsTheSameWhateverTheCells(int count, double side, Sides sides)
    {
        var start = Placement.Lattice(count, Radius, Mass, side, side, 1, 5, sides);
        var box = new BoxDescription { Width = side, Height = side, Sides = sides };
        var (a, b, c) = (new HardDiscs(box, start), new HardDiscs(box, start), new HardDiscs(box, start, perCell: 9));
        foreach (var run in (HardDiscs[])[a, b, c])
            run.Run(3);
        Assert.Equal(a.States, b.States);
        Assert.Equal(a.Meetings, c.Meetings);
        for (int i = 0; i < start.Count; i++)
            Assert.Equal(a[i].X, c[i].X, 1e-6);
    }

    /// <summary>A large disc makes the cells large, so that more small ones crowd into one than it was laid out for.</summary>
    [Fact]
    public void Discs_CrowdedIntoLargeCells_NeitherOverlapNorLoseEnergy()
    {
        var box = new BoxDescription { Width = 30, Height = 30, Gravity = 3 };
        var discs = new HardDiscs(box, [.. Placement.Lattice(300, 0.4, 1, 30, 18, 2, 7).Select(d => d with { Y = d.Y + 12 }), new DiscState(15, 6, 0, 0, 5.5, 100)]);
        discs.Run(6, TestContext.Current.CancellationToken);
        Assert.True(discs.Meetings > 5000);
        Assert.True(discs.Ledger.Mismatch < 1e-9, discs.Ledger.ToString());
        Apart(discs, box);
    }

    [Fact]
    public void OpenTop_LetsFastDiscsGoWithTheirEnergy()
    {
        var box = new BoxDescription { Width = 20, Height = 25, Gravity = 1, Open = true };
        var discs = new HardDiscs(box, Placement.Lattice(80, Radius, Mass, 20, 12, 16, 2));
        discs.Run(60);
        Assert.InRange(discs.Escaped, 1, 79);
        Assert.Equal(80 - discs.Escaped, discs.States.Count);
        Assert.True(discs.Ledger.Escaped > 0);
        Assert.True(discs.Ledger.Mismatch < 1e-9, discs.Ledger.ToString());
    }

    [Theory]
    [InlineData(30, 5)]
    [InlineData(4, 5.4)]
    public void Discs_OverlappingOrOutside_AreTurnedAway(double x, double y) =>
        Assert.Throws<ArgumentException>(() => new HardDiscs(new BoxDescription { Width = 20, Height = 20 }, [new(4.5, 5, 0, 0, 0.5, 1), new(x, y, 0, 0, 0.5, 1)]));

    [Fact]
    public void ShakingFloor_HasTheSpeedOfItsHeight()
    {
        var floor = new ShakingFloor(0.01, 30);
        for (double t = 0.0003; t < 0.1; t += 0.0017)
            Assert.Equal((floor.HeightAt(t + 1e-7) - floor.HeightAt(t - 1e-7)) / 2e-7, floor.SpeedAt(t), 1e-4);
        Assert.Equal(0.01, floor.HeightAt(1 / 120.0), 12);
        Assert.Equal(-0.01, floor.HeightAt(3 / 120.0), 12);
        Assert.Equal(2.4, floor.MostSpeed, 12);
    }

    private static void Apart(HardDiscs discs, BoxDescription box)
    {
        var states = discs.States;
        double floor = box.Floor?.HeightAt(discs.Now) ?? 0, top = box.Lid is null ? box.Height : discs.LidHeight;
        foreach (var d in states)
        {
            Assert.InRange(d.X, d.Radius - 1e-9, box.Width - d.Radius + 1e-9);
            Assert.InRange(d.Y, floor + d.Radius - 1e-9, top - d.Radius + 1e-9);
        }

        for (int i = 0; i < states.Count; i++)
            for (int j = 0; j < i; j++)
                Assert.True(Math.Pow(states[i].X - states[j].X, 2) + Math.Pow(states[i].Y - states[j].Y, 2) > Math.Pow(states[i].Radius + states[j].Radius, 2) * (1 - 1e-9));
    }
}
