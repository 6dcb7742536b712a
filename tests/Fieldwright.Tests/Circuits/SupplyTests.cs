using System.Numerics;
using Fieldwright.Circuits.Protection;
using Fieldwright.Circuits.Supplies;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class SupplyTests
{
    // Bands of IEC 60898 applied to a B16: it may stay shut for an hour at 18 A, must open within the hour at 23.2 A, may trip at once from 48 A and must from 80 A.
    [Theory]
    [InlineData(18, 3600, ProtectionVerdict.Holds)]
    [InlineData(23.2, 3600, ProtectionVerdict.Trips)]
    [InlineData(23.2, 600, ProtectionVerdict.MayTrip)]
    [InlineData(47.9, 0.05, ProtectionVerdict.Holds)]
    [InlineData(48.1, 0.2, ProtectionVerdict.MayTrip)]
    [InlineData(80, 0.1, ProtectionVerdict.Trips)]
    [InlineData(16, 1e6, ProtectionVerdict.Holds)]
    [InlineData(41, 60, ProtectionVerdict.Trips)]
    public void BreakerB16_AtCurrent_DoesWhatTheStandardAsks(double current, double time, ProtectionVerdict expected) =>
        Assert.Equal(expected, new Breaker('B', 16).At(current, time));

    [Theory]
    [InlineData('B', 3, 5), InlineData('C', 5, 10), InlineData('D', 10, 20)]
    public void Breaker_Bands_AreThoseOfTheTable(char type, double hold, double trip)
    {
        var b = new Breaker(type, 10);
        Assert.Equal(10 * hold, b.HoldsInstantly);
        Assert.Equal(10 * trip, b.TripsInstantly);
        Assert.Equal(ProtectionVerdict.Holds, b.AtInrush(0.99 * 10 * hold * Math.Sqrt(2)));
        Assert.Equal(ProtectionVerdict.Trips, b.AtInrush(1.01 * 10 * trip * Math.Sqrt(2)));
        Assert.Throws<ArgumentException>(() => new Breaker('Z', 10));
    }

    [Fact]
    public void Fuse_BetweenItsConventionalCurrents_IsNotPromised()
    {
        var f = new Fuse("gG", 16);
        Assert.Equal(ProtectionVerdict.Holds, f.At(20, 3600));
        Assert.Equal(ProtectionVerdict.Trips, f.At(25.6, 3600));
        Assert.Equal(ProtectionVerdict.MayTrip, f.At(23, 3600));
        Assert.Equal(ProtectionVerdict.MayTrip, new Fuse("gG", 6).At(10, 3600));
    }

    // Gates of a gG 16 and bands of a T 2 A cartridge, from memory: what they hold and by when they have opened.
    [Fact]
    public void Fuse_ShortTimes_KeepToTheirGates()
    {
        var general = new Fuse("gG", 16);
        Assert.Equal(10, general.HoldsFor(33));
        Assert.Equal(0.1, general.HoldsFor(34));
        Assert.Equal(5, general.OpensBy(65));
        Assert.Equal(0.1, general.OpensBy(150));
        Assert.Equal(3600, general.OpensBy(64));
        Assert.Equal(double.PositiveInfinity, general.HoldsFor(16));
        var slow = new Fuse("T", 2);
        Assert.Equal(0.6, slow.HoldsFor(5.5));
        Assert.Equal(10, slow.OpensBy(5.5));
        Assert.Equal(0.02, slow.HoldsFor(20));
        Assert.Throws<ArgumentException>(() => new Fuse("X", 2));
    }

    // Longest time a B16 surely holds and the time by which it has surely opened, at the edges of its bands.
    [Theory]
    [InlineData(16, double.PositiveInfinity, double.PositiveInfinity), InlineData(18.08, 3600, double.PositiveInfinity), InlineData(23.2, 1, 3600), InlineData(40.8, 1, 60), InlineData(48, 0.1, 60), InlineData(79, 0, 60), InlineData(80, 0, 0.1)]
    public void BreakerB16_HoldsAndOpens_AtTheEdgesOfItsBands(double current, double holds, double opens)
    {
        Assert.Equal(holds, new Breaker('B', 16).HoldsFor(current));
        Assert.Equal(opens, new Breaker('B', 16).OpensBy(current));
    }

    // Two equal coils R + jX: X_C = X splits by atan(X/R); X_C = X + R²/X by exactly 90°, the capacitor branch carrying X/R times the current of the other.
    [Theory]
    [InlineData(10, 10), InlineData(3, 12), InlineData(12, 5)]
    public void PhaseSplit_TwoEqualCoils_AgreesWithHandFormula(double r, double x)
    {
        Complex[] z = [new(r, x), 0, 0, new(r, x)];
        const double w = 2 * Math.PI * 50;
        var resonant = PhaseSplit.With(z, 230, 50, 1 / (w * x));
        Assert.Equal(Math.Atan(x / r), resonant.PhaseLead, 1e-9);
        var quarter = PhaseSplit.For(z, 230, 50, Math.PI / 2)!;
        Assert.Equal(1 / (w * (x + r * r / x)), quarter.Capacitance, 1e-12);
        Assert.Equal(Math.PI / 2, quarter.PhaseLead, 1e-9);
        Assert.Equal(x / r, quarter.Shifted.Magnitude / quarter.Direct.Magnitude, 1e-9);
        Assert.Equal((x + r * r / x) * quarter.Shifted.Magnitude / Math.Sqrt(2), quarter.CapacitorVoltage, 1e-6);
        Assert.True(quarter.CapacitorRating > quarter.CapacitorVoltage);
    }

    [Fact]
    public void PhaseSplit_CoupledCoils_MeetsTheWantedPhase()
    {
        Complex[] z = [new(4, 20), new(0.8, 6), new(0.8, 6), new(6, 15)];
        foreach (double degrees in new[] { 60.0, 90, 120 })
            Assert.Equal(degrees, PhaseSplit.For(z, 100, 50, degrees * Math.PI / 180)!.PhaseLead * 180 / Math.PI, 1e-6);
        Assert.Null(PhaseSplit.For(z, 100, 50, Math.PI));
    }

    // R = X = 10 Ω at 50 Hz: 159.155 µF to unity.
    [Fact]
    public void PowerFactor_TenAndTenOhms_WantsTheListedCapacitor()
    {
        double c = PowerFactor.Correction(new(10, 10), 50);
        Assert.Equal(159.155e-6, c, 1e-9);
        var y = 1 / new Complex(10, 10) + new Complex(0, 2 * Math.PI * 50 * PowerFactor.Correction(new(10, 10), 50, 0.95));
        Assert.Equal(0.95, y.Real / y.Magnitude, 1e-12);
        Assert.True(y.Imaginary < 0);
    }

    [Theory]
    [InlineData(20e-6, 6, 22e-6), InlineData(9.4e-6, 6, 10e-6), InlineData(1.1e-6, 12, 1.2e-6), InlineData(159e-6, 6, 150e-6), InlineData(1.0, 12, 1.0)]
    public void PreferredValues_Nearest_IsTheNearestByRatio(double value, int series, double expected) =>
        Assert.Equal(expected, PreferredValues.Nearest(value, series), 1e-9 * expected);
}
