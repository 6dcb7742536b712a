using Fieldwright.Numerics;

namespace Fieldwright.Matter.Safety;

/// <summary>Reference levels of magnetic fields for people, T: rms when the field alternates.</summary>
/// <remarks>Reference levels, not basic restrictions: below them nothing more need be shown, above them more must be. National rules may set less.</remarks>
public static class FieldLimits
{
    private const string Guideline = "ICNIRP 2010", Remembered = "ICNIRP 2010, from memory";

    // Upper end of each band in Hz, and the level at a frequency in it.
    private static readonly (double UpTo, Func<double, double> Level)[] Public =
    [
        (8, f => 4e-2 / (f * f)), (25, f => 5e-3 / f), (400, _ => 2e-4), (3e3, f => 8e-2 / f), (1e7, _ => 2.7e-5),
    ];

    private static readonly (double UpTo, Func<double, double> Level)[] Workers =
    [
        (8, f => 0.2 / (f * f)), (25, f => 2.5e-2 / f), (300, _ => 1e-3), (3e3, f => 0.3 / f), (1e7, _ => 1e-4),
    ];

    /// <summary>Static field that persons with implants and loose iron must be kept out of: 0.5 mT.</summary>
    /// <source key="Directive2013"/>
    public static SafetyLimit Implants { get; } = new(0.5e-3, "ICNIRP 2009 and Directive 2013/35/EU, from memory", 'c');

    /// <summary>Static field beyond which a strong magnet may pull loose iron into flight: 3 mT.</summary>
    /// <source key="Directive2013"/>
    public static SafetyLimit FlyingIron { get; } = new(3e-3, "Directive 2013/35/EU, annex II, from memory", 'c');

    /// <summary>Level for the public, at a frequency.</summary>
    /// <param name="frequency">Hz; 0 for a static field, otherwise 1 Hz to 10 MHz.</param>
    /// <exception cref="ArgumentOutOfRangeException">The guideline gives no level there.</exception>
    /// <source key="ICNIRP2010"/>
    /// <source key="ICNIRP2009"/>
    public static SafetyLimit ForPublic(double frequency) => frequency == 0
        ? new(0.4, "ICNIRP 2009", 'a')
        : new(Level(Public, frequency), frequency is 50 or 60 ? Guideline : Remembered, frequency is 50 or 60 ? 'a' : 'c');

    /// <summary>Level for people at work, at a frequency.</summary>
    /// <param name="frequency">Hz; 0 for a static field, otherwise 1 Hz to 10 MHz.</param>
    /// <exception cref="ArgumentOutOfRangeException">The guideline gives no level there.</exception>
    /// <source key="ICNIRP2010"/>
    /// <source key="ICNIRP2009"/>
    public static SafetyLimit ForWorkers(double frequency) => frequency == 0
        ? new(2, "ICNIRP 2009", 'a')
        : new(Level(Workers, frequency), frequency == 60 ? Guideline : Remembered, frequency == 60 ? 'a' : 'c');

    private static double Level((double UpTo, Func<double, double> Level)[] bands, double frequency)
    {
        Guard.InRange(frequency, 1, bands[^1].UpTo);
        return bands.First(b => frequency <= b.UpTo).Level(frequency);
    }
}
