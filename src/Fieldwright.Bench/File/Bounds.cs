using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Reads the bound of a claim in the unit of its measure.</summary>
internal static class Bounds
{
    /// <summary>The bound; null when it cannot be read, and then a mistake says why.</summary>
    public static Bound? Read(Section claim, MeasureKind kind, Apparatus apparatus, List<Mistake> mistakes)
    {
        double? Value(Found? found)
        {
            var phrase = (Phrase)found!;
            string text = phrase.Text;
            var swing = Units.TakeSwing(ref text);
            if (!Units.TryRead(text, kind.Unit, out double value, out string problem))
                mistakes.Add(new Mistake(phrase.Node.Line, phrase.Node.Column, problem, $"a value of {kind.Name} in {(kind.Unit.Length == 0 ? "bare numbers" : kind.Unit)}"));
            else
                return value * Factor(kind, swing, apparatus);
            return null;
        }

        switch (claim.Alternative!.Marker)
        {
            case "at least":
                return Value(claim.Phrase("at least")) is { } least ? new Bound(BoundKind.AtLeast, least, double.PositiveInfinity, $"at least {claim.Text("at least")}") : null;
            case "at most":
                return Value(claim.Phrase("at most")) is { } most ? new Bound(BoundKind.AtMost, double.NegativeInfinity, most, $"at most {claim.Text("at most")}") : null;
            case "between":
                var pair = claim.List("between");
                if (Value(pair[0]) is not { } low || Value(pair[1]) is not { } high)
                    return null;
                if (low < high)
                    return new Bound(BoundKind.Between, low, high, $"between {((Phrase)pair[0]!).Text} and {((Phrase)pair[1]!).Text}");
                mistakes.Add(new Mistake(claim.At("between").Line, claim.At("between").Column, $"between {((Phrase)pair[0]!).Text} and {((Phrase)pair[1]!).Text}", "the lower value first"));
                return null;
            default:
                return Value(claim.Phrase("about")) is { } about && Within(claim.Phrase("within")!, about, kind, apparatus, mistakes) is { } within
                    ? new Bound(BoundKind.About, about - within, about + within, $"about {claim.Text("about")} within {claim.Text("within")}") : null;
        }
    }

    private static double? Within(Phrase phrase, double about, MeasureKind kind, Apparatus apparatus, List<Mistake> mistakes)
    {
        string text = phrase.Text;
        double width;
        string problem;
        if (text.EndsWith('%') && kind.Unit != "%")
        {
            if (Units.TryRead(text, "%", out width, out problem))
                width *= Math.Abs(about);
        }
        else
        {
            var swing = Units.TakeSwing(ref text);
            // A difference of temperatures: 5 °C is 5 K here, not 278 K.
            if (kind.Unit == "°C" && text.EndsWith("°C", StringComparison.Ordinal))
                text = text[..^2] + "K";
            Units.TryRead(text, kind.Unit, out width, out problem);
            width *= Factor(kind, swing, apparatus);
        }

        if (problem.Length == 0 && width > 0)
            return width;
        mistakes.Add(new Mistake(phrase.Node.Line, phrase.Node.Column, problem.Length > 0 ? problem : $"within '{Words.Shorten(phrase.Text)}'", $"how far off it may be, such as 5 %, or a value in {kind.Unit}"));
        return null;
    }

    // Currents and voltages are answered as rms, flux and flux density as peak; a bound may be written either way.
    private static double Factor(MeasureKind kind, Swing swing, Apparatus apparatus)
    {
        if (swing == Swing.Unsaid || apparatus.Frequency == 0)
            return 1;
        bool peakMeasure = kind.Name is "flux" or "flux density";
        return (peakMeasure, swing) switch
        {
            (true, Swing.Rms) => Math.Sqrt(2),
            (false, Swing.Peak) => 1 / Math.Sqrt(2),
            _ => 1,
        };
    }
}
