using Fieldwright.Matter;
using Fieldwright.Series.Coils;
using Xunit;

namespace Fieldwright.Tests.Series.Coils;

public class LimbCoilTests
{
    /// <summary>A coil all round the ring is a toroid: L = μ₀N²h/2π·ln(b/a), thin build and no clearance; the winding's own thickness adds a few parts in a thousand of the section.</summary>
    [Fact]
    public void SelfInductance_AllRound_IsThatOfAToroid()
    {
        var coil = new LimbCoil(0.04, 0.065, 0.03, 0, 2e-4, 0, 2 * Math.PI, 500);
        double toroid = PhysicalConstants.MagneticConstant * 500 * 500 * 0.03 / (2 * Math.PI) * Math.Log(0.065 / 0.04);
        // Thickness 2·2e-4·⅓ of each width against 25 and 30 mm: about 1 %.
        Assert.Equal(toroid, coil.SelfInductance().Value, 0.02 * toroid + coil.SelfInductance().Error);
    }

    /// <summary>On a ring of great radius the coil is straight: a racetrack coil of square corners round the same limb.</summary>
    [Fact]
    public void SelfInductance_OnAGreatRing_IsThatOfAStraightCoil()
    {
        const double radius = 5;
        var coil = new LimbCoil(radius - 0.0125, radius + 0.0125, 0.03, 0, 0.004, 0, 0.06 / radius, 200);
        var straight = new RacetrackCoil(0.03, 0.025, 0, 0.004, 0.06, 200).SelfInductance();
        var found = coil.SelfInductance();
        // Square corners against rounded ones: at most the corners' share of the area, (4 − π)·b²/3 of 30 × 25 mm, 0.6 %.
        Assert.InRange(found.Value, straight.Value * 0.998 - found.Error, straight.Value * 1.01 + found.Error);
        Assert.True(found.Error < 0.01 * found.Value);
    }

    [Fact]
    public void MutualInductance_OfTwoHalves_MakesUpTheWhole()
    {
        LimbCoil Coil(double centre, double angle, double turns) => new(0.04, 0.065, 0.03, 0.0015, 0.006, centre, angle, turns);
        LimbCoil whole = Coil(0, 1.2, 200), left = Coil(-0.35, 0.5, 200 * 0.5 / 1.2), right = Coil(0.35, 0.5, 200 * 0.5 / 1.2), middle = Coil(0, 0.2, 200 * 0.2 / 1.2);
        // L of all = ΣL + 2ΣM; the pieces that touch are near, so their sums settle less well.
        double sum = left.SelfInductance().Value + right.SelfInductance().Value + middle.SelfInductance().Value
            + 2 * (LimbCoil.MutualInductance(left, right).Value + LimbCoil.MutualInductance(left, middle).Value + LimbCoil.MutualInductance(right, middle).Value);
        Assert.Equal(whole.SelfInductance().Value, sum, 5e-3 * sum);
    }
}
