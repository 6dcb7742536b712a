using System.Numerics;
using Fieldwright.Series.Layers;
using Xunit;

namespace Fieldwright.Tests.Series.Layers;

public class WindingTests
{
    [Theory]
    // Distribution sin(nqα/2)/(q sin(nα/2)) and pitch sin(nπy/2) of the machine textbooks; α slot angle, y coil pitch over pole pitch. Harmonics of a pole pair.
    [InlineData(1, 6, 1)]
    [InlineData(2, 6, 1)]
    [InlineData(2, 5, 1)]
    [InlineData(3, 7, 1)]
    [InlineData(2, 5, 5)]
    [InlineData(2, 5, 7)]
    [InlineData(3, 8, 11)]
    public void Slotted_Harmonic_HasTheTextbookWindingFactor(int q, int pitchSlots, int harmonic)
    {
        var perPole = 3 * q;
        var pitch = q == 1 ? 3 : pitchSlots;
        var winding = Winding.Slotted(3, q, 2, 0.01, 0, 10, pitch);
        var alpha = Math.PI / perPole;
        var factor = Math.Sin(harmonic * q * alpha / 2) / (q * Math.Sin(harmonic * alpha / 2)) * Math.Sin(harmonic * Math.PI * pitch / (2.0 * perPole));
        // Sides of one phase and pole pair: 4q·10 turns in all, of the period of a pole pair.
        var expected = 4 * q * 10 * Math.Abs(factor) / winding.Period;
        Assert.Equal(expected, Complex.Abs(winding.Spectrum(0, harmonic)), 1e-10);
        Assert.Equal(expected, Complex.Abs(winding.Spectrum(2, harmonic)), 1e-10);
    }

    [Fact]
    public void Slotted_BalancedCurrents_HaveOnlyTheHarmonicsThatTravelRightly()
    {
        // Three phases: +1, −5, +7, −11, +13 … and none of the triplen or even ones.
        var winding = Winding.Slotted(3, 2, 2, 0.01, 0.005, 10);
        var currents = winding.BalancedCurrents(1);
        for (var n = -13; n <= 13; n++)
        {
            var sum = Enumerable.Range(0, 3).Aggregate(Complex.Zero, (s, p) => s + currents[p] * winding.Spectrum(p, n));
            if (n is 1 or -5 or 7 or -11 or 13)
                Assert.True(Complex.Abs(sum) > 1);
            else
                Assert.True(Complex.Abs(sum) < 1e-9, FormattableString.Invariant($"harmonic {n}: {sum}"));
        }
    }

    [Fact]
    public void Spectrum_SummedBack_IsTheCurrentSheet()
    {
        var winding = new Winding([new(0.05, 0.02, 0, 3), new(0.13, 0.03, 0, -3)], 0.2);
        double At(double x)
        {
            double sum = winding.Spectrum(0, 0).Real;
            for (var n = 1; n <= 20000; n++)
                sum += 2 * (winding.Spectrum(0, n) * Complex.FromPolarCoordinates(1, -2 * Math.PI * n / 0.2 * x)).Real;
            return sum;
        }
        Assert.Equal(3 / 0.02, At(0.052), 0.5); // Fourier sum of a step, 20,000 terms
        Assert.Equal(-3 / 0.03, At(0.12), 0.5);
        Assert.Equal(0, At(0.09), 0.5);
    }

    [Fact]
    public void ReversedCoil_WeakensTheFundamentalAndWakesOthers()
    {
        var winding = Winding.Slotted(3, 2, 4, 0.01, 0.005, 10);
        var wrong = winding.WithReversedCoils(0);
        Assert.True(Complex.Abs(wrong.Spectrum(0, 2)) < Complex.Abs(winding.Spectrum(0, 2)));
        Assert.True(Complex.Abs(wrong.Spectrum(0, 1)) > 10 * Complex.Abs(winding.Spectrum(0, 1)));
    }

    [Fact]
    public void SingleLayer_Slotted_HoldsOneSideASlot()
    {
        var winding = Winding.Slotted(3, 2, 2, 0.01, 0.005, 10, doubleLayer: false);
        Assert.Equal(12, winding.Sides.Count);
        Assert.Equal(0, winding.Sides.Sum(s => s.Turns), 1e-12);
    }

    [Fact]
    public void TwoPhase_Slotted_TravelsForward()
    {
        var winding = Winding.Slotted(2, 1, 2, 0.01, 0.005, 10);
        var currents = winding.BalancedCurrents(1);
        Complex Sum(int n) => currents[0] * winding.Spectrum(0, n) + currents[1] * winding.Spectrum(1, n);
        Assert.True(Complex.Abs(Sum(1)) > 1);
        Assert.True(Complex.Abs(Sum(-1)) < 1e-9);
    }

    [Fact]
    public void FiniteWinding_LongerThanItsPeriod_IsRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Winding.Slotted(3, 1, 3, 0.02, 0.01, 10, period: 0.2));
}
