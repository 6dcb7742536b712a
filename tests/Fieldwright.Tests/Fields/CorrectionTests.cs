using Fieldwright.Benchmarks.Fields;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Series.Coils;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>What functions of order three add to answers, beside exact ones: the series room's for pairs of coils, Ampère's law for cables.</summary>
public class CorrectionTests
{
    /// <summary>Coils (family 0 of the study) have no corner that a field minds: nine tenths of the error or nearly so is gone on meshes of a few hundred unknowns.</summary>
    [Theory]
    [InlineData("linkage")]
    [InlineData("other linkage")]
    [InlineData("energy")]
    public void Correction_OfASmoothField_TakesMostOfTheErrorAway(string asked)
    {
        foreach (var turn in new[] { 1, 2, 3 })
        {
            var (before, after) = Errors(GeneratedApparatus.At(1, turn * GeneratedApparatus.FamilyCount), asked);
            Assert.InRange(after / before, 0, 0.25);
        }
    }

    /// <summary>An answer that is to stand beside others of the same field keeps its value, and a bar that reaches the truth all the same.</summary>
    [Fact]
    public void Uncorrected_KeepsTheValueOfTheField_AndReachesTheTruth()
    {
        var apparatus = GeneratedApparatus.At(1, GeneratedApparatus.FamilyCount);
        var goal = new EnergyGoal("energy");
        var field = StaticField.Solve(MeshedModel.Create(apparatus.Model), TestContext.Current.CancellationToken);
        var answers = AdaptiveField.Judge(field, [goal, goal with { Uncorrected = true }]);
        Assert.Equal(field.Energy, answers[1].Value);
        Assert.InRange(answers[1].ErrorBar, Math.Abs(answers[0].Value - answers[1].Value), 3 * Math.Abs(answers[0].Value - answers[1].Value));
        Assert.InRange(Math.Abs(answers[1].Value - apparatus.Exact["energy"]), answers[0].ErrorBar, answers[1].ErrorBar);
    }

    /// <summary>Every entry of the matrix of two coils, and with it the flux of any currents, comes nearer to the series room's inductances.</summary>
    [Fact]
    public void InductanceMatrix_Corrected_IsThatOfTheSeriesRoom()
    {
        ThickCoil one = new(0.02, 0.04, -0.06, -0.005, 700), two = new(0.055, 0.07, -0.05, 0.01, 390);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Outline.Rectangle(1, 0.02, -0.06, 0.04, -0.005), Outline.Rectangle(2, 0.055, -0.05, 0.07, 0.01)],
            Matter = new Dictionary<int, RegionMatter>(),
            Windings = [FieldWinding.InOneRegion("one", 1, 700, new ImposedCurrent(1)), FieldWinding.InOneRegion("two", 2, 390, new OpenCircuit())],
        };
        double[,] exact = { { one.SelfInductance(), ThickCoil.MutualInductance(one, two) }, { ThickCoil.MutualInductance(one, two), two.SelfInductance() } };
        var meshed = MeshedModel.Create(model);
        var field = StaticField.Solve(meshed, TestContext.Current.CancellationToken);
        double[,] asItStands = field.InductanceMatrix(), corrected = field.InductanceMatrix(corrected: true);
        for (var i = 0; i < 2; i++)
            for (var j = 0; j < 2; j++)
                Assert.InRange(Math.Abs(corrected[i, j] - exact[i, j]) / Math.Abs(asItStands[i, j] - exact[i, j]), 0, 0.25);
        // the same with an alternating current in which nothing is induced
        var impedance = HarmonicField.Solve(meshed.With(model with { Frequency = 50 })).ImpedanceMatrix(corrected: true);
        Assert.Equal(corrected[0, 1], impedance[0, 1].Imaginary / (2 * Math.PI * 50), 1e-9 * corrected[0, 1]);
    }

    private static (double Before, double After) Errors(BarCase apparatus, string asked)
    {
        var goal = apparatus.Goals.Single(g => g.Name == asked);
        var field = StaticField.Solve(MeshedModel.Create(apparatus.Model), TestContext.Current.CancellationToken);
        var answers = AdaptiveField.Judge(field, [goal with { Uncorrected = true }, goal]);
        return (Math.Abs(answers[0].Value - apparatus.Exact[asked]), Math.Abs(answers[1].Value - apparatus.Exact[asked]));
    }
}
