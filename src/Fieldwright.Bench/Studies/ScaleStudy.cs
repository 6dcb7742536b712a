using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Studies;

/// <summary>Something that follows from the new size: before and after, in one unit.</summary>
/// <param name="What">What it is, as a measure is written.</param>
/// <param name="Unit">Unit people read it in; empty for a text.</param>
/// <param name="Before">SI value at the original size; NaN for a text.</param>
/// <param name="After">SI value at the new size; NaN for a text.</param>
/// <param name="TextBefore">The text at the original size; empty for a number.</param>
/// <param name="TextAfter">The text at the new size; empty for a number.</param>
public sealed record Consequence(string What, string Unit, double Before, double After, string TextBefore = "", string TextAfter = "");

/// <summary>A claim at both sizes, and what to change when it does not hold at the new one.</summary>
/// <param name="Before">Its verdict at the original size.</param>
/// <param name="After">Its verdict at the new size.</param>
/// <param name="Advice">What to change; empty when it holds.</param>
public sealed record ScaledClaim(Verdict Before, Verdict After, string Advice);

/// <summary>An apparatus made larger or smaller.</summary>
/// <param name="Text">The new apparatus file.</param>
/// <param name="Law">How everything went with the size.</param>
/// <param name="Notes">What must be known about the new file.</param>
/// <param name="Consequences">Supply, wire, heat and time.</param>
/// <param name="Claims">The claims at both sizes.</param>
/// <param name="Original">The rehearsal of the original.</param>
/// <param name="Scaled">The rehearsal of the new apparatus, cautions included.</param>
public sealed record ScaleReport(
    string Text, SizeLaw Law, IReadOnlyList<string> Notes, IReadOnlyList<Consequence> Consequences, IReadOnlyList<ScaledClaim> Claims, RehearsalReport Original, RehearsalReport Scaled);

/// <summary>Makes an apparatus larger or smaller and rehearses it at both sizes.</summary>
public static class ScaleStudy
{
    /// <summary>Makes the apparatus k times the size.</summary>
    /// <param name="text">The text of its file, which must be right.</param>
    /// <param name="name">The name of the file, for the comment at the head of the new one.</param>
    /// <param name="factor">How many times larger; positive.</param>
    /// <param name="keep">Groups to keep, of <see cref="SizeLaw.Names"/>; empty to choose.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The file is wrong, or it cannot be built at the new size; the message says why.</exception>
    public static ScaleReport Run(
        string text, string name, double factor, IReadOnlyList<string> keep, RehearsalOptions options, IProgress<RehearsalStep>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(text);
        var original = ApparatusFile.Read(text, name).Apparatus ?? throw new ArgumentException("The file is wrong.", nameof(text));
        var law = SizeLaw.Of(original, factor, keep);
        string fresh;
        IReadOnlyList<string> notes;
        try
        {
            (fresh, notes) = ScaledFile.Of(text, name, original, law);
        }
        catch (InvalidOperationException e)
        {
            throw new ArgumentException(e.Message, nameof(text), e);
        }

        var reading = ApparatusFile.Read(fresh, name);
        if (reading.Apparatus is not { } scaled)
            throw new ArgumentException($"At this size it cannot be built: {reading.Mistakes[0].Finding}; expected {reading.Mistakes[0].Expectation}.", nameof(factor));
        var before = Rehearsal.Run(original, options, progress, cancellation);
        var after = Rehearsal.Run(scaled, options, progress, cancellation);
        var panel = new RoutePanel(scaled, options.RelativeTarget, cancellation);
        var claims = before.Verdicts.Zip(after.Verdicts, (b, a) => new ScaledClaim(b, a, a.Outcome == Outcome.Holds ? "" : ScaleAdvice.Of(a, scaled, panel))).ToList();
        return new ScaleReport(fresh, law, notes, Consequences(original, scaled, options, cancellation), claims, before, after);
    }

