using System.ComponentModel;

namespace Fieldwright.App.Reports;

[Description("An apparatus at another size.")]
internal sealed record ScaleDocument(
    [property: Description("Name and version of this form: fieldwright-scale/1.")] string Schema,
    [property: Description("What the new apparatus is called.")] string Apparatus,
    [property: Description("How many times the size.")] double Factor,
    [property: Description("Power of the size with which the frequency goes.")] double FrequencyPower,
    [property: Description("Power of the size with which ampere-turns go.")] double CurrentPower,
    [property: Description("Dimensionless groups, kept or not.")] IReadOnlyList<GroupEntry> Groups,
    [property: Description("What was asked and cannot be kept with the rest, and what must be known about the new file.")] IReadOnlyList<string> Notes,
    [property: Description("Supply, wire, heat and times at both sizes.")] IReadOnlyList<ConsequenceEntry> Consequences,
    [property: Description("The claims at both sizes.")] IReadOnlyList<ScaledClaimEntry> Claims,
    [property: Description("The new apparatus file.")] string File);

internal sealed record GroupEntry(
    [property: Description("Its name.")] string Name,
    [property: Description("What it compares.")] string Meaning,
    [property: Description("Whether it is the same at both sizes.")] bool Kept,
    [property: Description("What it is multiplied by.")] double Factor);

internal sealed record ConsequenceEntry(
    [property: Description("What it is.")] string What,
    [property: Description("Unit; empty for a text.")] string Unit,
    [property: Description("At the original size; null for a text.")] double? Before,
    [property: Description("At the new size; null for a text.")] double? After,
    [property: Description("At the original size, when it is a text.")] string TextBefore,
    [property: Description("At the new size, when it is a text.")] string TextAfter);

internal sealed record ScaledClaimEntry(
    [property: Description("Its verdict at the original size.")] VerdictEntry Before,
    [property: Description("Its verdict at the new size.")] VerdictEntry After,
    [property: Description("What to change; empty when it holds.")] string Advice);

[Description("The stated tolerances carried through to every claim.")]
internal sealed record DoubtDocument(
    [property: Description("Name and version of this form: fieldwright-doubt/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("How many apparatus were drawn.")] int Samples,
    [property: Description("The seed they were drawn with.")] double Seed,
    [property: Description("Share of them in which all claims hold; null when none has an answer.")] ShareEntry? AllHold,
    [property: Description("One entry a claim.")] IReadOnlyList<DoubtedClaimEntry> Claims);

internal sealed record ShareEntry(
    [property: Description("The share, 0 to 1.")] double Share,
    [property: Description("Lower end of the 95 % interval that the number of samples leaves open.")] double Low,
    [property: Description("Upper end of it.")] double High);

internal sealed record DoubtedClaimEntry(
    [property: Description("Its verdict, tolerances carried through.")] VerdictEntry Verdict,
    [property: Description("Whether each apparatus drawn was computed as a whole; otherwise the answers follow from derivatives.")] bool Drawn,
    [property: Description("Share of samples in which the bound is kept; null without an answer.")] ShareEntry? Holds,
    [property: Description("Share of samples so near the bound that the error bar covers it; null without an answer.")] double? WithinBar,
    [property: Description("Mean over the samples, in the unit of the answer.")] double? Mean,
    [property: Description("Standard deviation over the samples, in the unit of the answer.")] double? StandardDeviation,
    [property: Description("Below this 1 in 20 lie.")] double? Low,
    [property: Description("Above this 1 in 20 lie.")] double? High,
    [property: Description("What each tolerance contributes, the largest first.")] IReadOnlyList<SwingEntry> Tolerances);

internal sealed record SwingEntry(
    [property: Description("The input.")] string Input,
    [property: Description("Its half-width, as people write it.")] string HalfWidth,
    [property: Description("Change of the answer with the input at the lower end, in the unit of the answer.")] double Down,
    [property: Description("Change of the answer with the input at the upper end.")] double Up,
    [property: Description("Share in the variance of the answer, by derivatives.")] double Share,
    [property: Description("Correlation of input and answer over the samples.")] double Correlation);

[Description("Settings at which all claims hold with the best least margin.")]
internal sealed record TuneDocument(
    [property: Description("Name and version of this form: fieldwright-tune/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("Whether all claims hold at the best setting, by every route.")] bool AllHold,
    [property: Description("Trials made.")] int Trials,
    [property: Description("Whether the search settled before the trials ran out.")] bool Settled,
    [property: Description("Least margin where the inputs stood, as a share of a limit.")] double LeastBefore,
    [property: Description("Least margin at the best setting.")] double LeastAfter,
    [property: Description("What was turned.")] IReadOnlyList<TurnEntry> Inputs,
    [property: Description("The claims at the best setting.")] IReadOnlyList<VerdictEntry> Claims);

internal sealed record TurnEntry(
    [property: Description("The input.")] string Input,
    [property: Description("Where it stood, with its unit.")] string Before,
    [property: Description("Where it should stand.")] string After,
    [property: Description("Lower end of its range.")] string From,
    [property: Description("Upper end of its range.")] string To);

[Description("Readings beside predictions.")]
internal sealed record ReconcileDocument(
    [property: Description("Name and version of this form: fieldwright-reconcile/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("agrees, strained, disagrees or nothing.")] string Agreement,
    [property: Description("Sum of squares of the deviations, tolerances counted as moving predictions together; null when nothing could be compared.")] double? SumOfSquares,
    [property: Description("Readings that have a prediction.")] int Count,
    [property: Description("Share of cases in which chance alone would give a larger sum; null when nothing could be compared.")] double? ChanceOfWorse,
    [property: Description("One entry a reading.")] IReadOnlyList<ReadingEntry> Readings,
    [property: Description("Inputs that would explain the misfit, the best first.")] IReadOnlyList<ExplanationEntry> Explanations);

internal sealed record ReadingEntry(
    [property: Description("Line of the log.")] int Line,
    [property: Description("The state it was read in; null for the apparatus as it stands.")] string? State,
    [property: Description("The reading, in the unit of the answer.")] double Reading,
    [property: Description("Its half-width.")] double Bar,
    [property: Description("Whether the log states the half-width.")] bool BarStated,
    [property: Description("The prediction by every route.")] AnswerEntry Prediction,
    [property: Description("How far the tolerances may move the prediction; null when none is stated.")] double? Tolerances,
    [property: Description("Reading less prediction; null without a prediction.")] double? Difference,
    [property: Description("The difference in standard deviations; null without a prediction.")] double? Deviations);

internal sealed record ExplanationEntry(
    [property: Description("The input.")] string Input,
    [property: Description("Where it stands, with its unit.")] string Standing,
    [property: Description("Where it would have to stand.")] string Needed,
    [property: Description("The shift in half-widths of its tolerance; null when none is stated.")] double? InTolerances,
    [property: Description("Sum of squares left with the shift.")] double Left);
