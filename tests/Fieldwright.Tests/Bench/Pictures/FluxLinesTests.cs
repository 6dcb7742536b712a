using Fieldwright.Bench.Pictures;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Bench.Pictures;

public class FluxLinesTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(1.1)]
    public void Line_OfARoundHarmonicField_KeepsItsFlux(double angle)
    {
        var field = (HarmonicField)Drawn.Plate.Field;
        AssertKeepsFlux(Drawn.Plate, angle, (x, y) => (field.FluxFunction(x, y) * System.Numerics.Complex.FromPolarCoordinates(1, angle)).Real);
    }

    [Fact]
    public void Line_OfALongStaticField_KeepsItsFlux()
    {
        var field = (StaticField)Drawn.Ring.Field;
        AssertKeepsFlux(Drawn.Ring, 0, field.FluxFunction);
    }

    [Fact]
    public void Lines_Traced_ReachTheCornersOfTheViewBeyondTheMesh()
    {
        var drawn = Drawn.Plate;
        var view = drawn.Stage.View;
        double rim = drawn.Field.Mesh.BoundaryEdges.Max(e => drawn.Field.Mesh.NodeAt(e.Middle).X);
        Assert.True(view.Right > rim || double.Hypot(view.Right, 0.5 * (view.Top - view.Bottom)) > rim, "The view must reach beyond the rim for this test to mean anything.");
        var plane = FieldPlane.Of(drawn.Field, 0, view, 0.002);
        foreach (var corner in (Point[])[new(view.Right, view.Top), new(view.Right, view.Bottom), new(0, view.Top)])
            Assert.Contains(Enumerable.Range(0, plane.Regions.Count), t => Holds(plane, t, corner));
    }

    [Fact]
    public void Plane_DensityOfItsTriangles_IsThatOfTheField()
    {
        var drawn = Drawn.Plate;
        var field = (HarmonicField)drawn.Field;
        var plane = FieldPlane.Of(field, 0.7, drawn.Stage.View, 0.002);
        double largest = plane.Density.Max(b => b.Magnitude);
        for (int t = 0; t < plane.Regions.Count; t += 37)
        {
            var middle = 1.0 / 3 * (plane.Points[plane.Triangles[3 * t]] + plane.Points[plane.Triangles[3 * t + 1]] + plane.Points[plane.Triangles[3 * t + 2]]);
            var b = field.FluxDensity(middle.X, middle.Y).At(0.7);
            double x = (plane.Density[3 * t].X + plane.Density[3 * t + 1].X + plane.Density[3 * t + 2].X) / 3, y = (plane.Density[3 * t].Y + plane.Density[3 * t + 1].Y + plane.Density[3 * t + 2].Y) / 3;
            // B is linear within a quadratic triangle up to the factor r, so the mean of the corners is close to the middle.
            Assert.True(double.Hypot(b.X - x, b.Y - y) < 0.03 * largest, $"({middle.X}, {middle.Y}): {b} against ({x}, {y})");
        }
    }

    [Fact]
    public void Strongest_Found_BeatsEveryOtherInstant()
    {
        var field = (HarmonicField)Drawn.Plate.Field;
        double At(double angle) => field.NodalFluxFunction().Sum(p => Math.Pow((p * System.Numerics.Complex.FromPolarCoordinates(1, angle)).Real, 2));
        double best = At(Instants.Strongest(field));
        for (int k = 0; k < 36; k++)
            Assert.True(At(k * Math.PI / 18) <= best * (1 + 1e-5));
    }

    [Theory]
    [InlineData(0.9, 1)]
    [InlineData(2.4, 2)]
    [InlineData(4.3e-5, 5e-5)]
    [InlineData(88, 100)]
    public void RoundStep_Chosen_IsTheNearestRoundFigure(double about, double expected) => Assert.Equal(expected, FluxLines.RoundStep(about), 1e-9 * expected);

    private static void AssertKeepsFlux(Drawn drawn, double angle, Func<double, double, double> flux)
    {
        var plane = FieldPlane.Of(drawn.Field, angle, drawn.Stage.View, 0.0015);
        double step = FluxLines.RoundStep(plane.Flux.Max(Math.Abs) / 12);
        var lines = FluxLines.Of(plane, step, 0.5, skipsZero: false);
        Assert.InRange(lines.Count, 6, 200);
        foreach (var line in lines)
        {
            Assert.Equal(0, Math.IEEERemainder(line.Level / step - 0.5, 1), 1e-9);
            foreach (var point in line.Points)
                Assert.True(Math.Abs(flux(point.X, point.Y) - line.Level) < 0.04 * step, $"{flux(point.X, point.Y)} is not {line.Level} at {point}");
        }
    }

    private static bool Holds(FieldPlane plane, int t, Point p)
    {
        double Side(int i, int j)
        {
            var (a, b) = (plane.Points[plane.Triangles[3 * t + i]], plane.Points[plane.Triangles[3 * t + j]]);
            return (b.X - a.X) * (p.Y - a.Y) - (b.Y - a.Y) * (p.X - a.X);
        }

        double s = Side(0, 1), u = Side(1, 2), v = Side(2, 0);
        return (s >= -1e-12 && u >= -1e-12 && v >= -1e-12) || (s <= 1e-12 && u <= 1e-12 && v <= 1e-12);
    }
}
