using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Xunit;

namespace Fieldwright.Tests.Bench.Studies;

/// <summary>Tolerances carried through. The resistance of a coil is proportional to its turns, so everything here is known beforehand.</summary>
public class DoubtStudyTests
{
    private static readonly Apparatus Bare = Coil("at least: 0.1 ohm", "± 10 %");
    private static readonly double Resistance = Answer(Bare);

    internal static Apparatus Coil(string bound, string turns = "± 10 %", string more = "") => ApparatusFile.Read($$"""
        apparatus: Coil
        symmetry: round
        parts:
          ring: {shape: disc, radius: 10 mm, thickness: 2 mm, at: {z: 30 mm}, of: copper}
        windings:
          coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [20 mm, 26 mm], from z: 0 mm, to z: 10 mm}
        supplies:
          source: {current: 1 A, frequency: 0 Hz, feeds: coil}
        doubts: {turns of coil: {{turns}}{{more}}}
        claims:
          - {say: The coil has the resistance we want, measure: resistance of coil, {{bound}}}
        """, "coil.yaml").Apparatus!;

    private static double Answer(Apparatus apparatus) => Rehearsal.Run(apparatus, new RehearsalOptions(CarryDoubts: false)).Verdicts[0].Answer.Leading!.Value;

    private static string Ohm(double value) => FormattableString.Invariant($"{value:R} ohm");

    [Fact]
    public void Claim_WhoseBoundLiesInTheUpperHalf_HoldsInThreeOfFourCases()
    {
        // R = R₀ (1 + 0.1 u), u uniform in ±1: below 1.05 R₀ in 75 % of cases.
        var report = DoubtStudy.Run(Coil("at most: " + Ohm(1.05 * Resistance)), new DoubtOptions(2000), new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        var claim = Assert.Single(report.Claims);
        Assert.True(claim.Drawn);
        Assert.InRange(0.75, claim.Holds!.Low, claim.Holds.High);
        Assert.True(claim.Holds.High - claim.Holds.Low < 0.04);
        Assert.Equal(0.1 / Math.Sqrt(3), claim.StandardDeviation / Resistance, 0.002);
        Assert.Equal(1, claim.Shares.Single().Share, 12);
        Assert.Equal(1, claim.Shares.Single().Correlation, 1e-6);
        Assert.Equal(report.AllHold, claim.Holds);
        // The error bar of the answer, 2 %, covers the bound in a fifth of the cases: 0.04 R₀ of 0.2 R₀.
        Assert.Equal(0.2, claim.WithinBar, 0.03);
    }

    [Fact]
    public void TwoTolerances_OneTwiceTheOther_ShareFourToOne()
    {
        // The resistance rises by 0.393 % a kelvin: ± 12.72 K are ± 5 %.
        var report = DoubtStudy.Run(Coil("at least: 0.1 ohm", more: ", temperature of hall: ± 12.7 °C"), new DoubtOptions(50), new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(["turns of coil", "temperature of hall"], report.Claims[0].Shares.Select(s => s.Swing.Doubt.Input.Text));
        Assert.Equal(0.8, report.Claims[0].Shares[0].Share, 0.01);
    }

    [Theory]
    [InlineData(1.05, Outcome.TooClose)]
    [InlineData(1.2, Outcome.Holds)]
    [InlineData(0.95, Outcome.TooClose)]
    [InlineData(0.8, Outcome.Fails)]
    public void Rehearsal_OfAClaimThatTolerancesCouldTurn_IsTooCloseToCall(double share, Outcome expected)
    {
        var verdict = Rehearsal.Run(Coil("at most: " + Ohm(share * Resistance)), new RehearsalOptions()).Verdicts[0];
        Assert.Equal(expected, verdict.Outcome);
        // One tolerance alone reaches as far as its end, not further: twice its standard deviation would be 1.15 times that.
        Assert.Equal(0.1 * Resistance, verdict.Tolerances!.Reach, 1e-9);
        if (expected == Outcome.TooClose)
            Assert.Contains("turns of coil", verdict.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Rehearsal_WithoutTolerances_JudgesByTheErrorBarAlone() =>
        Assert.Equal(Outcome.Holds, Rehearsal.Run(Coil("at most: " + Ohm(1.05 * Resistance)), new RehearsalOptions(CarryDoubts: false)).Verdicts[0].Outcome);

    [Fact]
    public void Samples_OfTheSameSeed_AreTheSameAndOfAnotherAreNot()
    {
        var coil = Coil("at least: 0.1 ohm");
        IReadOnlyList<double> Samples(ulong seed) => DoubtStudy.Run(coil, new DoubtOptions(20, seed), new RehearsalOptions()).Claims[0].Samples;
        Assert.Equal(Samples(7), Samples(7));
        Assert.NotEqual(Samples(7), Samples(8));
    }

    [Fact]
    public void Rows_Kept_AreGoneOnFromAndBelongToOneStudy()
    {
        string path = Path.Combine(Directory.CreateTempSubdirectory("fieldwright").FullName, "kept");
        int found = 0;
        double[] Find(int n)
        {
            found++;
            return [n, double.NaN];
        }

        var first = new KeptRows(path, "a");
        Assert.Equal([3, double.NaN], first.At(3, () => Find(3)));
        first.At(5, () => Find(5));
        // A call that was killed while it wrote.
        System.IO.File.AppendAllText(path, "6 1.2");
        var second = new KeptRows(path, "a");
        Assert.Equal(2, second.Count);
        Assert.Equal([5, double.NaN], second.At(5, () => Find(5)));
        Assert.Equal(2, found);
        second.At(6, () => Find(6));
        Assert.Equal(3, new KeptRows(path, "a").Count);
        Assert.Throws<ArgumentException>(() => new KeptRows(path, "b"));
    }

    [Fact]
    public void Share_OfASample_CarriesTheIntervalOfWilson()
    {
        // Wilson's interval for 8 of 10 is 0.490 to 0.943 (computed by hand from his formula).
        var share = SampledShare.Of(8, 10);
        Assert.Equal(0.4902, share.Low, 4);
        Assert.Equal(0.9433, share.High, 4);
        Assert.Equal(1, SampledShare.Of(10, 10).High, 12);
        Assert.True(SampledShare.Of(10, 10).Low < 0.75);
    }
}
