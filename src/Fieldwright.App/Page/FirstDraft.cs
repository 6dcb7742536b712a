namespace Fieldwright.App.Page;

/// <summary>The file that a new apparatus starts from: small, right, and with something to see at once.</summary>
internal static class FirstDraft
{
    /// <summary>The text.</summary>
    /// <param name="name">What the apparatus is called.</param>
    public static string Of(string name) => $$"""
        apparatus: {{Title(name)}}
        about: A plate over a coil, to begin with.
        symmetry: round

        parts:
          plate: {shape: disc, radius: 40 mm, thickness: 3 mm, at: {z: 6 mm}, of: aluminium 1050, moves: up and down}

        windings:
          coil: {turns: 300, wire: 1 mm grade 1, between radii: [15 mm, 35 mm], from z: -30 mm, to z: 0 mm}

        supplies:
          source: {current: 5 A, frequency: 50 Hz, feeds: coil}

        dials:
          current in coil: {from: 0 A, to: 15 A}

        claims:
          - {say: The plate feels a push, measure: lift on plate, at least: 0.05 N}

        """;

    private static string Title(string name)
    {
        string words = name.Replace('-', ' ').Replace('_', ' ').Trim();
        return words.Length == 0 ? "New apparatus" : char.ToUpperInvariant(words[0]) + words[1..];
    }
}
