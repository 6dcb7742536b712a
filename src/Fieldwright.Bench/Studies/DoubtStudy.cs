using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Studies;

/// <summary>How a study of tolerances is run.</summary>
/// <param name="Samples">How many apparatus are drawn from the tolerances; at least 10.</param>
/// <param name="Seed">Where the drawing starts; the same seed draws the same apparatus.</param>
public sealed record DoubtOptions(int Samples = 200, ulong Seed = 1);

/// <summary>A share of a finite number of samples and what the number of samples leaves open.</summary>
/// <param name="Share">The share found.</param>
/// <param name="Low">Lower end of the 95 % interval.</param>
/// <param name="High">Upper end of the 95 % interval.</param>
public sealed record SampledShare(double Share, double Low, double High)
{
    /// <summary>A share of a count, with its 95 % interval after Wilson.</summary>
    /// <param name="count">How many.</param>
    /// <param name="of">Of how many; positive.</param>
    /// <source key="Wilson1927"/>
    public static SampledShare Of(int count, int of)
    {
        const double Z = 1.959963984540054;
        double p = (double)count / of, denominator = 1 + Z * Z / of;
        double centre = (p + Z * Z / (2 * of)) / denominator, half = Z * Math.Sqrt(p * (1 - p) / of + Z * Z / (4.0 * of * of)) / denominator;
        return new SampledShare(p, Math.Max(0, centre - half), Math.Min(1, centre + half));
    }
}

/// <summary>One tolerance and one claim.</summary>
/// <param name="Swing">What the tolerance does by itself.</param>
/// <param name="Share">Its share in the variance of the answer, by derivatives.</param>
/// <param name="Correlation">Correlation of input and answer over the samples; zero when either does not move.</param>
public sealed record DoubtShare(Swing Swing, double Share, double Correlation);

/// <summary>A claim under the stated tolerances.</summary>
/// <param name="Verdict">Its verdict, tolerances carried through.</param>
/// <param name="Samples">The answer in each apparatus drawn, SI, centred on the leading answer; empty when the claim has no answer.</param>
/// <param name="Drawn">Whether each sample was computed as a whole; otherwise the answers follow from the derivatives, because the field route alone can answer.</param>
/// <param name="Mean">Mean over the samples, SI.</param>
/// <param name="StandardDeviation">Standard deviation over the samples, SI.</param>
/// <param name="Low">Value below which 1 in 20 lie, SI.</param>
/// <param name="High">Value above which 1 in 20 lie, SI.</param>
/// <param name="Holds">Share of the samples in which the bound is kept.</param>
/// <param name="WithinBar">Share of the samples so near the bound that the error bar of the answer covers it.</param>
/// <param name="Shares">What each tolerance contributes, the largest first.</param>
public sealed record DoubtedClaim(
    Verdict Verdict, IReadOnlyList<double> Samples, bool Drawn, double Mean, double StandardDeviation, double Low, double High,
    SampledShare? Holds, double WithinBar, IReadOnlyList<DoubtShare> Shares);

/// <summary>What a study of tolerances found.</summary>
/// <param name="Apparatus">The apparatus.</param>
/// <param name="Options">How it was run.</param>
/// <param name="Claims">One entry a claim, in file order.</param>
/// <param name="AllHold">Share of the samples in which every claim with an answer is kept; null when no claim has one.</param>
public sealed record DoubtReport(Apparatus Apparatus, DoubtOptions Options, IReadOnlyList<DoubtedClaim> Claims, SampledShare? AllHold);

/// <summary>Carries all stated tolerances through to the claims: by derivatives, and by drawing whole apparatus from them.</summary>
/// <remarks>Tolerances are taken as independent, every value within its half-width as likely as any other. Drawn apparatus are asked by the quickest route; where that is the field
/// route, the answers follow from the derivatives, and that is said.</remarks>
public static class DoubtStudy
{
    /// <summary>Runs the study.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="options">How to draw.</param>
    /// <param name="rehearsal">How hard to try for the answers themselves.</param>
    /// <param name="kept">Samples found so far; null to begin anew.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellation">Stops the work; what is in <paramref name="kept"/> stays.</param>
    public static DoubtReport Run(
        Apparatus apparatus, DoubtOptions options, RehearsalOptions rehearsal, KeptRows? kept = null, IProgress<RehearsalStep>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(rehearsal);
        kept ??= new KeptRows(null, "");
        var report = Rehearsal.Run(apparatus, rehearsal with { CarryDoubts = true }, progress, cancellation);
        var panel = new RoutePanel(apparatus, rehearsal.RelativeTarget, cancellation);
        // The quickest route's own answer to each claim; the samples show how far others lie from it.
        var bases = apparatus.Claims.Select(c => panel.Cheapest(c.Measure, c.State).Leading).ToList();
        double[][] drawn = Draw(apparatus, options, rehearsal, bases, kept, progress, cancellation);
        var claims = report.Verdicts.Select((v, i) => Of(v, bases[i], i, apparatus, options, drawn)).ToList();
        var answered = claims.Where(c => c.Samples.Count > 0).ToList();
        var all = answered.Count == 0 ? null
            : SampledShare.Of(Enumerable.Range(0, options.Samples).Count(s => answered.All(c => Kept(c.Verdict.Claim.Bound, c.Samples[s]))), options.Samples);
        return new DoubtReport(apparatus, options, claims, all);
    }

