using System.Collections.Concurrent;
using Fieldwright.Fields;
using Fieldwright.Fields.ErrorEstimates;
using Fieldwright.Numerics;

namespace Fieldwright.Benchmarks.Fields;

/// <summary>One answer beside the truth.</summary>
/// <param name="Family">Kind of apparatus.</param>
/// <param name="Number">Which apparatus of its seed.</param>
/// <param name="Kind">Kind of answer.</param>
/// <param name="Value">The answer.</param>
/// <param name="Bar">Its error bar.</param>
/// <param name="Truth">The true value, or that of the reference.</param>
/// <param name="Last">Whether it is from the last mesh; false on the way there.</param>
internal sealed record BarRow(string Family, int Number, string Kind, double Value, double Bar, double Truth, bool Last)
{
    /// <summary>Distance from the truth.</summary>
    public double Error => Math.Abs(Value - Truth);

    /// <summary>Whether the bar reaches the truth; rounding of the truth itself is no miss.</summary>
    public bool Covered => Error <= Bar + (1e-10 * Math.Abs(Truth));
}

/// <summary>One bracket beside the truth.</summary>
/// <param name="Family">Kind of apparatus.</param>
/// <param name="Number">Which apparatus of its seed.</param>
/// <param name="Relative">Half the distance of the bounds over the middle.</param>
/// <param name="Held">Whether the truth lies between the bounds, or the bounds of the reference overlap with them.</param>
internal sealed record BracketRow(string Family, int Number, double Relative, bool Held);

/// <summary>Solves generated apparatus as the product does and again on a mesh of a quarter of the size everywhere, and sets bars beside errors.</summary>
internal static class BarStudy
{
    /// <summary>Twice what a person gets without asking, on a budget that leaves room for the reference.</summary>
    private static readonly AdaptiveDemand Demand = new(0.01, 8_000, 6);

    private const int ReferenceUnknowns = 80_000;

    /// <summary>Runs some of one seed's apparatus, with the bounds of their coenergy or without, which is several times as quick.</summary>
    public static (IReadOnlyList<BarRow> Bars, IReadOnlyList<BracketRow> Brackets) Run(int seed, IReadOnlyList<int> numbers, bool bounds = true, Action<int>? done = null)
    {
        var bars = new ConcurrentBag<BarRow>();
        var brackets = new ConcurrentBag<BracketRow>();
        Parallel.ForEach(numbers, new ParallelOptions { MaxDegreeOfParallelism = Math.Min(2, Environment.ProcessorCount) }, k =>
        {
            One(GeneratedApparatus.At(seed, k), k, bars, bounds ? brackets : null);
            done?.Invoke(k);
        });
        return ([.. bars.OrderBy(b => b.Number)], [.. brackets.OrderBy(b => b.Number)]);
    }

    private static void One(BarCase apparatus, int number, ConcurrentBag<BarRow> bars, ConcurrentBag<BracketRow>? brackets)
    {
        var result = AdaptiveField.Solve(apparatus.Model, apparatus.Goals, Demand);
        var still = result.Field as StaticField;
        MagneticField? reference = null;
        if (apparatus.Exact.Count < apparatus.Goals.Count)
        {
            var meshed = Quartered(result.Field.Meshed);
            reference = still is null ? HarmonicField.Solve(meshed) : StaticField.Solve(meshed);
        }
        var truth = apparatus.Goals.Select(g => apparatus.Exact.TryGetValue(g.Name, out var exact) ? exact : GoalFunctional.Of(reference!, g).Value).ToList();
        foreach (var level in result.Levels)
            for (var g = 0; g < truth.Count; g++)
                bars.Add(new(apparatus.Family, number, apparatus.Goals[g].Name, level.Answers[g].Value, level.Answers[g].ErrorBar, truth[g], ReferenceEquals(level, result.Levels[^1])));
        if (still is null || brackets is null) return;
        var bounds = Complementary.Of(still, CancellationToken.None).Coenergy;
        bool held;
        if (apparatus.Exact.TryGetValue("energy", out var energy))
        {
            held = bounds.Holds(apparatus.Model.Windings.Count == 0 ? -energy : energy);
        }
        else
        {
            var finer = Complementary.Of((StaticField)reference!, CancellationToken.None).Coenergy;
            held = finer.Lower <= bounds.Upper && finer.Upper >= bounds.Lower;
        }
        brackets.Add(new(apparatus.Family, number, bounds.HalfWidth / Math.Abs(bounds.Middle), held));
    }

    /// <summary>The same apparatus with a quarter of every size and arcs to match, whatever an estimate says.</summary>
    private static MeshedModel Quartered(MeshedModel mesh)
    {
        var everywhere = new double[mesh.Space.ElementCount];
        Array.Fill(everywhere, 1e30);
        return MeshedModel.Create(mesh.Model, new RefinedSizes(mesh, everywhere, ReferenceUnknowns).At, 7.5, CancellationToken.None);
    }
}
