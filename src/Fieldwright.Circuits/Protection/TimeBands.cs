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

/// <summary>One thing a standard promises of a device: at this current it holds so long, and has opened after so long.</summary>
/// <param name="Current">Current over rated current.</param>
/// <param name="HoldsFor">Time it surely holds, s; 0 when nothing is promised.</param>
/// <param name="OpensBy">Time by which it has surely opened, s; infinite when nothing is promised.</param>
public readonly record struct Promise(double Current, double HoldsFor, double OpensBy);

/// <summary>A protective device by what its standard promises. What holds at one current holds at less, what opens at one opens at more; in between nothing is promised.</summary>
public abstract class ProtectiveDevice
{
    private readonly Promise[] promises;

    private protected ProtectiveDevice(double rating, params ReadOnlySpan<Promise> promises)
    {
        Rating = Guard.Positive(rating);
        this.promises = promises.ToArray();
    }

    /// <summary>Rated current In, A rms.</summary>
    public double Rating { get; }

    /// <summary>How long it surely holds a current from cold, s; infinite up to the rated current.</summary>
    /// <param name="rmsCurrent">A rms; not negative.</param>
    public double HoldsFor(double rmsCurrent)
    {
        // A hair's breadth of rounding must not cost an hour.
        double x = Guard.NotNegative(rmsCurrent) / Rating * (1 - 1e-9);
        return x <= 1 ? double.PositiveInfinity : promises.Where(p => p.Current >= x).Select(p => p.HoldsFor).DefaultIfEmpty(0).Max();
    }

    /// <summary>When it has surely opened at a current held from cold, s; infinite when it need not.</summary>
    /// <param name="rmsCurrent">A rms; not negative.</param>
    public double OpensBy(double rmsCurrent)
    {
        double x = Guard.NotNegative(rmsCurrent) / Rating * (1 + 1e-9);
        return promises.Where(p => p.Current <= x).Select(p => p.OpensBy).DefaultIfEmpty(double.PositiveInfinity).Min();
    }

    /// <summary>What it does at a current held for a time from cold.</summary>
    /// <param name="rmsCurrent">A rms; not negative.</param>
    /// <param name="time">s; positive.</param>
    public ProtectionVerdict At(double rmsCurrent, double time)
    {
        Guard.Positive(time);
        return OpensBy(rmsCurrent) <= time ? ProtectionVerdict.Trips : time <= HoldsFor(rmsCurrent) ? ProtectionVerdict.Holds : ProtectionVerdict.MayTrip;
    }
}
