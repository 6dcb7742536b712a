using Fieldwright.Particles;
using Xunit;

namespace Fieldwright.Tests.Particles;

/// <summary>Discs that are magnets, against what can be said of them without following them.</summary>
public class RepellingDiscsTests
{
    private const double Mu0Over4Pi = 1e-7;

    /// <summary>Two on one line: the energy they close in with is all held at the turning point, C/r³ = ½ (m/2) v².</summary>
    [Fact]
    public void Two_HeadOn_TurnWhereTheEnergyIsHeld()
    {
        const double Moment = 0.4, Mass = 0.005, Speed = 0.3, Apart = 0.5;
        double c = Mu0Over4Pi * Moment * Moment, energy = 0.25 * Mass * Speed * Speed + c / (Apart * Apart * Apart), nearest = Math.Cbrt(c / energy);
        var discs = new HardDiscs(new BoxDescription { Width = 2, Height = 1, Moments = [Moment, Moment] },
            [new(0.75, 0.5, 0.5 * Speed, 0, 0.004, Mass), new(0.75 + Apart, 0.5, -0.5 * Speed, 0, 0.004, Mass)]);
        double least = Apart;
        while (discs.Now < 2.2)
        {
            discs.Run(discs.Now + discs.LengthOfStep);
            least = Math.Min(least, discs[1].X - discs[0].X);
        }

        Assert.True(nearest > 3 * 0.008);
        // The step goes past the turning point by a quarter of a per mille of the time of swing at most.
        Assert.Equal(1, least / nearest, 1e-3);
        Assert.Equal(0, discs.Meetings);
        Assert.True(discs.Ledger.Mismatch < 1e-4);
    }

