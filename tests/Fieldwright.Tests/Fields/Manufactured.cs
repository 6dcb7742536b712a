using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Fields.Elements;

namespace Fieldwright.Tests.Fields;

/// <summary>The bump u = (1 − s²)⁴ within s = |x − c|/a &lt; 1, zero beyond: its slopes and Δₙu = u″ + (n − 1)u′/ρ.</summary>
internal readonly record struct Bump(double U, double Ux, double Uy, double Laplacian)
{
    private const double Reach = 0.8, Shift = 0.15;

    /// <summary>At a place; n = 2 in the plane, 3 for a scalar and 5 for A_φ/r in a round model, centred on the axis then.</summary>
    public static Bump At(double x, double y, int dimensions)
    {
        double dx = (x - (dimensions == 2 ? 0.1 : 0)) / Reach, dy = (y - Shift) / Reach;
        var s2 = (dx * dx) + (dy * dy);
        if (s2 >= 1) return default;
        var t = 1 - s2;
        // u = t⁴, u′ = −8 s t³, u″ = −8t³ + 48 s² t²
        var laplacian = (-8 * t * t * t * dimensions) + (48 * s2 * t * t);
        return new(t * t * t * t, -8 * t * t * t * dx / Reach, -8 * t * t * t * dy / Reach, laplacian / (Reach * Reach));
    }
}

/// <summary>Loads made for a known solution on meshes of curved triangles, and what a solution misses of it.</summary>
internal static class Manufactured
{
    public static FieldSpace Space(Symmetry symmetry, int sectors) =>
        PolarMesh.Build(symmetry, PolarMesh.Steps(0, 1, sectors / 2), symmetry == Symmetry.Round ? sectors : 2 * sectors, (_, _) => 1);

    /// <summary>Gathers the integrals of a density over all functions: at point q, of function i.</summary>
    public static Complex[] Load(FieldSpace space, Func<ElementValues, int, int, Complex> density)
    {
        var load = new Complex[space.NodeCount];
        Each(space, (e, values, q) =>
        {
            for (var i = 0; i < 6; i++) load[space.Triangles[(6 * e) + i]] += values.Weight[q] * density(values, q, i);
        });
        return load;
    }

    /// <summary>Root of the integrated squares of what is missed of a field (two components) and of its potential.</summary>
    /// <param name="space">The triangles.</param>
    /// <param name="nodal">The solution.</param>
    /// <param name="function">Field and potential of function i at point q.</param>
    /// <param name="exact">The known field and potential.</param>
    public static (double Energy, double Potential) Errors(
        FieldSpace space, Complex[] nodal, Func<ElementValues, int, int, (double X, double Y, double A)> function, Func<double, double, (double X, double Y, double A)> exact)
    {
        double energy = 0, potential = 0;
        Each(space, (e, values, q) =>
        {
            var (x, y, a) = exact(values.X[q], values.Y[q]);
            Complex dx = -x, dy = -y, da = -a;
            for (var i = 0; i < 6; i++)
            {
                var v = nodal[space.Triangles[(6 * e) + i]];
                var (fx, fy, fa) = function(values, q, i);
                dx += v * fx;
                dy += v * fy;
                da += v * fa;
            }
            energy += values.Weight[q] * (Square(dx) + Square(dy));
            potential += values.Weight[q] * Square(da);
        });
        return (Math.Sqrt(energy), Math.Sqrt(potential));

        static double Square(Complex z) => (z.Real * z.Real) + (z.Imaginary * z.Imaginary);
    }

    private static void Each(FieldSpace space, Action<int, ElementValues, int> visit)
    {
        var values = new ElementValues();
        for (var e = 0; e < space.InsideCount; e++)
        {
            values.Evaluate(space, e, ElementTables.Degree8);
            for (var q = 0; q < values.Points; q++) visit(e, values, q);
        }
    }
}
