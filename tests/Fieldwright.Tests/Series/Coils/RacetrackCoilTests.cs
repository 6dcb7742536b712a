using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Currents;
using Xunit;

namespace Fieldwright.Tests.Series.Coils;

public class RacetrackCoilTests
{
    // A square whose corners meet is a round coil, for which another method gives nine digits and more.
    private static readonly RacetrackCoil Square = new(0.04, 0.04, 0.02, 0.01, 0.03, 100);
    private static readonly ThickCoil Round = new(0.02, 0.03, -0.015, 0.015, 100);

    [Theory]
    [InlineData(0, 0, 0, 1e-8)]
    [InlineData(0.01, 0.02, 0.05, 1e-8)]
    [InlineData(0.031, 0, 0.001, 1e-8)]
    [InlineData(0.2, -0.1, 0.3, 1e-8)]
    [InlineData(0.025, 0, 0.0031, 1e-6)] // inside the winding
    [InlineData(0.012, -0.021, 0.0142, 1e-6)]
    public void Field_CornersThatMeet_IsThatOfARoundCoil(double x, double y, double z, double tolerance)
    {
        var point = new Vector(x, y, z);
        var (b, a) = Round.FieldPerAmpere(point);
        Assert.True((Square.FluxDensity(point) - b).Length < tolerance * b.Length, $"B {Square.FluxDensity(point)} against {b}");
        Assert.True((Square.VectorPotential(point) - a).Length <= tolerance * Math.Max(a.Length, 1e-3 * Square.VectorPotential(new Vector(0.025, 0, 0)).Length), "A");
    }

    [Fact]
    public void SelfInductance_CornersThatMeet_IsThatOfARoundCoil()
    {
        var found = Square.SelfInductance();
        Assert.Equal(Round.SelfInductance(), found.Value, Math.Max(found.Error, 1e-6 * found.Value));
        Assert.True(found.Error < 1e-4 * found.Value);
    }

    /// <summary>μ₀I·2√2/(πa) at the middle of a square of wire of side a; here of a section a hundredth of the side, which changes it by its square.</summary>
    [Fact]
    public void Field_ThinSquare_HasTheTextbookValueInTheMiddle()
    {
        const double side = 0.1, thin = 1e-3;
        var square = new RacetrackCoil(side - thin, side - thin, 0, thin, thin, 1);
        Assert.Equal(PhysicalConstants.MagneticConstant * 2 * Math.Sqrt(2) / (Math.PI * side), square.FluxDensity(default).Z, 2e-4 * PhysicalConstants.MagneticConstant / side);
    }

    [Fact]
    public void MutualInductance_OfTwoAttitudes_IsTheSameBothWays()
    {
        var tilted = new RacetrackCoil(0.05, 0.02, 0.004, 0.005, 0.01, 40, new Vector(0.01, 0.02, 0.06), new Vector(0.3, -0.2, 1), Vector.Cross(new Vector(0.3, -0.2, 1), new Vector(0, 1, 0)));
        double there = new CoilPair(Round, tilted).MutualInductance().Value, back = new CoilPair(tilted, Round).MutualInductance().Value;
        Assert.Equal(there, back, 1e-7 * Math.Abs(there));
    }

    [Fact]
    public void Force_IsTheSlopeOfTheMutualInductance()
    {
        RacetrackCoil At(double z) => new(0.05, 0.02, 0.004, 0.005, 0.01, 40, new Vector(0.01, 0.005, z));
        const double h = 1e-3;
        double M(double z) => new CoilPair(Round, At(z)).MutualInductance().Value;
        double slope = (8 * (M(0.05 + h) - M(0.05 - h)) - M(0.05 + 2 * h) + M(0.05 - 2 * h)) / (12 * h);
        Assert.Equal(slope, Loads.Between(Round, At(0.05)).Force.Z, 1e-5 * Math.Abs(slope));
    }

    [Fact]
    public void Turns_RoundTheAxis_CarryNoNetCurrent()
    {
        var pieces = new List<CurrentElement>();
        Square.AddElements(1, pieces);
        var sum = pieces.Aggregate(default(Vector), (s, p) => s + p.Moment);
        Assert.True(sum.Length < 1e-12 * pieces.Sum(p => p.Moment.Length));
        // Half the sum of r × I dl is the moment: turns times the mean area of the round coil's turns.
        var moment = pieces.Aggregate(default(Vector), (s, p) => s + 0.5 * Vector.Cross(p.Point, p.Moment)).Z;
        Assert.Equal(100 * Math.PI / 3 * (Math.Pow(0.03, 3) - Math.Pow(0.02, 3)) / 0.01, moment, 1e-9 * moment);
    }
}
