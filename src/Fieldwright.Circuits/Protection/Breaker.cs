using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Protection;

/// <summary>A miniature circuit breaker for household use.</summary>
/// <remarks>
/// Guaranteed limits from cold at the reference temperature: 1.13 In holds and 1.45 In trips within the conventional time (1 h up to 63 A, 2 h above, the 2 h from memory); 2.55 In trips
/// within 60 s up to 32 A and 120 s above, not before 1 s (from memory); up to the lower instantaneous limit it must hold 0.1 s, at the upper it must open within 0.1 s. Between them
/// nothing is promised. Read in public summaries of the standard; the standard itself was not opened. Local codes and licensed practice decide.
/// </remarks>
/// <source key="IEC60898"/>
public sealed class Breaker : ProtectiveDevice
{
    private static readonly Dictionary<char, (double Hold, double Trip)> Bands = new() { ['B'] = (3, 5), ['C'] = (5, 10), ['D'] = (10, 20) };

    /// <summary>A breaker.</summary>
    /// <param name="type">B, C or D.</param>
    /// <param name="rating">Rated current In, A rms; positive.</param>
    /// <exception cref="ArgumentException">The type is unknown or the rating not positive.</exception>
    public Breaker(char type, double rating)
        : base(rating, Promises(Known(type), rating)) => Type = Known(type);

    /// <summary>Preferred ratings, A.</summary>
    public static IReadOnlyList<double> PreferredRatings { get; } = [6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125];

    /// <summary>B, C or D.</summary>
    public char Type { get; }

    /// <summary>Below this it does not trip at once, A rms.</summary>
    public double HoldsInstantly => Bands[Type].Hold * Rating;

    /// <summary>From this on it trips at once, A rms.</summary>
    public double TripsInstantly => Bands[Type].Trip * Rating;

    /// <summary>Whether an inrush can trip it: its peak against the magnetic release, taken to act on peak over √2.</summary>
    /// <param name="peakCurrent">Highest peak, A.</param>
    /// <remarks>A release answers to more than the first peak; this is the cautious side (common practice, no source).</remarks>
    public ProtectionVerdict AtInrush(double peakCurrent)
    {
        double rms = Guard.NotNegative(peakCurrent) / Math.Sqrt(2);
        return rms < HoldsInstantly ? ProtectionVerdict.Holds : rms < TripsInstantly ? ProtectionVerdict.MayTrip : ProtectionVerdict.Trips;
    }

    private static char Known(char type) => Bands.ContainsKey(char.ToUpperInvariant(type))
        ? char.ToUpperInvariant(type)
        : throw new ArgumentException($"IEC 60898 has no type '{type}'; the types are B, C and D.", nameof(type));

    private static Promise[] Promises(char type, double rating)
    {
        double conventional = rating <= 63 ? 3600 : 7200;
        return
        [
            new(1.13, conventional, double.PositiveInfinity), new(1.45, 1, conventional), new(2.55, 1, rating <= 32 ? 60 : 120),
            new(Bands[type].Hold, 0.1, double.PositiveInfinity), new(Bands[type].Trip, 0, 0.1),
        ];
    }
}
