using Fieldwright.Matter;
using System.Numerics;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Xunit;
using static Fieldwright.Tests.Series.SeriesReference;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Coils;

public class ThickCoilTests
{
    private const double Scale = Permeability / PhysicalConstants.MagneticConstant;

    [Fact]
    public void NagaokaCoefficient_EveryRowOfGroverTable36_AgreesTo2E6()
    {
        foreach (var row in Rows("nagaoka.csv"))
        {
            var ratio = Number(row[0]);
            if (row[1].Length > 0)
                Assert.Equal(Number(row[1]), Solenoid.NagaokaCoefficient(ratio), 2e-6);
            Assert.Equal(Number(row[2]), Solenoid.NagaokaCoefficient(ratio), 1e-9);
        }
    }

    [Fact]
    public void NagaokaCoefficient_VeryLongCoil_TendsToOneWithTheEndTerm()
    {
        // K = 1 − 4/(3πx) + 1/(8x²) + O(x⁻⁴).
        foreach (var x in new[] { 30.0, 1e3, 1e5 })
            Close(1 - 4 / (3 * Math.PI * x) + 1 / (8 * x * x), Solenoid.NagaokaCoefficient(x), 0.1 / (x * x * x * x) + 1e-13);
    }

    [Theory]
    [InlineData(0.050, 339.723e-6, -0.0010)]
    [InlineData(0.100, 201.867e-6, -0.0050)]
    [InlineData(0.020, 582.140e-6, -0.0054)]
    public void Solenoid_WheelerFormula_IsOffByTheKnownShare(double length, double exact, double share)
    {
        Close(exact, Scale * Solenoid.SelfInductance(0.025, length, 100), 1e-6);
        Assert.Equal(share, Solenoid.WheelerInductance(0.025, length, 100) / Solenoid.SelfInductance(0.025, length, 100) - 1, 6e-5);
    }

    [Fact]
    public void SelfInductance_BrooksCoil_AgreesWithTheHandbookConstant()
    {
        // Square section of side c, inner radius c: L = 1.6994e-6·a·N² with a = 1.5c (constant quoted to five digits).
        var coil = new ThickCoil(0.02, 0.04, 0, 0.02, 100);
        Close(1.69937e-6 * 0.03 * 1e4, coil.SelfInductance(), 1e-5);
    }

    [Fact]
    public void SelfInductance_ThinningWinding_TendsToTheSheetLinearly()
    {
        var sheet = Solenoid.SelfInductance(0.05, 0.06, 100);
        double Deviation(double build) => new ThickCoil(0.05 - build / 2, 0.05 + build / 2, 0, 0.06, 100).SelfInductance() / sheet - 1;
        var (d1, d2) = (Deviation(2e-4), Deviation(1e-4));
        Assert.True(Math.Abs(d1) < 0.02);
        Assert.Equal(2, d1 / d2, 0.05);
    }

    public static TheoryData<double, double, double, double> Shapes => new()
    {
        { 0.02, 0.04, 0.02, 1 }, { 0, 0.05, 0.003, 1 }, { 0.09, 0.1, 0.2, 1 }, { 0.1, 0.101, 0.001, 1 }, { 0.001, 0.06, 0.0005, 1 },
    };

    [Theory]
    [MemberData(nameof(Shapes))]
    public void SelfInductance_OfTwoHalves_AddsUp(double inner, double outer, double height, double turns)
    {
        // L = L₁ + L₂ + 2M for a coil cut in two: touching sections, cut either way.
        var whole = new ThickCoil(inner, outer, 0, height, turns).SelfInductance();
        var zCut = 0.37 * height;
        var lower = new ThickCoil(inner, outer, 0, zCut, 0.37 * turns);
        var upper = new ThickCoil(inner, outer, zCut, height, 0.63 * turns);
        Close(whole, lower.SelfInductance() + upper.SelfInductance() + 2 * ThickCoil.MutualInductance(lower, upper), 1e-10);
        var rCut = inner + 0.41 * (outer - inner);
        var inside = new ThickCoil(inner, rCut, 0, height, 0.41 * turns);
        var outside = new ThickCoil(rCut, outer, 0, height, 0.59 * turns);
        Close(whole, inside.SelfInductance() + outside.SelfInductance() + 2 * ThickCoil.MutualInductance(inside, outside), 1e-10);
    }

