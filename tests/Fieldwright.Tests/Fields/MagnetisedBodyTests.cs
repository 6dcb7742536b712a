using Fieldwright.Fields;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Uniformly magnetised bodies whose fields are exact: a ball has 2/3 of its remanence inside and a dipole outside, a long cylinder 1/2 and
/// a line dipole (Jackson, Classical Electrodynamics, sec. 5.10, from memory; rederived from continuity of B_n and H_t). They test the mapped open space: the rim is at 1.5 radii.</summary>
public class MagnetisedBodyTests
{
    private const double Remanence = 1.2;

    [Fact]
    public void MagnetisedBall_MeanFluxDensityAndEnergy_ConvergeToTwoThirds()
    {
        var coarse = Ball(16);
        var fine = Ball(32);
        double Error(StaticField f) => Math.Abs(f.MeanFluxDensity(1).Y - (2.0 / 3 * Remanence));
        Assert.InRange(Solved.Rate(Error(coarse), Error(fine)), 3.5, 4.6);
        Assert.True(Error(fine) < 1e-4 * Remanence);
        // ½∫μ0H² over all space, H = −Br/(3μ0) inside and the dipole outside: V·Br²/(6μ0)
        var energy = 4.0 / 3 * Math.PI * Remanence * Remanence / (6 * PhysicalConstants.MagneticConstant);
        Assert.Equal(1, fine.Energy / energy, 3);
    }

    [Theory]
    [InlineData(0.2, 1.3)]
    [InlineData(1.6, 0.4)]
    [InlineData(0.3, 3)]
    [InlineData(20, -50)]
    public void MagnetisedBall_InsideAndFarBeyondTheRim_IsADipole(double r, double z)
    {
        var field = Ball(32);
        var rho = double.Hypot(r, z);
        // B = (Br/3)(a/ρ)³ (3 cosθ ρ̂ − ẑ)
        var scale = Remanence / 3 / Math.Pow(rho, 3);
        var b = field.FluxDensity(r, z);
        var tolerance = Pointwise(rho, 1.0 / 8) * scale;
        Assert.InRange(Math.Abs(b.X - (scale * 3 * z * r / (rho * rho))), 0, tolerance);
        Assert.InRange(Math.Abs(b.Y - (scale * ((3 * z * z / (rho * rho)) - 1))), 0, tolerance);
        Assert.InRange(field.FluxFunction(r, z) / (2 * Math.PI * r * scale * r), 0.999, 1.001);
    }

    [Theory]
    [InlineData(1.2, 0.4)]
    [InlineData(-3, 5)]
    [InlineData(0.5, -80)]
    public void MagnetisedCylinder_InsideAndFarBeyondTheRim_IsALineDipole(double x, double y)
    {
        var space = PolarMesh.Build(Symmetry.Long, [.. PolarMesh.Steps(0, 1, 6), .. PolarMesh.Steps(1, 1.5, 3)], 48, (ring, _) => ring < 6 ? 1 : 0);
        var field = Solved.Static(Magnet(Symmetry.Long), space);
        Assert.InRange(field.MeanFluxDensity(1).Y / (0.5 * Remanence), 0.9999, 1.0001);
        var rho2 = (x * x) + (y * y);
        var scale = 0.5 * Remanence / rho2;
        var b = field.FluxDensity(x, y);
        var tolerance = Pointwise(Math.Sqrt(rho2), 1.0 / 6) * scale;
        Assert.InRange(Math.Abs(b.X - (scale * 2 * x * y / rho2)), 0, tolerance);
        Assert.InRange(Math.Abs(b.Y - (scale * ((y * y) - (x * x)) / rho2)), 0, tolerance);
    }

    /// <summary>The gradient of a quadratic interpolant of ρ⁻² is off by up to h²/12 of a third derivative 24ρ⁻⁵ at a point, so 2(h/ρ)² of the field at
    /// the worst place; beyond the rim a dipole is a linear function of the image and only the error of its moment is left.</summary>
    private static double Pointwise(double rho, double h) => rho < 1.5 ? 2 * h * h / (rho * rho) : 1e-3;

    private static StaticField Ball(int sectors) => Solved.Static(Magnet(Symmetry.Round), PolarMesh.Build(
        Symmetry.Round, [.. PolarMesh.Steps(0, 1, sectors / 4), .. PolarMesh.Steps(1, 1.5, sectors / 8)], sectors, (ring, _) => ring < sectors / 4 ? 1 : 0));

    private static FieldModel Magnet(Symmetry symmetry) => new()
    {
        Symmetry = symmetry,
        Parts = PolarMesh.Outlines(1),
        Matter = Solved.Matter((1, new RegionMatter("magnet") { Remanence = new(0, Remanence) })),
    };
}
