using Fieldwright.App;

namespace Fieldwright.Tests.App;

/// <summary>A call of the program within the test's own process, and what it said.</summary>
internal sealed record Spoken(int Code, string Out, string Error)
{
    public static Spoken Call(params string[] words) => CallWith(new StringWriter { NewLine = "\n" }, default, words);

    public static Spoken CallWith(TextWriter output, CancellationToken stop, params string[] words)
    {
        var error = new StringWriter { NewLine = "\n" };
        int code = CommandLine.Run(words, new Terminal(output, error, 92, Colours: false, ShowsProgress: false, Traces: false, stop));
        return new Spoken(code, output.ToString()!, error.ToString());
    }
}

/// <summary>A folder of its own for one test, gone afterwards.</summary>
internal sealed class Folder : IDisposable
{
    public Folder() => Path = Directory.CreateTempSubdirectory("fieldwright").FullName;

    public string Path { get; }

    public string File(string name, string text)
    {
        string path = System.IO.Path.Combine(Path, name);
        System.IO.File.WriteAllText(path, text);
        return path;
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}

/// <summary>Small apparatus that answer at once.</summary>
internal static class Small
{
    /// <summary>A coil with one claim on its resistance: about 1.2 Ω.</summary>
    public static string Coil(string bound) => $$"""
        apparatus: Coil
        symmetry: round
        windings:
          coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [20 mm, 26 mm], from z: 0 mm, to z: 10 mm}
        supplies:
          source: {current: 1 A, frequency: 0 Hz, feeds: coil}
        claims:
          - {say: The coil has the resistance we want, measure: resistance of coil, {{bound}}}
        """;

    /// <summary>A plate over a coil on alternating current.</summary>
    public const string Plate = """
        apparatus: Plate & coil
        symmetry: round
        parts:
          plate: {shape: disc, radius: 30 mm, thickness: 3 mm, at: {z: 14 mm}, of: aluminium 1050, moves: up and down}
        windings:
          coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [20 mm, 26 mm], from z: 0 mm, to z: 10 mm}
        supplies:
          source: {current: 5 A, frequency: 50 Hz, feeds: coil}
        """;
}