    [Theory]
    [MemberData(nameof(Shapes))]
    public void SelfInductance_FromTheFieldOfTheWinding_IsTheSame(double inner, double outer, double height, double turns)
    {
        // N·mean of 2πrA over the section: the field route inside the winding against the coupling integral.
        var coil = new ThickCoil(inner, outer, 0, height, turns);
        var rule = GaussRule.WithNodes(40);
        double mean = 0;
        for (var i = 0; i < 40; i++)
            for (var j = 0; j < 40; j++)
            {
                var r = inner + (outer - inner) * rule.Nodes[i];
                mean += rule.Weights[i] * rule.Weights[j] * 2 * Math.PI * r * coil.Field(r, height * rule.Nodes[j]).VectorPotential;
            }
        // A is smooth to its second derivative at the edge of the section only: 40 points leave about 40⁻⁴.
        Close(coil.SelfInductance(), turns * mean, 1e-6);
    }

    [Theory]
    [InlineData(0.03, 0.01)]
    [InlineData(0.02, 0.0)]
    [InlineData(0.0399, 0.0001)]
    [InlineData(0.0401, 0.0199)]
    [InlineData(0.01, 0.0201)]
    [InlineData(0.03, 0.0199)]
    [InlineData(0.0, 0.01)]
    [InlineData(1e-4, 0.018)]
    [InlineData(0.03, -0.005)]
    public void Field_InsideAndNearTheWinding_ObeysAmpereAndTheCurlOfItsPotential(double r, double z)
    {
        var coil = new ThickCoil(0.02, 0.04, 0, 0.02, 300);
        const double h = 2e-5;
        if (r >= h)
        {
            // B = curl A by sixth-order differences, kept inside one side of the winding's edge where the second derivatives jump.
            double A(double rr, double zz) => coil.Field(rr, zz).VectorPotential;
            var step = h;
            double Slope(Func<double, double> f) => (45 * (f(step) - f(-step)) - 9 * (f(2 * step) - f(-2 * step)) + f(3 * step) - f(-3 * step)) / (60 * step);
            var field = coil.Field(r, z);
            var size = Math.Abs(field.Axial) + Math.Abs(field.Radial);
            Assert.Equal(-Slope(d => A(r, z + d)), field.Radial, 2e-4 * size);
            Assert.Equal(Slope(d => (r + d) * A(r + d, z)) / r, field.Axial, 2e-4 * size);
        }
        else
        {
            // On the axis: the textbook form of a thick coil.
            double F(double x) => x * Math.Log((0.04 + Math.Sqrt(0.0016 + x * x)) / (0.02 + Math.Sqrt(0.0004 + x * x)));
            Close(PhysicalConstants.MagneticConstant * 300 / (2 * 0.0004) * (F(z) - F(z - 0.02)), coil.Field(0, z).Axial, 1e-12);
        }
    }

    [Theory]
    [InlineData(0.03, 0.01)]
    [InlineData(0.0401, 0.0199)]
    [InlineData(0.05, 0.03)]
    [InlineData(0.01, 0.05)]
    [InlineData(0.041, 0.01)]
    [InlineData(0.0005, 0.025)]
    public void Field_NearTheWinding_AgreesWithSumsOverItsPieces(double r, double z)
    {
        // The same point seen from 400 sub-coils: other panels, other far rules, other roundings.
        var coil = new ThickCoil(0.02, 0.04, 0, 0.02, 1);
        var sum = default(AxialField);
        const int n = 20;
        for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
                sum += SectionField.At(new Section(0.02 + 0.001 * i, 0.021 + 0.001 * i, 0.001 * j, 0.001 * (j + 1)), r, z);
        var field = coil.Field(r, z);
        var size = Math.Abs(field.Axial) + Math.Abs(field.Radial);
        Close(sum.VectorPotential / (n * n), field.VectorPotential, 1e-10);
        Assert.Equal(sum.Radial / (n * n), field.Radial, 1e-9 * size);
        Assert.Equal(sum.Axial / (n * n), field.Axial, 1e-9 * size);
    }

    [Fact]
    public void Force_IsTheSlopeOfTheMutualInductance()
    {
        var first = new ThickCoil(0.02, 0.04, 0, 0.02, 300);
        foreach (var height in new[] { 0.021, 0.025, 0.06, 0.5 })
        {
            var second = new ThickCoil(0.03, 0.05, height, height + 0.01, 200);
            double M(double d) => ThickCoil.MutualInductance(first, second.Moved(new Vector(0, 0, d)));
            var h = 1e-4;
            var slope = (45 * (M(h) - M(-h)) - 9 * (M(2 * h) - M(-2 * h)) + M(3 * h) - M(-3 * h)) / (60 * h);
            // Sixth-order difference: h⁶ over the seventh power of the distance, plus rounding of M over h.
            Close(slope * 6, ThickCoil.Force(first, second, 2, 3).Z, 1e-6);
        }
    }

