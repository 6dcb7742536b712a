using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.App.Page;

/// <summary>What a measure is drawn against: an input of the apparatus, or time.</summary>
/// <param name="Name">As people read it.</param>
/// <param name="Input">The input; null for time.</param>
/// <param name="From">Least, SI.</param>
/// <param name="To">Greatest, SI.</param>
/// <param name="Now">Where it stands, SI.</param>
/// <param name="SaidFrom">Least, as people write it.</param>
/// <param name="SaidTo">Greatest, as people write it.</param>
public sealed record CurveAxis(string Name, InputName? Input, double From, double To, double Now, string SaidFrom, string SaidTo)
{
    /// <summary>Number and unit at a place between the ends.</summary>
    public (double Number, string Unit) At(double value)
    {
        var (a, unit) = Split(SaidFrom);
        var (b, _) = Split(SaidTo);
        return (a + (b - a) * (value - From) / (To - From), unit);
    }

    private static (double, string) Split(string said)
    {
        string[] words = said.Split(' ', 2);
        return (double.Parse(words[0], System.Globalization.CultureInfo.InvariantCulture), words.Length > 1 ? words[1] : "");
    }
}

/// <summary>One point of a curve.</summary>
/// <param name="At">Where on the axis, SI.</param>
/// <param name="Answer">The answer there.</param>
public sealed record CurvePoint(double At, RoutedAnswer Answer);

/// <summary>Any measure against any dial, other input or time.</summary>
internal static class Curve
{
    /// <summary>Points of a curve: enough to see its shape, few enough to wait for.</summary>
    public const int Count = 9;

    private const double Target = 0.03;

    /// <summary>What a measure may be drawn against, dials first; what the measure itself sets is not among it.</summary>
    public static IReadOnlyList<CurveAxis> Axes(Apparatus apparatus, Measure measure)
    {
        var axes = new List<CurveAxis>();
        if (measure.After is not null)
            axes.Add(new CurveAxis("time", null, 0.001, 60, 30, "0.001 s", "60 s"));
        axes.AddRange(apparatus.Dials.Select(d => new CurveAxis(d.Input.Text, d.Input, d.From, d.To, d.Now, Inputs.Write(d.Input, d.From, apparatus), Inputs.Write(d.Input, d.To, apparatus))));
        foreach (var input in Inputs.Of(apparatus))
        {
            if (input.Value is not { } now || now == 0 || axes.Any(a => a.Name == input.Name.Text))
                continue;
            var (from, to) = now > 0 ? (0.5 * now, 1.5 * now) : (1.5 * now, 0.5 * now);
            axes.Add(new CurveAxis(input.Name.Text, input.Name, from, to, now, Inputs.Write(input.Name, from, apparatus), Inputs.Write(input.Name, to, apparatus)));
        }

        return [.. axes.Where(a => !measure.Conditions.Any(c => string.Equals(c.Input.Text, a.Name, StringComparison.OrdinalIgnoreCase)))];
    }

    /// <summary>The answer at one place of an axis; null where the apparatus makes no sense or no route answers.</summary>
    public static CurvePoint? At(Apparatus apparatus, Measure measure, CurveAxis axis, double value, CancellationToken cancellation)
    {
        try
        {
            var set = axis.Input is null ? measure with { After = value } : measure;
            var turned = axis.Input is { } input ? Inputs.Apply(apparatus, [new Setting(input, value)]) : apparatus;
            var answer = Rehearsal.Ask(turned, set, new RehearsalOptions(Target), null, cancellation);
            return answer.Leading is null ? null : new CurvePoint(value, answer);
        }
        catch (Exception e) when (e is ArgumentException or RouteFailedException or Geometry.OverlapException or Geometry.MeshLimitException)
        {
            return null;
        }
    }
}