    private static List<Consequence> Consequences(Apparatus original, Apparatus scaled, RehearsalOptions options, CancellationToken cancellation)
    {
        var found = new List<Consequence>();
        RoutePanel before = new(original, options.RelativeTarget, cancellation), after = new(scaled, options.RelativeTarget, cancellation);
        void Ask(string kindName, SubjectKind subjectKind, string subject)
        {
            var kind = MeasureCatalogue.Kinds.First(k => k.Name == kindName && k.Subject == subjectKind);
            var measure = new Measure(kind.Name, subject, null, [], null, false, kind.Write(subject));
            if (before.RoutesFor(kind, subject).Count > 0 && before.Cheapest(measure, null).Leading is { } b && after.Cheapest(measure, null).Leading is { } a)
                found.Add(new Consequence(measure.Text, kind.Unit, b.Value, a.Value));
        }

        for (int i = 0; i < original.Supplies.Count; i++)
        {
            Supply s = original.Supplies[i], t = scaled.Supplies[i];
            if (s.Frequency > 0)
                found.Add(new Consequence("frequency of " + s.Name, "Hz", s.Frequency, t.Frequency));
            Ask("current", SubjectKind.Supply, s.Name);
            Ask("voltage needed", SubjectKind.Supply, s.Name);
            Ask("power", SubjectKind.Supply, s.Name);
        }

        for (int i = 0; i < original.Windings.Count; i++)
        {
            Winding w = original.Windings[i], v = scaled.Windings[i];
            found.Add(new Consequence("wire of " + w.Name, "", double.NaN, double.NaN, w.Wire.Text, v.Wire.Text));
            found.Add(new Consequence("copper of " + w.Name, "kg", Mass(w, original), Mass(v, scaled)));
            Ask("resistance", SubjectKind.Winding, w.Name);
            Ask("copper loss", SubjectKind.Winding, w.Name);
            if (Current(before, w) is { } was && Current(after, v) is { } now)
            {
                double limit = InsulationClasses.Limit(w.ThermalClass);
                found.Add(new Consequence($"time to {limit - PhysicalConstants.ZeroCelsius:0} °C in {w.Name}", "s", Warming.TimeTo(w, original, was, limit), Warming.TimeTo(v, scaled, now, limit)));
            }
        }

        foreach (var part in original.Parts.Where(p => p.Freedom != Freedom.Fixed))
            Ask("weight", SubjectKind.Part, part.Name);
        return found;
    }

    private static double? Current(RoutePanel panel, Winding winding)
    {
        var measure = new Measure("current", winding.Name, null, [], null, false, "current in " + winding.Name);
        return panel.Cheapest(measure, null).Leading is { Value: > 0 } answer ? answer.Value : null;
    }

    private static double Mass(Winding winding, Apparatus apparatus) =>
        (winding.Wire.Metal.Density ?? 0) * winding.Wire.Strands * 0.25 * Math.PI * winding.Wire.BareDiameter * winding.Wire.BareDiameter * Warming.WireLength(winding, apparatus);
}

/// <summary>What to change when a claim does not hold at the new size.</summary>
internal static class ScaleAdvice
{
    private const double Step = 0.02, Furthest = 0.6;

    /// <summary>One sentence; it names numbers, and says where they are straight-line estimates.</summary>
    public static string Of(Verdict verdict, Apparatus apparatus, RoutePanel panel)
    {
        var claim = verdict.Claim;
        if (verdict.Answer.Leading is not { } answer)
            return "No route could answer at this size.";
        double limit = answer.Value > claim.Bound.Upper ? claim.Bound.Upper : claim.Bound.Lower;
        if (verdict.Outcome == Outcome.TooClose && !(answer.Value > claim.Bound.Upper || answer.Value < claim.Bound.Lower))
            return verdict.Tolerances is { Swings.Count: > 0 } tolerances && tolerances.Reach > answer.ErrorBar
                ? $"Hold the {tolerances.Swings.MaxBy(s => s.Reach)!.Doubt.Input.Text} more closely, or leave more room." : "Aim closer (--target), or leave more room.";
        if (claim.Measure.After is { } after && answer.Value > limit && limit > apparatus.Ambient)
            return Text($"Switch on for about {Shown.Digits(after * (limit - apparatus.Ambient) / (answer.Value - apparatus.Ambient), 2)} s at a go instead of {after:0.#} s, or wind thicker wire.");
        if (claim.Measure.Kind == "voltage needed" && answer.Value > limit)
            return Text($"Wind {Shown.Digits(100 * limit / answer.Value, 2)} % of the turns in wire of {Shown.Digits(answer.Value / limit, 3)} times the section: the voltage falls to the limit and the current rises {Shown.Digits(answer.Value / limit, 3)} times.");
        return ByCurrent(claim, answer, limit, apparatus, panel) ?? "No current near this one brings it about; let 'tune' look over the dials, or keep another group.";
    }

    private static string? ByCurrent(Claim claim, Answer answer, double limit, Apparatus apparatus, RoutePanel panel)
    {
        foreach (var supply in apparatus.Supplies)
            foreach (string winding in supply.Feeds.Take(1))
            {
                if (!Inputs.TryReadName("current in " + winding, apparatus, out var input, out _) || Inputs.Find(input, apparatus) is not var (_, slot) || slot.Value is not { } now || now == 0)
                    continue;
                var more = claim.Measure with { Conditions = [.. claim.Measure.Conditions.Where(c => c.Input.Text != input.Text), new Setting(input, now * (1 + Step))] };
                if (panel.Cheapest(more, claim.State).Leading is not { } there || panel.Cheapest(claim.Measure, claim.State).Leading is not { } here)
                    continue;
                double needed = Step * (limit - answer.Value) / (there.Value - here.Value);
                if (!double.IsFinite(needed) || Math.Abs(needed) > Furthest)
                    continue;
                string others = apparatus.Supplies.Count > 1 ? ", the other supplies as they are" : "";
                return Text($"About {Inputs.Write(input, now * (1 + needed), apparatus)} in '{winding}' instead of {Inputs.Write(input, now, apparatus)}{others} (a straight-line estimate).");
            }

        return null;
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
