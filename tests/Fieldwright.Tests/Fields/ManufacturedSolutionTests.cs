using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Harmonic;
using Fieldwright.Fields.Static;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>
/// curl H + σ(jωA − v×B) = J with J made for the bump u, u = A (long) or A_φ/r (round).
/// Linear: J = −ν Δ₂u + σ(jωu + v·∇u), and round J_φ = r(−ν Δ₅u + σ(jωu + v_z ∂u/∂z)). Nonlinear: the load is ∫H(B)·B_i with the exact B. Every element is curved.
/// Quadratic elements: order 2 in the energy norm of B and order 3 in the mean square of A (Ciarlet 1978, theorem 3.2.2).
/// </summary>
public class ManufacturedSolutionTests
{
    private const double Sigma = 1e6;
    private const double Nu = 1 / PhysicalConstants.MagneticConstant;
    private const int F = ElementTables.Functions;

    /// <summary>Magnetic Reynolds number μ0σva of the fast ones: some 10.</summary>
    private static readonly RigidMotion Fast = new(new(0, 10));

    /// <summary>Along, across and turning.</summary>
    private static readonly RigidMotion Turning = new(new(3, -2), 5, new(0.2, 0.1));

    [Theory]
    [InlineData(Symmetry.Long, 0, false)]
    [InlineData(Symmetry.Round, 0, false)]
    [InlineData(Symmetry.Long, 1, false)]
    [InlineData(Symmetry.Round, 1, false)]
    [InlineData(Symmetry.Long, 1, true)]
    [InlineData(Symmetry.Round, 1, true)]
    public void QuadraticElements_ManufacturedField_ConvergeAtTheirOrder(Symmetry symmetry, double frequency, bool moves) =>
        CheckOrder(sectors => Linear(symmetry, frequency, moves ? symmetry == Symmetry.Round ? Fast : Turning : null, sectors));

    /// <summary>B reaches more than 2 T, on a curve that rises as H = 100·B + 60·B⁵ between points close together.</summary>
    [Theory]
    [InlineData(Symmetry.Long)]
    [InlineData(Symmetry.Round)]
    public void QuadraticElements_ManufacturedFieldInSaturatedSteel_ConvergeAtTheirOrder(Symmetry symmetry) => CheckOrder(sectors => Saturated(symmetry, sectors));

    private static void CheckOrder(Func<int, (double Energy, double Potential)> errors)
    {
        var (coarse, fine) = (errors(12), errors(24));
        Assert.InRange(Solved.Rate(coarse.Energy, fine.Energy), 1.85, 2.3);
        Assert.InRange(Solved.Rate(coarse.Potential, fine.Potential), 2.8, 3.4);
    }

    private static (double Energy, double Potential) Linear(Symmetry symmetry, double frequency, RigidMotion? motion, int sectors)
    {
        var model = Model(symmetry, new("all", Sigma)) with { Frequency = frequency };
        if (motion is not null) model = model with { Motion = new Dictionary<int, RigidMotion> { [1] = motion } };
        var space = Manufactured.Space(symmetry, sectors);
        var meshed = MeshedModel.On(model, space);
        var load = Manufactured.Load(space, (values, q, i) =>
        {
            double x = values.X[q], y = values.Y[q];
            var u = Bump.At(x, y, Dimensions(symmetry));
            var v = motion?.At(x, y) ?? default;
            var j = (-Nu * u.Laplacian) + (Sigma * (new Complex(0, model.AngularFrequency) * u.U)) + (Sigma * ((v.X * u.Ux) + (v.Y * u.Uy)));
            return (symmetry == Symmetry.Round ? x : 1) * j * values.A[(q * F) + i];
        });
        Complex[] field = frequency > 0
            // no conductor of its own: the current made for the field is closed already
            ? new HarmonicSystem(meshed, []).SolveField(load)
            : [.. Solved.Static(meshed).System.SolveTangent([.. load.Select(v => v.Real)]).Select(v => new Complex(v, 0))];
        return Errors(symmetry, space, field);
    }

    private static (double Energy, double Potential) Saturated(Symmetry symmetry, int sectors)
    {
        double[] b = [.. Enumerable.Range(1, 100).Select(k => 0.05 * k)];
        var steel = new RegionMatter("steel") { Curve = BhCurve.Create("made", [.. b.Select(x => (100 * x) + (60 * Math.Pow(x, 5)))], b) };
        var space = Manufactured.Space(symmetry, sectors);
        var load = Manufactured.Load(space, (values, q, i) =>
        {
            var (bx, by, _) = Exact(symmetry, values.X[q], values.Y[q]);
            return steel.Curve.Reluctivity(double.Hypot(bx, by)) * ((bx * values.Bx[(q * F) + i]) + (by * values.By[(q * F) + i]));
        });
        var system = new StaticSystem(MeshedModel.On(Model(symmetry, steel), space), TestContext.Current.CancellationToken, [.. load.Select(v => v.Real)]);
        return Errors(symmetry, space, [.. system.Field.Select(v => new Complex(v, 0))]);
    }

    private static FieldModel Model(Symmetry symmetry, RegionMatter matter) => new() { Symmetry = symmetry, Parts = PolarMesh.Outlines(1), Matter = Solved.Matter((1, matter)) };

    private static int Dimensions(Symmetry symmetry) => symmetry == Symmetry.Round ? 5 : 2;

    private static (double Bx, double By, double A) Exact(Symmetry symmetry, double x, double y)
    {
        var u = Bump.At(x, y, Dimensions(symmetry));
        return symmetry == Symmetry.Round ? (-x * u.Uy, (2 * u.U) + (x * u.Ux), x * u.U) : (u.Uy, -u.Ux, u.U);
    }

    private static (double Energy, double Potential) Errors(Symmetry symmetry, FieldSpace space, Complex[] field) => Manufactured.Errors(
        space, field, (values, q, i) => (values.Bx[(q * F) + i], values.By[(q * F) + i], values.A[(q * F) + i]), (x, y) => Exact(symmetry, x, y));
}