    /// <summary>Passing by: the angle that two are turned through is the integral of the orbit, which knows nothing of time steps.</summary>
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.06)]
    public void Two_PassingBy_AreTurnedByTheAngleOfTheOrbit(double impact)
    {
        const double Moment = 0.4, Mass = 0.005, Speed = 0.3, Far = 3;
        double c = Mu0Over4Pi * Moment * Moment, energy = 0.25 * Mass * Speed * Speed;
        // χ = π − 2 ∫₀^um b du / √(1 − b²u² − (c/E) u³), u = um sin² φ taking the root out of the end; from far off to far off.
        double um = 0.5 / impact, k = c / energy;
        double F(double u) => 1 - impact * impact * u * u - k * u * u * u;
        double low = 0, high = 1 / impact;
        for (int n = 0; n < 200; n++)
            (low, high) = F(um = 0.5 * (low + high)) > 0 ? (um, high) : (low, um);
        double sum = 0;
        const int Points = 4000;
        for (int n = 0; n < Points; n++)
        {
            double phi = (n + 0.5) / Points * 0.5 * Math.PI, u = um * Math.Sin(phi) * Math.Sin(phi);
            sum += impact * um * Math.Sin(2 * phi) / Math.Sqrt(Math.Max(F(u), 1e-300)) * (0.5 * Math.PI / Points);
        }

        double expected = Math.PI - 2 * sum;
        var discs = new HardDiscs(new BoxDescription { Width = 20, Height = 20, Moments = [Moment, Moment] },
            [new(10 - 0.5 * Far, 10 - 0.5 * impact, 0.5 * Speed, 0, 0.004, Mass), new(10 + 0.5 * Far, 10 + 0.5 * impact, -0.5 * Speed, 0, 0.004, Mass)]);
        discs.Run(2 * Far / Speed);
        double found = Math.Abs(Math.Atan2(discs[1].Vy - discs[0].Vy, -(discs[1].Vx - discs[0].Vx)));
        // What is held 3 m apart, against the energy: some 1e-4 of an angle.
        Assert.Equal(expected, found, 1e-3);
    }

    /// <summary>Nothing is lost: over hundreds of the times between encounters the energy stays, though walls and rims are hit within steps.</summary>
    [Theory]
    [InlineData(0.025, 0)]
    [InlineData(0.3, 0)]
    [InlineData(0.3, 2)]
    public void Energy_WithoutLosses_Stays(double moment, double gravity)
    {
        var discs = Tray(36, moment, 0.5, gravity);
        double worst = 0, motion = discs.EnergyOfMotion;
        for (int n = 0; n < 12; n++)
        {
            discs.Run(discs.Now + 1, TestContext.Current.CancellationToken);
            worst = Math.Max(worst, discs.Ledger.Mismatch);
        }

        Assert.InRange(discs.EnergyOfRepulsion, 0.003 * motion, 10 * motion);
        Assert.True(moment > 0.1 || discs.Meetings > 50, $"{discs.Meetings}");
        Assert.True(worst < 2e-3, $"{worst}");
    }

    [Fact]
    public void Ledger_OfAShakenOpenBoxOfMagnets_Closes()
    {
        var box = new BoxDescription
        {
            Width = 0.5, Height = 0.6, Gravity = 3, Restitution = 0.9, WallRestitution = 0.95, ContactTime = 1e-5, Open = true,
            Floor = new ShakingFloor(0.004, 30), Moments = [.. Enumerable.Repeat(0.3, 30)],
        };
        var discs = new HardDiscs(box, [.. Placement.Lattice(30, 0.006, 0.003, 0.5, 0.3, 4e-4, 3).Select(d => d with { Y = d.Y + 0.01 })]);
        discs.Run(6, TestContext.Current.CancellationToken);
        Assert.True(discs.Escaped > 0 && discs.Ledger.FromFloor > 0);
        Assert.True(discs.Ledger.Mismatch < 4e-4, discs.Ledger.ToString());
    }

    /// <summary>Thin gas: the virial of the push is the second coefficient's, ½ N (N − 1) of the mean of r F, where two places in a square lie r apart with the known density of such pairs, weighed by exp(−u/kT).</summary>
    [Fact]
    public void Virial_OfAThinGas_IsThatOfTheSecondCoefficient()
    {
        const int Count = 64;
        const double Side = 1.5, Moment = 0.12, Radius = 0.004;
        var discs = Tray(Count, Moment, Side, 0);
        discs.Run(5, TestContext.Current.CancellationToken);
        double virial = discs.Virial, from = discs.Now, energy = 0;
        const int Samples = 100;
        for (int n = 0; n < Samples; n++)
        {
            discs.Run(discs.Now + 0.2, TestContext.Current.CancellationToken);
            energy += discs.EnergyOfMotion / Count / Samples;
        }

        double found = (discs.Virial - virial) / (discs.Now - from), c = Mu0Over4Pi * Moment * Moment, room = Side - 2 * Radius;
        double weight = 0, push = 0;
        const int Points = 200_000;
        for (int n = 0; n < Points; n++)
        {
            double s = (n + 0.5) / Points * Math.Sqrt(2), r = s * room;
            // Distances of two places in a unit square.
            double density = s <= 1 ? 2 * s * (s * s - 4 * s + Math.PI) : 2 * s * (4 * Math.Sqrt(s * s - 1) - (s * s + 2 - Math.PI) - 4 * Math.Acos(1 / s));
            double boltzmann = r < 2 * Radius ? 0 : Math.Exp(-c / (r * r * r) / energy);
            weight += density * boltzmann;
            push += density * boltzmann * 3 * c / (r * r * r);
        }

        // The rims meet: contact counts too, 2 kT × (2 R) × density of pairs at contact; hardly any get there.
        double t = 2 * Radius / room, contact = 2 * energy * 0.5 * t * 2 * t * Math.PI * Math.Exp(-c / Math.Pow(2 * Radius, 3) / energy) / (weight / Points * Math.Sqrt(2));
        double expected = 0.5 * Count * (Count - 1) * (push / weight + contact);
        // Third bodies: some n a² of it, 64 × 0.02² … / 9, and the run's own spread.
        Assert.Equal(1, found / expected, 0.06);
    }

    [Fact]
    public void Moments_ForSomeDiscsOnly_AreTurnedAway() =>
        Assert.Throws<ArgumentException>(() => new HardDiscs(new BoxDescription { Width = 1, Height = 1, Moments = [0.1] }, Placement.Lattice(2, 0.01, 0.01, 1, 1, 1e-3, 1)));

    private static HardDiscs Tray(int count, double moment, double side, double gravity) =>
        new(new BoxDescription { Width = side, Height = side, Gravity = gravity, Moments = [.. Enumerable.Repeat(moment, count)] }, Placement.Lattice(count, 0.004, 0.005, side, side, 2.25e-4, 4));
}
