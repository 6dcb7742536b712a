using Fieldwright.Benchmarks.Fields;
using Fieldwright.Fields;
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

    private static (double Before, double After) Errors(BarCase apparatus, string asked)
    {
        var goal = apparatus.Goals.Single(g => g.Name == asked);
        var field = StaticField.Solve(MeshedModel.Create(apparatus.Model), TestContext.Current.CancellationToken);
        var answers = AdaptiveField.Judge(field, [goal with { Uncorrected = true }, goal]);
        return (Math.Abs(answers[0].Value - apparatus.Exact[asked]), Math.Abs(answers[1].Value - apparatus.Exact[asked]));
    }
}
