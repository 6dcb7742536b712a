namespace Fieldwright.Matter.Safety;

/// <summary>What a hand may touch: hot metal and live metal.</summary>
public static class TouchLimits
{
    /// <summary>Bare smooth metal burns skin that touches it for a second, K: lower end of the band.</summary>
    /// <source key="ISO13732"/>
    public static SafetyLimit BurnsInASecond { get; } = Celsius(65);

    /// <summary>Bare smooth metal burns skin that touches it for a minute, K.</summary>
    /// <source key="ISO13732"/>
    public static SafetyLimit BurnsInAMinute { get; } = Celsius(51);

    /// <summary>Bare live parts that may be touched in a dry place, V: rms when alternating.</summary>
    /// <param name="alternating">Whether the voltage alternates.</param>
    /// <source key="IEC60598"/>
    public static SafetyLimit LiveParts(bool alternating) => new(alternating ? 25 : 60, "IEC 60598-1:2008, 8.2.3", 'a');

    /// <summary>End of safety extra-low voltage, V: rms when alternating, ripple-free when direct.</summary>
    /// <param name="alternating">Whether the voltage alternates.</param>
    /// <source key="IEC61558"/>
    public static SafetyLimit ExtraLowVoltage(bool alternating) => new(alternating ? 50 : 120, "International Electrotechnical Vocabulary, from IEC 61558-1", 'a');

    /// <summary>Energy left in a capacitor that a hand may meet, J.</summary>
    /// <source key="IEC61010"/>
    public static SafetyLimit StoredEnergy { get; } = new(0.35, "IEC 61010-1:2010, from memory", 'c');

    private static SafetyLimit Celsius(double value) =>
        new(value + PhysicalConstants.ZeroCelsius, "ISO 13732-1:2006, not opened, its value from memory", 'c');
}
