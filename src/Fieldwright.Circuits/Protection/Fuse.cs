namespace Fieldwright.Circuits.Protection;

/// <summary>A fuse: <c>gG</c> for cables and general use, <c>F</c> quick and <c>T</c> slow for apparatus.</summary>
/// <remarks>
/// <para>gG after IEC 60269: non-fusing 1.25 In and fusing 1.6 In from 16 A on, 1.5 and 1.9 In below (1.6 and 1.9 read on a page about cable sizing, the rest from memory); conventional time 1 h up
/// to 63 A, 2 h to 160 A; the gates of 10 s, 5 s and 0.1 s from 16 A to 100 A (from memory). Of other ratings only the conventional currents are promised.</para>
/// <para>F and T after IEC 60127-2 for 5 × 20 mm cartridges of 1 A to 6.3 A (from memory): 1.5 In holds for an hour, and bands at 2.1, 2.75, 4 and 10 In; taken for other ratings too.</para>
/// <para>From cold, at room temperature. None of these standards was opened. Local codes and licensed practice decide.</para>
/// </remarks>
/// <source key="IEC60269"/>
/// <source key="IEC60127"/>
public sealed class Fuse : ProtectiveDevice
{
    private const double Never = double.PositiveInfinity;

    // Rated current; the currents held for 10 s, opened in 5 s, held for 0.1 s, opened in 0.1 s.
    private static readonly double[][] Gates =
    [
        [16, 33, 65, 85, 150], [20, 42, 85, 110, 200], [25, 52, 110, 150, 260], [32, 75, 150, 200, 350], [40, 95, 190, 260, 450], [50, 125, 250, 350, 610],
        [63, 160, 320, 450, 820], [80, 215, 425, 610, 1100], [100, 290, 580, 820, 1450],
    ];

    /// <summary>A fuse.</summary>
    /// <param name="kind">gG, F or T.</param>
    /// <param name="rating">Rated current, A rms; positive.</param>
    /// <exception cref="ArgumentException">The kind is not known or the rating not positive.</exception>
    public Fuse(string kind, double rating)
        : base(rating, Promises(kind, rating)) => Kind = kind;

    /// <summary>Kinds that are known.</summary>
    public static IReadOnlyList<string> Kinds { get; } = ["gG", "F", "T"];

    /// <summary>gG, F or T.</summary>
    public string Kind { get; }

    private static Promise[] Promises(string kind, double rating)
    {
        switch (kind)
        {
            case "gG":
                double conventional = rating <= 63 ? 3600 : 7200;
                var promises = new List<Promise> { new(rating >= 16 ? 1.25 : 1.5, conventional, Never), new(rating >= 16 ? 1.6 : 1.9, 0, conventional) };
                if (Gates.FirstOrDefault(g => g[0] == rating) is { } gate)
                    promises.AddRange([new(gate[1] / rating, 10, Never), new(gate[2] / rating, 0, 5), new(gate[3] / rating, 0.1, Never), new(gate[4] / rating, 0, 0.1)]);
                return [.. promises];
            case "F":
                return [new(1.5, 3600, Never), new(2.1, 0, 1800), new(2.75, 0.05, 2), new(4, 0.01, 0.3), new(10, 0, 0.02)];
            case "T":
                return [new(1.5, 3600, Never), new(2.1, 0, 120), new(2.75, 0.6, 10), new(4, 0.15, 3), new(10, 0.02, 0.3)];
            default:
                throw new ArgumentException($"No fuse is called '{kind}'; the kinds are {string.Join(", ", Kinds)}.", nameof(kind));
        }
    }
}
