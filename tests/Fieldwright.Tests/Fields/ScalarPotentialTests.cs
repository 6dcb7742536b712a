using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.ScalarPotential;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>
/// −div(μ grad φ) = ρ with ρ made for the bump φ; and bodies and currents whose field is exact. Every element is
/// curved. Quadratic elements: order 2 in the energy norm and 3 in the mean square of φ (Ciarlet 1978, theorem 3.2.2), so order 4 in an energy.
/// </summary>
public class ScalarPotentialTests
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;

    [Theory]
    [InlineData(Symmetry.Long)]
    [InlineData(Symmetry.Round)]
    public void QuadraticElements_ManufacturedPotential_ConvergeAtTheirOrder(Symmetry symmetry)
    {
        var coarse = Errors(symmetry, 12);
        var fine = Errors(symmetry, 24);
        Assert.InRange(Solved.Rate(coarse.Energy, fine.Energy), 1.85, 2.3);
        Assert.InRange(Solved.Rate(coarse.Potential, fine.Potential), 2.8, 3.4);
    }

    /// <summary>H = −Remanence/3μ0 in a ball and /2μ0 in a long cylinder; ∫½μ0H² + Remanence·H over all space is minus the energy V·Remanence²/6μ0 or /4μ0.</summary>
    [Theory]
    [InlineData(Symmetry.Round, 3)]
    [InlineData(Symmetry.Long, 2)]
    public void MagnetisedBody_FieldStrengthAndCoenergy_ConvergeToTheirClosedForm(Symmetry symmetry, int share)
    {
        const double remanence = 1.2;
        ScalarField At(int sectors) => ScalarField.Solve(Magnet(symmetry, remanence, sectors), TestContext.Current.CancellationToken);
        var (coarse, fine) = (At(16), At(32));
        var exact = -(symmetry == Symmetry.Round ? 4.0 / 3 : 1) * Math.PI * remanence * remanence / (2 * share * Mu0);
        Assert.InRange(Solved.Rate(Math.Abs(coarse.Coenergy - exact), Math.Abs(fine.Coenergy - exact)), 3.5, 4.6);
        Assert.Equal(-remanence / (share * Mu0), fine.FieldStrength(0.3, 0.2).Y, 2e-3 * remanence / Mu0);
    }

    /// <summary>H = I·r/(2πa²) in a disc, I/(2πr) between it and its return: Ampère's law. Edge fields alone would leave a curl of order h.</summary>
    [Fact]
    public void SourceField_InCurvedTriangles_CarriesTheCurrentExactly()
    {
        var meshed = Cable(12);
        var source = new SourceTree(meshed).Carry(ScalarField.CurrentDensities(meshed));
        var (space, values) = (meshed.Space, new ElementValues());
        const double step = 1e-5;
        for (var e = 0; e < space.InsideCount; e++)
        {
            // circulation round a small square in the reference triangle, by midpoints, against the current through its image
            const double xi = 0.3, eta = 0.25;
            double Along(double u, double v, double du, double dv)
            {
                values.EvaluateAt(space, e, u, v);
                var (hx, hy) = source.At(e, 0, values, u, v);
                double x = values.X[0], y = values.Y[0];
                values.EvaluateAt(space, e, u + (0.5 * du), v + (0.5 * dv));
                (x, y) = (values.X[0], values.Y[0]);
                values.EvaluateAt(space, e, u - (0.5 * du), v - (0.5 * dv));
                return (hx * (x - values.X[0])) + (hy * (y - values.Y[0]));
            }
            var circulation = Along(xi, eta - (0.5 * step), step, 0) + Along(xi + (0.5 * step), eta, 0, step) - Along(xi, eta + (0.5 * step), step, 0) - Along(xi - (0.5 * step), eta, 0, step);
            values.EvaluateAt(space, e, xi, eta);
            var density = ScalarField.CurrentDensities(meshed)[space.RegionIndex[e]];
            // weight of a point is depth times the area of the image of a unit square
            Assert.Equal(density * values.Weight[0] * step * step, circulation, 1e-4 * 1000 * step * step);
        }
    }

    [Fact]
    public void Cable_FieldStrengthAndCoenergy_FollowAmpere()
    {
        var coarse = ScalarField.Solve(Cable(12), TestContext.Current.CancellationToken);
        var fine = ScalarField.Solve(Cable(24), TestContext.Current.CancellationToken);
        var exact = CableCoenergy();
        Assert.True(coarse.Coenergy > fine.Coenergy && fine.Coenergy > exact * (1 - 1e-6));
        Assert.InRange(Solved.Rate(coarse.Coenergy - exact, fine.Coenergy - exact), 3.2, 4.8);
        // at a point the gradient of a quadratic is off by (h/r)² of the field, h = 0.05 and r = 0.5
        Assert.Equal(1, fine.FieldStrength(0.5, 0).Y / (1000 / (2 * Math.PI * 0.5)), 0.01);
        Assert.Equal(-1, fine.FieldStrength(0, 0.2).X / (1000 * 0.2 / (2 * Math.PI * 0.09)), 0.01);
    }

    /// <summary>½μ0∫H² of 1000 A in a disc of radius 0.3, back in a shell from 0.7 to 0.8; per metre.</summary>
    internal static double CableCoenergy()
    {
        const double a = 0.3, b = 0.7, c = 0.8, current = 1000;
        var shell = (Math.Pow(c, 4) * Math.Log(c / b) / Math.Pow((c * c) - (b * b), 2)) - (((3 * c * c) - (b * b)) / (4 * ((c * c) - (b * b))));
        return Mu0 * current * current / (4 * Math.PI) * (0.25 + Math.Log(b / a) + shell);
    }

    internal static MeshedModel Cable(int sectors)
    {
        var n = sectors / 12;
        double[] radii = [.. PolarMesh.Steps(0, 0.3, 3 * n), .. PolarMesh.Steps(0.3, 0.7, 4 * n), .. PolarMesh.Steps(0.7, 0.8, n), .. PolarMesh.Steps(0.8, 1.2, 2 * n)];
        var space = PolarMesh.Build(Symmetry.Long, radii, sectors, (ring, _) => ring < 3 * n ? 1 : ring < 7 * n ? 0 : ring < 8 * n ? 2 : 0);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long,
            Parts = PolarMesh.Outlines(1, 2),
            Matter = new Dictionary<int, RegionMatter>(),
            Windings = [new FieldWinding("cable", [new(1, 1), new(2, -1)], new ImposedCurrent(1000))],
        };
        return MeshedModel.On(model, space);
    }

    internal static MeshedModel Magnet(Symmetry symmetry, double remanence, int sectors) => MeshedModel.On(
        new FieldModel
        {
            Symmetry = symmetry,
            Parts = PolarMesh.Outlines(1),
            Matter = Solved.Matter((1, new RegionMatter("magnet") { Remanence = new(0, remanence) })),
        },
        PolarMesh.Build(symmetry, [.. PolarMesh.Steps(0, 1, sectors / 4), .. PolarMesh.Steps(1, 1.5, sectors / 8)], symmetry == Symmetry.Round ? sectors : 2 * sectors, (ring, _) => ring < sectors / 4 ? 1 : 0));

    private static (double Energy, double Potential) Errors(Symmetry symmetry, int sectors)
    {
        const int f = ElementTables.Functions;
        var space = Manufactured.Space(symmetry, sectors);
        var model = new FieldModel { Symmetry = symmetry, Parts = PolarMesh.Outlines(1), Matter = Solved.Matter((1, new RegionMatter("all"))) };
        var dimensions = symmetry == Symmetry.Round ? 3 : 2;
        // the shape function is N itself: A of it is N when long and r·N when round
        double Shape(ElementValues values, int q, int i) => values.A[(q * f) + i] / (symmetry == Symmetry.Round ? values.X[q] : 1);
        var load = Manufactured.Load(space, (values, q, i) => -Mu0 * Bump.At(values.X[q], values.Y[q], dimensions).Laplacian * Shape(values, q, i));
        var phi = new ScalarSystem(MeshedModel.On(model, space)).SolveTangent([.. load.Select(v => v.Real)]);
        return Manufactured.Errors(
            space,
            [.. phi.Select(v => new Complex(v, 0))],
            (values, q, i) => (values.Nx[(q * f) + i], values.Ny[(q * f) + i], Shape(values, q, i)),
            (x, y) => Bump.At(x, y, dimensions) is var u ? (u.Ux, u.Uy, u.U) : default);
    }
}
