using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;
using Xunit;

namespace Fieldwright.Tests.Series.Rings;

/// <summary>Rings thrown by capacitor banks, against the discharge of a plain coil and against the conservation of energy.</summary>
public class RingShotTests
{
    private const double Capacity = 1e-3, Volts = 160, Resistance = 0.1, Mass = 0.026, Weight = Mass * 9.80665;
    private static readonly ThickCoil Coil = new(0.012, 0.036, -0.014, 0, 60);

    private static RingMotion Ring(double mass, double conductivity, double start = 0.0015) =>
        new(new CoupledRings([new RingBody(0.012, 0.03, start, start + 0.004, conductivity)], [Coil, new ThickCoil(0.034, 0.045, 0.01, 0.02, 60)], 500), mass, -mass * 9.80665, 0, 0.12);

    private static RingCircuit Bank(int coil = 0, double delay = 0) => new([(coil, 1)], _ => 0, Resistance) { Capacitance = Capacity, CapacitorVoltage = Volts, ClosesAt = delay };

    [Fact]
    public void Shoot_RingThatHardlyConducts_LeavesTheDischargeOfThePlainCoil()
    {
        // u = V e^(−at)(cos wt + (a/w) sin wt), a = R/2L, w² = 1/LC − a²: with a ring of glass nothing else happens.
        double l = Coil.SelfInductance(), a = Resistance / (2 * l), w = Math.Sqrt(1 / (l * Capacity) - a * a), t = 1.3 * Math.PI / w;
        var shot = Ring(1e3, 1).Shoot([Bank()], 0, 0.1, t, t / 400);
        double expected = Volts * Math.Exp(-a * t) * (Math.Cos(w * t) + a / w * Math.Sin(w * t));
        Assert.False(shot.Left);
        // Second order in 800 steps.
        Assert.Equal(expected, shot.CapacitorVoltages[0].Value, 1e-4 * Volts);
        Assert.Equal(expected, shot.CapacitorVoltages[0].Value, shot.CapacitorVoltages[0].Error);
    }

    [Fact]
    public void Shoot_Ring_AccountsForAllEnergyOfTheBank()
    {
        var shot = Ring(Mass, 3.5e7).Shoot([Bank()], 0, 0.1, 0.1, 2e-5);
        Assert.True(shot.Left);
        double u = shot.CapacitorVoltages[0].Value, held = 0.5 * Capacity * Volts * Volts;
        double found = 0.5 * Capacity * u * u + shot.CircuitHeat[0].Value + shot.BodyHeat.Value + shot.FieldEnergy.Value + 0.5 * Mass * shot.Speed.Value * shot.Speed.Value + Weight * 0.1;
        Assert.Equal(held, found, 1e-3 * held);
        Assert.InRange(shot.Speed.Value, 3, 8);
    }

    [Fact]
    public void Shoot_BankFiredLater_ThrowsAsMuchLater()
    {
        Assert.Equal(0.005, Shot(0.005).Time.Value - Shot(0).Time.Value, 2e-5);
        Assert.Equal(Shot(0).Speed.Value, Shot(0.005).Speed.Value, 1e-3);

        static RingShot Shot(double delay) => Ring(Mass, 3.5e7).Shoot([Bank(0, delay)], 0, 0.1, 0.1, 2e-5);
    }

    [Fact]
    public void Shoot_SecondCoilFiredWhenTheRingHasPassed_ThrowsFaster()
    {
        double one = Ring(Mass, 3.5e7).Shoot([Bank()], 0, 0.1, 0.1, 2e-5).Speed.Value;
        var both = Ring(Mass, 3.5e7).Shoot([Bank(), Bank(1, 0.005)], 0, 0.1, 0.1, 2e-5);
        Assert.True(both.Speed.Value > 1.1 * one, $"{one} and {both.Speed}");
        double held = Capacity * Volts * Volts, spent = both.CapacitorVoltages.Sum(u => 0.5 * Capacity * u.Value * u.Value) + both.CircuitHeat.Sum(q => q.Value) + both.BodyHeat.Value + both.FieldEnergy.Value
            + 0.5 * Mass * both.Speed.Value * both.Speed.Value + Weight * 0.1;
        Assert.Equal(held, spent, 2e-3 * held);
    }

    [Fact]
    public void Shoot_TooFeebleABank_FallsBackAndSaysHowHigh()
    {
        var shot = Ring(1, 3.5e7).Shoot([Bank()], 0, 0.1, 1, 2e-5);
        Assert.False(shot.Left);
        Assert.InRange(shot.Top.Value, 1e-5, 0.02);
        Assert.True(shot.Time.Value < 1);
    }
}
