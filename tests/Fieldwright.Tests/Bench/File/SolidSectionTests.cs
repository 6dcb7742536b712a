using Fieldwright.Bench.File;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

public class SolidSectionTests
{
    private static readonly SolidSection Square = Solid(Outline.Rectangle(0, 0, 0, 0.02, 0.02));

    [Fact]
    public void Overlap_OfBodiesThatShareMatter_IsFound()
    {
        Assert.NotNull(Square.Overlap(Solid(Outline.Rectangle(0, 0.01, 0.01, 0.03, 0.03))));
        Assert.NotNull(Square.Overlap(Square));
        Assert.NotNull(Square.Overlap(Solid(Outline.Circle(0, new Point(0.01, 0.01), 0.001))));
        Assert.NotNull(Solid(Outline.Circle(0, new Point(0.01, 0.01), 0.001)).Overlap(Square));
        Assert.NotNull(Square.Overlap(Solid(Outline.Circle(0, new Point(0.03, 0.01), 0.0101))));
        // A cross of two thin bars, no corner of either inside the other.
        Assert.NotNull(Solid(Outline.Rectangle(0, -0.1, 0, 0.1, 15e-6)).Overlap(Solid(Outline.Rectangle(0, 0, -0.1, 15e-6, 0.1))));
    }

    [Fact]
    public void Overlap_OfBodiesThatTouch_IsNone()
    {
        Assert.Null(Square.Overlap(Solid(Outline.Rectangle(0, 0.02, 0, 0.03, 0.02))));
        Assert.Null(Square.Overlap(Solid(Outline.Rectangle(0, 0.02, 0.005, 0.03, 0.5))));
        Assert.Null(Square.Overlap(Solid(Outline.Circle(0, new Point(0.03, 0.01), 0.01))));
        Assert.Null(Square.Overlap(Solid(Outline.Rectangle(0, 0.3, 0.3, 0.4, 0.4))));
        // A coil that hugs a round limb: coincident arcs.
        var centre = new Point(0.1, 0.1);
        Assert.Null(Solid(Outline.AnnulusSector(0, centre, 0.04, 0.065, 10, 340)).Overlap(Solid(Outline.AnnulusSector(0, centre, 0.065, 0.07, 60, 60))));
    }

    [Fact]
    public void Overlap_WithWhatLiesInAHollow_IsNone()
    {
        var centre = new Point(0, 0);
        var tube = new SolidSection([Outline.Circle(0, centre, 0.03)], [Outline.Circle(0, centre, 0.02)]);
        Assert.Null(tube.Overlap(Solid(Outline.Circle(0, centre, 0.02))));
        Assert.NotNull(tube.Overlap(Solid(Outline.Circle(0, centre, 0.021))));
        Assert.NotNull(tube.Overlap(Solid(Outline.Circle(0, centre, 0.05))));
    }

    [Fact]
    public void Overlap_OfRectanglesAtRandom_AgreesWithTheirArea()
    {
        var random = new Random(3);
        int overlapping = 0;
        for (int i = 0; i < 2000; i++)
        {
            double Next() => Math.Round(random.NextDouble() * 20) * 1e-3;
            double x = Next(), y = Next(), w = 1e-3 + Next(), h = 1e-3 + Next(), u = Next(), v = Next(), s = 1e-3 + Next(), t = 1e-3 + Next();
            double across = Math.Min(x + w, u + s) - Math.Max(x, u), up = Math.Min(y + h, v + t) - Math.Max(y, v);
            bool expected = across > 1e-8 && up > 1e-8;
            overlapping += expected ? 1 : 0;
            Assert.Equal(expected, Solid(Outline.Rectangle(0, x, y, x + w, y + h)).Overlap(Solid(Outline.Rectangle(0, u, v, u + s, v + t))) is not null);
        }

        Assert.InRange(overlapping, 200, 1800);
    }

    private static SolidSection Solid(Outline outline) => new([outline], []);
}
