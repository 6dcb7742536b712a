using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Harmonic;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>
/// curl(ν curl A) + jωσA = J with J made for u = (1 − s²)⁴ within s = |x − c|/a &lt; 1 and zero beyond, u = A (long) or A_φ/r (round).
/// Long: J = −ν Δ₂u + jωσu. Round: J_φ = r(−ν Δ₅u + jωσu), Δₙu = u″ + (n − 1)u′/ρ. Every element is curved.
/// Quadratic elements: order 2 in the energy norm of B and order 3 in the mean square of A (Ciarlet 1978, theorem 3.2.2).
/// </summary>
public class ManufacturedSolutionTests
{
    private const double Sigma = 1e6;
    private const double Reach = 0.8;
    private const double Shift = 0.15;
    private const double Nu = 1 / PhysicalConstants.MagneticConstant;

    [Theory]
    [InlineData(Symmetry.Long, 0)]
    [InlineData(Symmetry.Round, 0)]
    [InlineData(Symmetry.Long, 1)]
    [InlineData(Symmetry.Round, 1)]
    public void QuadraticElements_ManufacturedField_ConvergeAtTheirOrder(Symmetry symmetry, double frequency)
    {
        var coarse = Errors(symmetry, frequency, 12);
        var fine = Errors(symmetry, frequency, 24);
        Assert.InRange(Solved.Rate(coarse.Energy, fine.Energy), 1.85, 2.3);
        Assert.InRange(Solved.Rate(coarse.Potential, fine.Potential), 2.8, 3.4);
    }

    private static (double Energy, double Potential) Errors(Symmetry symmetry, double frequency, int sectors)
    {
        var space = PolarMesh.Build(symmetry, PolarMesh.Steps(0, 1, sectors / 2), symmetry == Symmetry.Round ? sectors : 2 * sectors, (_, _) => 1);
        var model = new FieldModel
        {
            Symmetry = symmetry,
            Frequency = frequency,
            Parts = PolarMesh.Outlines(1),
            Matter = Solved.Matter((1, new RegionMatter("all", Sigma))),
        };
        var meshed = MeshedModel.On(model, space);
        var values = new ElementValues();
        var load = new Complex[space.NodeCount];
        var dimensions = symmetry == Symmetry.Round ? 5 : 2;
        for (var e = 0; e < space.InsideCount; e++)
        {
            values.Evaluate(space, e, ElementTables.Degree8);
            for (var q = 0; q < values.Points; q++)
            {
                var (u, _, _, laplacian) = Exact(values.X[q], values.Y[q], dimensions);
                var j = (symmetry == Symmetry.Round ? values.X[q] : 1) * ((-Nu * laplacian) + (new Complex(0, model.AngularFrequency * Sigma) * u));
                for (var i = 0; i < 6; i++) load[space.Triangles[(6 * e) + i]] += values.Weight[q] * j * values.A[(q * ElementTables.Functions) + i];
            }
        }
        var field = frequency > 0
            // no conductor of its own: the current made for the field is closed already
            ? FieldOf(new HarmonicSystem(MeshedModel.On(model, space), []), load)
            : [.. Solved.Static(meshed).System.SolveTangent([.. load.Select(v => v.Real)]).Select(v => new Complex(v, 0))];
        double energy = 0, potential = 0;
        for (var e = 0; e < space.InsideCount; e++)
        {
            values.Evaluate(space, e, ElementTables.Degree8);
            for (var q = 0; q < values.Points; q++)
            {
                Complex bx = 0, by = 0, a = 0;
                for (var i = 0; i < 6; i++)
                {
                    var v = field[space.Triangles[(6 * e) + i]];
                    bx += v * values.Bx[(q * ElementTables.Functions) + i];
                    by += v * values.By[(q * ElementTables.Functions) + i];
                    a += v * values.A[(q * ElementTables.Functions) + i];
                }
                var (u, ux, uy, _) = Exact(values.X[q], values.Y[q], dimensions);
                var r = values.X[q];
                var (ex, ey, ea) = symmetry == Symmetry.Round ? (-r * uy, (2 * u) + (r * ux), r * u) : (uy, -ux, u);
                energy += values.Weight[q] * (Square(bx - ex) + Square(by - ey));
                potential += values.Weight[q] * Square(a - ea);
            }
        }
        return (Math.Sqrt(energy), Math.Sqrt(potential));

        static double Square(Complex z) => (z.Real * z.Real) + (z.Imaginary * z.Imaginary);
    }

    private static Complex[] FieldOf(HarmonicSystem system, Complex[] load) => system.SolveField(load);

    private static (double U, double Ux, double Uy, double Laplacian) Exact(double x, double y, int dimensions)
    {
        var cx = dimensions == 5 ? 0 : 0.1;
        double dx = (x - cx) / Reach, dy = (y - Shift) / Reach;
        var s2 = (dx * dx) + (dy * dy);
        if (s2 >= 1) return default;
        var t = 1 - s2;
        // u = t⁴, u′ = −8 s t³, u″ = −8t³ + 48 s² t²
        var laplacian = (-8 * t * t * t * dimensions) + (48 * s2 * t * t);
        return (t * t * t * t, -8 * t * t * t * dx / Reach, -8 * t * t * t * dy / Reach, laplacian / (Reach * Reach));
    }
}
