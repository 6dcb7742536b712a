using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>What must come out whatever the mesh: forces on all bodies cancel, and the power that flows into a body is the heat made there.</summary>
public class ConservationTests
{
    private static readonly RegionMatter Steel = new("steel") { Curve = Materials.Find("mild steel")!.Curve };

    /// <summary>Each force has its own stretched triangles, so only an accurate field gives a sum of nothing. Tolerance: the bars of the three.</summary>
    [Theory]
    [InlineData(Symmetry.Round)]
    [InlineData(Symmetry.Long)]
    public void StillField_ForcesOnAllBodies_SumToZero(Symmetry symmetry)
    {
        var model = new FieldModel
        {
            Symmetry = symmetry,
            Depth = 0.05,
            Parts = [Outline.Rectangle(1, 0, 0, 0.01, 0.008), Outline.Rectangle(2, 0, 0.012, 0.02, 0.016), Outline.Rectangle(3, 0.012, -0.012, 0.02, -0.002), Outline.Rectangle(4, -0.02, -0.012, -0.012, -0.002)],
            Matter = Solved.Matter((1, new("magnet") { Remanence = new(0, 1.1) }), (2, Steel)),
            Windings = [new("coil", symmetry == Symmetry.Round ? [new(3, 200)] : [new(3, 200), new(4, -200)], new ImposedCurrent(8))],
        };
        if (symmetry == Symmetry.Round) model = model with { Parts = [.. model.Parts.Take(3)] };
        CheckForces(model, [1], [2], symmetry == Symmetry.Round ? [3] : [3, 4]);
    }

    [Theory]
    [InlineData(Symmetry.Round)]
    [InlineData(Symmetry.Long)]
    public void AlternatingField_ForcesOnAllBodies_SumToZero(Symmetry symmetry) => CheckForces(Plates(symmetry), [1], [2], symmetry == Symmetry.Round ? [3] : [3, 4]);

    /// <summary>At every instant, on a mesh that is as it is: the sum is small beside the largest force so far, by the error of the field squared (per mille here).</summary>
    [Fact]
    public void TransientField_ForcesOnAllBodies_SumToZero()
    {
        var model = Plates(Symmetry.Round) with { Frequency = 0 };
        var largest = 0.0;
        TransientSolver.Follow(
            new() { Field = model, Circuits = [WindingCircuit.FedByCurrent("coil", t => 8 * Math.Sin(2 * Math.PI * 400 * t))], ResolvedFrequency = 400 },
            new(0.001) { Fineness = 1.5, RelativeError = 1e-2 },
            field =>
            {
                double[] forces = [field.Force(1).Y, field.Force(2).Y, field.Force(3).Y];
                largest = Math.Max(largest, forces.Max(Math.Abs));
                Assert.Equal(0, forces.Sum(), 1e-2 * largest);
            },
            TestContext.Current.CancellationToken);
        Assert.True(largest > 0.1);
    }

    /// <summary>Heat as ∫|J|²/σ in the metal against Poynting's vector in the air round it, on meshes refined for the heat: they differ by no more than its bar.</summary>
    [Theory]
    [InlineData(Symmetry.Round)]
    [InlineData(Symmetry.Long)]
    public void AlternatingField_PowerIntoABody_IsItsLoss(Symmetry symmetry)
    {
        var result = AdaptiveField.Solve(Plates(symmetry), [new LossGoal("upper", [1]) { Uncorrected = true }, new LossGoal("lower", [2]) { Uncorrected = true }], new(2e-3), null, TestContext.Current.CancellationToken);
        var field = (HarmonicField)result.Field;
        for (var body = 1; body <= 2; body++) Assert.Equal(result.Answers[body - 1].Value, field.PowerInto(body), result.Answers[body - 1].ErrorBar);
        // and all of it comes from the winding
        Assert.Equal(field.SolidLoss, 0.5 * (field.Voltage("coil") * Complex.Conjugate(field.Current("coil"))).Real, 1e-6 * field.SolidLoss);
    }

    /// <summary>A sheet that runs past a coil takes in its heat and, with the field's force against its motion, gives mechanical power back.</summary>
    [Fact]
    public void MovingTube_PowerIntoIt_IsLossAndMechanicalPower()
    {
        const double speed = 20;
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Frequency = 300,
            Parts = [Outline.Rectangle(1, 0.01, -0.2, 0.013, 0.2), Outline.Rectangle(3, 0.015, -0.01, 0.02, 0.01)],
            Matter = Solved.Matter((1, new("tube", 3.5e7))),
            Windings = [FieldWinding.InOneRegion("coil", 3, 200, new ImposedCurrent(8))],
            Motion = new Dictionary<int, RigidMotion> { [1] = new(new(0, speed)) },
        };
        var result = AdaptiveField.Solve(model, [new LossGoal("heat", [1]), new ForceGoal("force", [1])], new(2e-3), null, TestContext.Current.CancellationToken);
        Assert.Equal(result.Answers[0].Value + (speed * result.Answers[1].Value), ((HarmonicField)result.Field).PowerInto(1), result.Answers[0].ErrorBar + (speed * result.Answers[1].ErrorBar));
        Assert.True(-speed * result.Answers[1].Value > 10 * result.Answers[0].ErrorBar);
    }

    /// <summary>A plate over and one under a coil, of unlike metal, so that no force vanishes by symmetry.</summary>
    private static FieldModel Plates(Symmetry symmetry)
    {
        var round = symmetry == Symmetry.Round;
        Outline[] coil = round ? [Outline.Rectangle(3, 0.01, 0, 0.02, 0.01)] : [Outline.Rectangle(3, 0.01, 0, 0.02, 0.01), Outline.Rectangle(4, -0.015, 0, -0.005, 0.01)];
        return new FieldModel
        {
            Symmetry = symmetry,
            Depth = 0.1,
            Frequency = 400,
            Parts = [Outline.Rectangle(1, round ? 0 : -0.01, 0.012, 0.025, 0.015), Outline.Rectangle(2, round ? 0.005 : -0.02, -0.008, 0.03, -0.004), .. coil],
            Matter = Solved.Matter((1, new("aluminium", 3.5e7)), (2, new("iron", 5e6, 40))),
            Windings = [new("coil", round ? [new(3, 200)] : [new(3, 200), new(4, -200)], new ImposedCurrent(8))],
        };
    }

    private static void CheckForces(FieldModel model, params int[][] bodies)
    {
        var components = model.Symmetry == Symmetry.Round ? [ForceComponent.Y] : new[] { ForceComponent.X, ForceComponent.Y };
        var goals = bodies.SelectMany(b => components.Select(c => new ForceGoal($"{c} on {b[0]}", b, c))).ToList();
        var result = AdaptiveField.Solve(model, [.. goals], new(1e-2), null, TestContext.Current.CancellationToken);
        foreach (var component in components)
        {
            var own = result.Answers.Where(a => ((ForceGoal)a.Goal).Component == component).ToList();
            Assert.Equal(0, own.Sum(a => a.Value), own.Sum(a => a.ErrorBar));
            Assert.All(own, a => Assert.True(Math.Abs(a.Value) > 5 * own.Sum(o => o.ErrorBar), $"{a}"));
        }
    }
}
