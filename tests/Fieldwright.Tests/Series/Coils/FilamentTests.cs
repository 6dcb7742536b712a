using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Xunit;
using static Fieldwright.Tests.Series.SeriesReference;

namespace Fieldwright.Tests.Series.Coils;

public class FilamentTests
{
    // The table was computed with μ₀ = 4π·10⁻⁷.
    private const double Scale = Permeability / PhysicalConstants.MagneticConstant;

    [Fact]
    public void MutualInductance_LoopsOfMaxwell701_AgreeToTheDigitsPrinted()
    {
        foreach (var row in Rows("mutual-loops.csv"))
        {
            double a = Number(row[0]), b = Number(row[1]), z = Number(row[2]);
            Close(Number(row[3]), Scale * Filament.MutualInductance(a, b, z), 1e-11);
            if (z != 0)
                // The column holds to 5e-9 only: its first row differs from the elliptic form evaluated with 30 digits (next check).
                Close(Number(row[4]), Scale * Filament.MutualInductanceGradient(a, b, z), 1e-8);
        }
    }

    [Fact]
    public void MutualInductanceGradient_CloseLoops_AgreesWithThirtyDigitArithmetic() =>
        Close(-3.13317824833201386871694968834e-5, Scale * Filament.MutualInductanceGradient(0.25, 0.25, 0.01), 1e-13);

    [Fact]
    public void MutualInductance_FarApart_FollowsTheDipoleLawWithItsNextTerm()
    {
        // M = μ₀πa²b²/(2z³)·(1 − (3/2)(a²+b²)/z² + O(z⁻⁴)), from the expansion on the axis.
        double a = 0.01, b = 0.02;
        foreach (var z in new[] { 20.0, 200.0, 2000.0 })
        {
            var expected = PhysicalConstants.MagneticConstant * Math.PI * a * a * b * b / (2 * z * z * z) * (1 - 1.5 * (a * a + b * b) / (z * z));
            Close(expected, Filament.MutualInductance(a, b, z), 1e-11);
            Close(-3 * expected / z, Filament.MutualInductanceGradient(a, b, z), 3 * (a * a + b * b) / (z * z) + 1e-12);
        }
    }

    [Theory]
    [InlineData(0.3, 0.05)]
    [InlineData(0.08, 0.0)]
    [InlineData(0.1, 0.004)]
    [InlineData(0.101, 0.001)]
    [InlineData(1e-5, 0.03)]
    [InlineData(5, 8)]
    public void FieldOfLoop_AnyPoint_AgreesWithBiotSavart(double r, double z)
    {
        const double a = 0.1;
        // Trapezoid round the loop: exponential in the count over the distance to the wire.
        var near = Math.Sqrt((a - r) * (a - r) + z * z) / a;
        var n = (int)(400 / Math.Min(near, 1));
        double potential = 0, radial = 0, axial = 0;
        for (var i = 0; i < n; i++)
        {
            var cos = Math.Cos(2 * Math.PI * (i + 0.5) / n);
            var d = Math.Sqrt(a * a + r * r - 2 * a * r * cos + z * z);
            potential += cos / d;
            radial += z * cos / (d * d * d);
            axial += (a - r * cos) / (d * d * d);
        }
        var scale = PhysicalConstants.MagneticConstant * a / (2 * n);
        var field = Filament.FieldOfLoop(a, r, z);
        // The sums above cancel far away, by (distance/a)² in B_z and by the angle's mean in A.
        var rounding = 1e-15 * Math.Max(1, (r * r + z * z) / (a * a)) * Math.Max(1, a / r) * 300;
        Close(scale * potential, field.VectorPotential, 1e-12 + rounding);
        if (z != 0)
            Close(scale * radial, field.Radial, 1e-12 + rounding);
        Close(scale * axial, field.Axial, 1e-12 + rounding);
    }

    [Fact]
    public void FieldOfLoop_OnTheAxis_IsTheTextbookForm()
    {
        var field = Filament.FieldOfLoop(0.1, 0, 0.05);
        Close(PhysicalConstants.MagneticConstant * 0.01 / (2 * Math.Pow(0.01 + 0.0025, 1.5)), field.Axial, 1e-14);
        Assert.Equal(0, field.Radial);
        Assert.Equal(0, field.VectorPotential);
    }

    [Fact]
    public void SelfInductance_RoundWire_AgreesWithTheWorkedValue()
    {
        // R = 100 mm, a = 1 mm, uniform current: 0.62010 μH, printed to five digits.
        Close(0.62010e-6, Filament.SelfInductance(0.1, 1e-3), 1e-5);
    }

    [Fact]
    public void MutualInductance_CoincidingLoops_IsRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Filament.MutualInductance(0.1, 0.1, 0));

    [Theory]
    [InlineData(0, 1, 1)]
    [InlineData(1, double.NaN, 1)]
    [InlineData(1, 1, double.PositiveInfinity)]
    public void MutualInductance_SizesOutOfRange_AreRefused(double a, double b, double z) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Filament.MutualInductance(a, b, z));

    [Fact]
    public void StraightPieces_LongLineAndManyCornered_AreTheKnownFields()
    {
        // μ₀/2πr beside a long line, to (r/length)²; μ₀/2r in the middle of a ring, to the flatness of its corners.
        var beside = StraightPieces.FluxDensity([new Vector(0, 0, -50), new Vector(0, 0, 50)], new Vector(0.02, 0, 0));
        Assert.Equal(PhysicalConstants.MagneticConstant / (2 * Math.PI * 0.02), beside.Y, 1e-6 * beside.Y);
        Vector[] ring = [.. Enumerable.Range(0, 721).Select(i => new Vector(0.1 * Math.Cos(i * Math.PI / 360), 0.1 * Math.Sin(i * Math.PI / 360), 0))];
        var middle = StraightPieces.FluxDensity(ring, default);
        Assert.Equal(PhysicalConstants.MagneticConstant / 0.2, middle.Z, 2e-5 * middle.Z);
    }
}
