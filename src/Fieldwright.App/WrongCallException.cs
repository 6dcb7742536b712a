using Fieldwright.Bench.File;

namespace Fieldwright.App;

/// <summary>The file or the call is wrong. Every line is ready to print; nothing has been written.</summary>
internal sealed class WrongCallException : Exception
{
    /// <summary>Says what is wrong in lines of its own.</summary>
    public WrongCallException(params IReadOnlyList<string> lines)
        : base(string.Join(Environment.NewLine, lines)) => Lines = lines;

    /// <summary>Says what is wrong by mistakes found in a place.</summary>
    /// <param name="place">The file, or the option.</param>
    /// <param name="mistakes">The mistakes.</param>
    public WrongCallException(string place, IEnumerable<Mistake> mistakes)
        : this([.. mistakes.Select(m => Line(place, m))])
    {
    }

    /// <summary>The lines to print.</summary>
    public IReadOnlyList<string> Lines { get; }

    /// <summary>A mistake in one line: place, finding, expectation, nearest word.</summary>
    public static string Line(string place, Mistake mistake) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture,
        $"{place}:{mistake.Line}:{mistake.Column}: {Sentence(mistake.Finding)}")
        + (mistake.Expectation.Length > 0 ? " expected " + mistake.Expectation.TrimEnd('.') : "")
        + (mistake.NearestWord is { } near ? $"; nearest: {near}" : "")
        + (mistake.Expectation.Length > 0 || mistake.NearestWord is not null ? "." : "");

    private static string Sentence(string finding) => finding.TrimEnd().TrimEnd('.') + ".";
}