    // A row a sample: the answers to the claims; NaN where the field route alone could tell.
    private static double[][] Draw(
        Apparatus apparatus, DoubtOptions options, RehearsalOptions rehearsal, List<Answer?> bases, KeptRows kept, IProgress<RehearsalStep>? progress, CancellationToken cancellation)
    {
        double[][] rows = new double[options.Samples][];
        bool any = bases.Exists(Drawable);
        int done = 0;
        Parallel.For(0, options.Samples, new ParallelOptions { CancellationToken = cancellation }, sample =>
        {
            rows[sample] = any ? kept.At(sample, () => Sample(apparatus, options.Seed, sample, rehearsal, bases, cancellation)) : [.. bases.Select(_ => double.NaN)];
            progress?.Report(new RehearsalStep(Interlocked.Increment(ref done) - 1, options.Samples, "apparatus drawn from the tolerances"));
        });
        return rows;
    }

    private static bool Drawable(Answer? answer) => answer is not null && answer.Route is not (RouteName.Field or RouteName.Motion);

    private static double[] Sample(Apparatus apparatus, ulong seed, int sample, RehearsalOptions rehearsal, List<Answer?> bases, CancellationToken cancellation)
    {
        var panel = new RoutePanel(apparatus, rehearsal.RelativeTarget, cancellation);
        panel.ExpectAll(apparatus.Claims.Where((_, i) => Drawable(bases[i])).Select(c => c.Measure));
        return [.. apparatus.Claims.Select((claim, i) =>
        {
            if (!Drawable(bases[i]))
                return double.NaN;
            var there = Circumstances.Of(apparatus, claim.State, claim.Measure.Conditions).Apparatus;
            var measure = claim.Measure;
            for (int d = 0; d < apparatus.Doubts.Count; d++)
                if (CarriedDoubts.HalfWidth(apparatus.Doubts[d], there) is { } half)
                    measure = CarriedDoubts.Doubted(measure, there, apparatus.Doubts[d], half * Place(seed, sample, d)) ?? measure;
            return panel.Cheapest(measure, claim.State).Leading?.Value ?? double.NaN;
        })];
    }

    // Where an input stands within its tolerance, −1 to 1.
    private static double Place(ulong seed, int sample, int doubt) => 2 * SeededNumbers.At(seed, sample, doubt) - 1;

    private static DoubtedClaim Of(Verdict verdict, Answer? basis, int index, Apparatus apparatus, DoubtOptions options, double[][] drawn)
    {
        if (verdict.Answer.Leading is not { } leading || basis is null)
            return new DoubtedClaim(verdict, [], false, double.NaN, double.NaN, double.NaN, double.NaN, null, double.NaN, []);
        var carried = verdict.Tolerances ?? new CarriedDoubts([]);
        bool whole = Drawable(basis);
        double[] samples = new double[options.Samples];
        for (int s = 0; s < samples.Length; s++)
        {
            double change = whole ? drawn[s][index] - basis.Value : double.NaN;
            // An apparatus in which the quickest route fell silent is judged by the derivatives.
            samples[s] = leading.Value + (double.IsFinite(change) ? change : Straight(carried, apparatus, options.Seed, s));
        }

        double mean = samples.Average(), deviation = Math.Sqrt(samples.Sum(v => (v - mean) * (v - mean)) / Math.Max(1, samples.Length - 1));
        double[] sorted = [.. samples.Order()];
        var shares = carried.Swings
            .Select(w => new DoubtShare(w, carried.ShareOf(w), Correlation(samples, IndexOf(apparatus, w.Doubt), options.Seed)))
            .OrderByDescending(s => s.Share).ToList();
        var bound = verdict.Claim.Bound;
        return new DoubtedClaim(
            verdict, samples, whole, mean, deviation, At(sorted, 0.05), At(sorted, 0.95),
            SampledShare.Of(samples.Count(v => Kept(bound, v)), samples.Length),
            (double)samples.Count(v => Kept(bound, v - leading.ErrorBar) != Kept(bound, v + leading.ErrorBar)) / samples.Length, shares);
    }

    private static double Straight(CarriedDoubts carried, Apparatus apparatus, ulong seed, int sample)
    {
        double change = 0;
        foreach (var swing in carried.Swings)
        {
            double place = Place(seed, sample, IndexOf(apparatus, swing.Doubt));
            change += place >= 0 ? place * swing.Up : -place * swing.Down;
        }

        return change;
    }

    private static int IndexOf(Apparatus apparatus, Doubt doubt) => apparatus.Doubts.ToList().IndexOf(doubt);

    private static bool Kept(Bound bound, double value) => value >= bound.Lower && value <= bound.Upper;

    private static double At(double[] sorted, double share)
    {
        double at = share * (sorted.Length - 1);
        int below = (int)at;
        return below + 1 < sorted.Length ? sorted[below] + (at - below) * (sorted[below + 1] - sorted[below]) : sorted[below];
    }

    private static double Correlation(double[] samples, int doubt, ulong seed)
    {
        double[] places = [.. samples.Select((_, s) => Place(seed, s, doubt))];
        double mx = places.Average(), my = samples.Average(), xy = 0, xx = 0, yy = 0;
        for (int i = 0; i < samples.Length; i++)
        {
            xy += (places[i] - mx) * (samples[i] - my);
            xx += (places[i] - mx) * (places[i] - mx);
            yy += (samples[i] - my) * (samples[i] - my);
        }

        return yy <= 1e-24 * my * my * samples.Length ? 0 : xy / Math.Sqrt(xx * yy);
    }
}
