using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Series.Layers;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>One pole pair of a three-phase track with a moving sheet: periodic edges against the layered series, one pole with the sign turned against the pair.</summary>
public class RepeatingEdgesTests
{
    private const double Wavelength = 0.12, Coils = 0.010, Gap = 0.005, Sheet = 0.004, Sigma = 3.5e7, Frequency = 50, Depth = 0.1, Turns = 100, Peak = 10, Speed = 2;

    /// <summary>The layered series is exact for the same stack; 30 harmonics. The field's own error bar covers the rest.</summary>
    [Fact]
    public void PolePair_WithMovingSheet_AgreesWithTheLayeredSeries()
    {
        var winding = new Winding([.. Enumerable.Range(0, 6).Select(k => new CoilSide((k + 0.5) * Wavelength / 6, Wavelength / 6, Phase(k), Turns * Sign(k)))], Wavelength);
        var stack = new TravellingField(StackShape.Flat, [new(double.PositiveInfinity), new(Coils), new(Gap), new(Sheet, Sigma, 1, true), new(double.PositiveInfinity)], [new(winding, 1, true)], Depth, 30);
        var exact = stack.Evaluate([.. Enumerable.Range(0, 3).Select(p => Complex.FromPolarCoordinates(Peak, -p * 2 * Math.PI / 3))], Frequency, Speed);
        var field = Solved.Harmonic(MeshedModel.Create(Track(6), 2));
        Assert.Equal(exact.LossByLayer[3], field.Loss(7), 2e-3 * exact.LossByLayer[3]);
        Assert.Equal(exact.Thrust, field.Force(7).X, 3e-3 * Math.Abs(exact.Thrust));
        Assert.Equal(exact.NormalForce!.Value, field.Force(7).Y, 3e-3 * Math.Abs(exact.NormalForce.Value));
        // what pushes the sheet pushes the coils back
        var coils = field.Force([1, 2, 3, 4, 5, 6]);
        Assert.Equal(-field.Force(7).X, coils.X, 2e-3 * Math.Abs(coils.X));
        Assert.Equal(-field.Force(7).Y, coils.Y, 2e-3 * Math.Abs(coils.Y));
    }

    [Fact]
    public void OnePole_WithItsSignTurned_IsHalfOfThePair()
    {
        var pair = Solved.Harmonic(MeshedModel.Create(Track(6), 2));
        var pole = Solved.Harmonic(MeshedModel.Create(Track(3), 2));
        Assert.Equal(pair.Loss(7), 2 * pole.Loss(7), 2e-3 * pair.Loss(7));
        Assert.Equal(pair.Force(7).X, 2 * pole.Force(7).X, 2e-3 * Math.Abs(pair.Force(7).X));
    }

    [Fact]
    public void RepeatingEdges_PartBeyondThem_IsRefused() =>
        Assert.Throws<ArgumentException>(() => MeshedModel.Create(Track(6) with { Edges = new(0.001, Wavelength) }));

    // Belts 0 to 5 carry +a −c +b −a +c −b, so that the field travels along +x.
    private static int Phase(int belt) => belt % 3 == 0 ? 0 : belt % 3 == 1 ? 2 : 1;

    private static double Sign(int belt) => belt % 2 == 0 ? 1 : -1;

    private static FieldModel Track(int belts)
    {
        double belt = Wavelength / 6, width = belts * belt;
        var sides = Enumerable.Range(0, belts).ToLookup(Phase);
        return new()
        {
            Symmetry = Symmetry.Long,
            Depth = Depth,
            Frequency = Frequency,
            Edges = new(0, width, belts == 3),
            Parts =
            [
                .. Enumerable.Range(0, belts).Select(k => Outline.Rectangle(k + 1, k * belt, -Coils, (k + 1) * belt, 0)),
                Outline.Rectangle(7, 0, Gap, width, Gap + Sheet),
            ],
            Matter = Solved.Matter((7, new RegionMatter("sheet", Sigma))),
            Motion = new Dictionary<int, RigidMotion> { [7] = new(new(Speed, 0)) },
            Windings = [.. Enumerable.Range(0, 3).Select(p => new FieldWinding($"phase {p}", [.. sides[p].Select(k => new WindingSide(k + 1, Turns * Sign(k)))],
                new ImposedCurrent(Complex.FromPolarCoordinates(Peak, -p * 2 * Math.PI / 3))))],
        };
    }
}
