using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Protection;

/// <summary>What a protective device will do at a current held for a time.</summary>
public enum ProtectionVerdict
{
    /// <summary>It must hold.</summary>
    Holds,

    /// <summary>It may trip or hold: two sound specimens may differ.</summary>
    MayTrip,

    /// <summary>It must trip within the time.</summary>
    Trips,
}

/// <summary>A miniature circuit breaker for household use.</summary>
/// <remarks>
/// Guaranteed limits from cold at the reference temperature: 1.13 In holds and 1.45 In trips within the conventional time (1 h up to 63 A, 2 h above, the 2 h from memory); 2.55 In trips
/// within 60 s up to 32 A and 120 s above, not before 1 s (from memory); below the lower instantaneous limit it must hold 0.1 s, at the upper it must open within 0.1 s. Between them
/// nothing is promised. Read in public summaries of the standard; the standard itself was not opened. Local codes and licensed practice decide.
/// </remarks>
/// <source key="IEC60898"/>
public sealed class Breaker
{
    private static readonly Dictionary<char, (double Hold, double Trip)> Bands = new() { ['B'] = (3, 5), ['C'] = (5, 10), ['D'] = (10, 20) };

    /// <summary>A breaker.</summary>
    /// <param name="type">B, C or D.</param>
    /// <param name="rating">Rated current In, A rms; positive.</param>
    /// <exception cref="ArgumentException">The type is unknown or the rating not positive.</exception>
    public Breaker(char type, double rating)
    {
        Type = Bands.ContainsKey(char.ToUpperInvariant(type)) ? char.ToUpperInvariant(type) : throw new ArgumentException($"IEC 60898 has no type '{type}'; the types are B, C and D.", nameof(type));
        Rating = Guard.Positive(rating);
    }

    /// <summary>Preferred ratings, A.</summary>
    public static IReadOnlyList<double> PreferredRatings { get; } = [6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125];

    /// <summary>B, C or D.</summary>
    public char Type { get; }

    /// <summary>In, A rms.</summary>
    public double Rating { get; }

    /// <summary>Below this it does not trip at once, A rms.</summary>
    public double HoldsInstantly => Bands[Type].Hold * Rating;

    /// <summary>From this on it trips at once, A rms.</summary>
    public double TripsInstantly => Bands[Type].Trip * Rating;

    /// <summary>What it does at a current held for a time from cold.</summary>
    /// <param name="rmsCurrent">A rms; not negative.</param>
    /// <param name="time">s; positive.</param>
    public ProtectionVerdict At(double rmsCurrent, double time)
    {
        Guard.NotNegative(rmsCurrent);
        Guard.Positive(time);
        double x = rmsCurrent / Rating, conventional = Rating <= 63 ? 3600 : 7200, quick = Rating <= 32 ? 60 : 120;
        if (x >= Bands[Type].Trip)
            return time >= 0.1 ? ProtectionVerdict.Trips : ProtectionVerdict.MayTrip;
        if (x >= 1.45 && time >= conventional || x >= 2.55 && time >= quick)
            return ProtectionVerdict.Trips;
        if (x <= 1.13 && time <= conventional || x <= 1)
            return ProtectionVerdict.Holds;
        double holds = x <= 2.55 ? 1 : 0.1;
        return x < Bands[Type].Hold && time < holds ? ProtectionVerdict.Holds : ProtectionVerdict.MayTrip;
    }

    /// <summary>Whether an inrush can trip it: its peak against the magnetic release, taken to act on peak over √2.</summary>
    /// <param name="peakCurrent">Highest peak, A.</param>
    /// <remarks>A release answers to more than the first peak; this is the cautious side (common practice, no source).</remarks>
    public ProtectionVerdict AtInrush(double peakCurrent)
    {
        double rms = Guard.NotNegative(peakCurrent) / Math.Sqrt(2);
        return rms < HoldsInstantly ? ProtectionVerdict.Holds : rms < TripsInstantly ? ProtectionVerdict.MayTrip : ProtectionVerdict.Trips;
    }
}

/// <summary>A gG fuse by its conventional currents.</summary>
/// <remarks>Non-fusing 1.25 In and fusing 1.6 In from 16 A on; 1.5 In and 1.9 In below (1.6 and 1.9 read on a page about cable sizing, 1.25 and 1.5 from memory). Conventional
/// time 1 h up to 63 A, 2 h to 160 A (from memory). Shorter times depend on the maker's curve and are not judged: any current above non-fusing may melt it.</remarks>
/// <source key="IEC60269"/>
/// <param name="rating">Rated current, A rms; positive.</param>
public sealed class GeneralFuse(double rating)
{
    /// <summary>In, A rms.</summary>
    public double Rating { get; } = Guard.Positive(rating);

    /// <summary>What it does at a current held for a time.</summary>
    /// <param name="rmsCurrent">A rms; not negative.</param>
    /// <param name="time">s; positive.</param>
    public ProtectionVerdict At(double rmsCurrent, double time)
    {
        double x = Guard.NotNegative(rmsCurrent) / Rating, conventional = Rating <= 63 ? 3600 : 7200;
        Guard.Positive(time);
        if (x >= (Rating >= 16 ? 1.6 : 1.9) && time >= conventional)
            return ProtectionVerdict.Trips;
        return x <= 1 || x <= (Rating >= 16 ? 1.25 : 1.5) && time <= conventional ? ProtectionVerdict.Holds : ProtectionVerdict.MayTrip;
    }
}
