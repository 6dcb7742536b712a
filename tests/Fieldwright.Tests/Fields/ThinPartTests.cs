using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Thin parts cost triangles by the length of their outline over their thickness; what is out of all proportion is refused before it is meshed.</summary>
public class ThinPartTests
{
    [Theory]
    [InlineData(100)]
    [InlineData(1000)]
    public void ExpectedTriangles_OfAStrip_AreNearThoseMade(double slenderness)
    {
        var model = Strip(0.05, 0.05 / slenderness);
        var made = MeshedModel.Create(model, 1, TestContext.Current.CancellationToken).Space.ElementCount;
        Assert.InRange(made / new InitialSizes(model, 1).Expected, 0.6, 1.7);
    }

    [Fact]
    public void Foil_LongBeyondProportion_IsRefusedWithTheTrianglesItWouldTake()
    {
        var refusal = Assert.Throws<TooThinForTrianglesException>(() => MeshedModel.Create(Strip(0.6, 5e-6), 1, TestContext.Current.CancellationToken));
        Assert.Equal(1, refusal.Region);
        Assert.True(refusal.Triangles > 1e6);
        Assert.Contains("120,00", refusal.Message, StringComparison.Ordinal);
    }

    private static FieldModel Strip(double length, double thickness) => new()
    {
        Symmetry = Symmetry.Long,
        Parts = [Outline.Rectangle(1, 0, 0, length, thickness), Outline.Rectangle(2, 0.1 * length, 0.1 * length, 0.9 * length, 0.3 * length), Outline.Rectangle(3, 0.1 * length, -0.3 * length, 0.9 * length, -0.1 * length)],
        Matter = Solved.Matter((1, new RegionMatter("foil", 3.5e7))),
        Windings = [new FieldWinding("coil", [new(2, 10), new(3, -10)], new ImposedCurrent(1))],
        Frequency = 50,
    };
}
