namespace Fieldwright.Matter.Safety;

/// <summary>What a hand or an eye may be struck or squeezed with.</summary>
public static class BlowLimits
{
    /// <summary>Force that fingers may be squeezed with, N: the quasi-static limit for hands and fingers beside machines.</summary>
    /// <source key="ISO15066"/>
    public static SafetyLimit SqueezedFingers { get; } = new(140, "ISO/TS 15066:2016, annex A, from memory", 'c');

    /// <summary>Energy of a hard body that may fly freely among people, J: the limit for toys that shoot without a soft tip.</summary>
    /// <source key="EN71"/>
    public static SafetyLimit HardProjectile { get; } = new(0.08, "EN 71-1, projectile toys, from memory", 'c');

    /// <summary>Width of the cylinder that no part of a toy for children under three may fit into, m.</summary>
    /// <source key="EN71"/>
    public static SafetyLimit SmallPart { get; } = new(31.7e-3, "EN 71-1, small parts cylinder, from memory", 'c');

    /// <summary>Vibration of the hand and arm over a working day from which an employer must act, m/s² rms, weighted.</summary>
    /// <source key="Directive2002"/>
    public static SafetyLimit HandArmVibration { get; } = new(2.5, "Directive 2002/44/EC, action value, from memory", 'c');

    /// <summary>Sound at work from which hearing protection is offered, dB(A) over a day.</summary>
    /// <source key="Directive2003"/>
    public static SafetyLimit Noise { get; } = new(80, "Directive 2003/10/EC, lower action value, from memory", 'c');
}