    [Fact]
    public void MutualInductance_TiltedAndMovedTogether_DoesNotChange()
    {
        var axis = new Vector(0.3, -0.5, 0.8).Unit();
        var first = new ThickCoil(0.02, 0.03, -0.01, 0.01, 100);
        var second = new ThickCoil(0.01, 0.04, 0.02, 0.03, -50);
        var expected = ThickCoil.MutualInductance(first, second);
        var origin = new Vector(1, 2, 3);
        var turned = ThickCoil.MutualInductance(new ThickCoil(0.02, 0.03, -0.01, 0.01, 100, origin, axis),
            new ThickCoil(0.01, 0.04, -0.03, -0.02, 50, origin, -axis));
        Assert.True(expected < 0);
        Close(expected, turned, 1e-12);
    }

    [Fact]
    public void CoilPair_OnOneAxis_AgreesWithTheCoaxialIntegral()
    {
        var first = new ThickCoil(0.02, 0.03, -0.01, 0.01, 100);
        var second = new ThickCoil(0.01, 0.04, 0.02, 0.03, 50);
        var pair = new CoilPair(first, second);
        Close(ThickCoil.MutualInductance(first, second), pair.MutualInductance().Value, 1e-10);
        Close(ThickCoil.Force(first, second, 1, 1).Z, pair.Force().Value.Z, 1e-10);
    }

    [Fact]
    public void CoilPair_OffAxisAndTilted_IsReciprocalAndObeysNewton()
    {
        var first = new ThickCoil(0.02, 0.03, -0.01, 0.01, 100, new Vector(0.01, 0, 0), new Vector(0.2, 0.1, 1));
        var second = new ThickCoil(0.015, 0.03, -0.005, 0.005, 50, new Vector(0.02, 0.03, 0.06), new Vector(-0.3, 0.5, 1));
        CoilPair there = new(first, second), back = new(second, first);
        Close(there.MutualInductance().Value, back.MutualInductance().Value, 1e-9);
        var (f, g) = (there.Force().Value, back.Force().Value);
        Assert.True((f + g).Length < 1e-8 * f.Length);
        // Torques about one point are opposite too.
        var (t, u) = (there.Torque(default).Value, back.Torque(default).Value);
        Assert.True((t + u).Length < 1e-8 * t.Length);
        // Force is the gradient of M.
        double M(Vector d) => new CoilPair(first, second.Moved(d)).MutualInductance().Value;
        const double h = 2e-4;
        double Slope(Vector e) => (8 * (M(h * e) - M(-h * e)) - M(2 * h * e) + M(-2 * h * e)) / (12 * h);
        // Fourth order: (h/distance)⁴ = 1e-9, and M's own 1e-10 over h.
        var gradient = new Vector(Slope(new(1, 0, 0)), Slope(new(0, 1, 0)), Slope(new(0, 0, 1)));
        Assert.True((gradient - f).Length < 1e-6 * f.Length);
    }

    [Fact]
    public void FluxDensity_ComplexCurrent_IsTheRealFieldTimesThePhasor()
    {
        var coil = new ThickCoil(0.02, 0.03, -0.01, 0.01, 100, new Vector(0.01, 0, 0), new Vector(0, 1, 0));
        var point = new Vector(0.03, 0.02, -0.01);
        var b = coil.FluxDensity(point, new Complex(0, 2));
        Assert.Equal(coil.FluxDensity(point, 2.0), b.Imaginary);
        Assert.Equal(default, b.Real);
    }

    [Theory]
    [InlineData(0.04, 0.02, 0, 1, 1)]
    [InlineData(0.02, 0.04, 1, 0, 1)]
    [InlineData(0.02, 0.04, 0, 1, 0)]
    [InlineData(-1, 0.04, 0, 1, 1)]
    [InlineData(0.02, 0.04, 0, double.NaN, 1)]
    public void Constructor_ShapesThatAreNone_AreRefused(double inner, double outer, double from, double to, double turns) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new ThickCoil(inner, outer, from, to, turns));
}
