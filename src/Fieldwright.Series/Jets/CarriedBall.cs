using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Jets;

/// <summary>A ball carried by an upright free jet of water: what speed carries it, how high it rides, how far it may stray.</summary>
/// <remarks>
/// Two pictures. A ball at least twice as wide as the jet turns the jet aside: the momentum that arrives, ρ q v, carries it, times a share c that says how much of the upward momentum is taken out; c is 1
/// when the water leaves level and less when it clings to the ball and runs on upwards (0.5 to 1 taken: common practice, no source). A ball no wider than the jet is carried by drag in a stream. In between
/// neither holds. A jet that meets the ball off its middle pushes square to the surface there, so that the lift falls as 1 − (2e/D)² (a jet on a slanted plate, friction left out). Up to there water that
/// clings draws the ball back into the jet; how strongly is not reckoned. The jet keeps together and loses no speed to the air: good for some tens of centimetres.
/// </remarks>
/// <source key="White2011"/>
public sealed record CarriedBall
{
    private const double LeastShare = 0.5, MostShare = 1, DragSpread = 0.1, WideEnough = 2;
    private readonly double flow, bore, radius, weight;

    /// <summary>A ball and a jet.</summary>
    /// <param name="flow">Flow out of the nozzle, m³/s; positive.</param>
    /// <param name="bore">Bore of the nozzle, m; positive.</param>
    /// <param name="radius">Radius of the ball, m; positive.</param>
    /// <param name="mass">Mass of the ball, kg; positive.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not positive.</exception>
    public CarriedBall(double flow, double bore, double radius, double mass)
    {
        (this.flow, this.bore, this.radius) = (Guard.Positive(flow), Guard.Positive(bore), Guard.Positive(radius));
        weight = Guard.Positive(mass) * PhysicalConstants.StandardGravity;
    }

    /// <summary>Whether the ball turns the jet aside; otherwise it is carried by drag.</summary>
    public bool TurnsTheJet => 2 * radius >= WideEnough * bore;

    /// <summary>Whether one of the two pictures holds.</summary>
    public bool IsWithin => TurnsTheJet || 2 * radius <= bore;

    /// <summary>Speed of the water as it leaves the nozzle, m/s.</summary>
    public double SpeedAtNozzle => flow / Area(bore);

    /// <summary>How high the jet goes without a ball, m: no ball rides higher.</summary>
    public double FreeHeight => SpeedAtNozzle * SpeedAtNozzle / (2 * PhysicalConstants.StandardGravity);

    /// <summary>Height of the ball's underside above the nozzle, m; negative: it lies on the nozzle.</summary>
    public Estimate<double> Height => Over(share => Rise(SpeedThatCarries(flow, share)));

    /// <summary>Least flow that lifts the ball off the nozzle, m³/s.</summary>
    public Estimate<double> LeastFlow => Over(share =>
    {
        // ρ q² / A = weight / c, or the speed of the stream times the mouth.
        return TurnsTheJet ? Math.Sqrt(weight * Area(bore) / (Water.Density * share)) : SpeedThatCarries(flow, share) * Area(bore);
    });

    /// <summary>How far the middle of the ball may lie beside the axis of the jet before it falls, m; nothing when the jet cannot carry it at all.</summary>
    public Estimate<double> Wander => Over(share =>
    {
        double spare = 1 - SpeedThatCarries(flow, share) / SpeedAtNozzle;
        return TurnsTheJet ? radius * Math.Sqrt(Math.Max(0, spare)) : spare > 0 ? 0.5 * bore : 0;
    });

    /// <summary>Drag coefficient of a ball in a steady stream.</summary>
    /// <param name="reynolds">Reynolds number of its diameter; positive, below 2·10⁵.</param>
    /// <returns>Drag over ½ρv² and cross-section, a pure number: good to some per cent, and to 10 % from 10³ on.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is not positive.</exception>
    /// <source key="SchillerNaumann1933"/>
    public static double DragCoefficient(double reynolds) => Math.Max(24 / Guard.Positive(reynolds) * (1 + 0.15 * Math.Pow(reynolds, 0.687)), 0.44);

    private double SpeedThatCarries(double q, double share)
    {
        if (TurnsTheJet)
            return weight / (Water.Density * q * share);
        // ½ ρ C v² π R² = weight, C at the speed itself.
        double v = 1;
        for (int i = 0; i < 60; i++)
            v = Math.Sqrt(2 * weight / (Water.Density * share * DragCoefficient(2 * radius * v * Water.Density / Water.Viscosity) * Math.PI * radius * radius));
        return v;
    }

    private double Rise(double speed) => FreeHeight - speed * speed / (2 * PhysicalConstants.StandardGravity);

    // The middle of the range, its bar reaching to both ends.
    private Estimate<double> Over(Func<double, double> value)
    {
        var (least, most) = TurnsTheJet ? (LeastShare, MostShare) : (1 - DragSpread, 1 + DragSpread);
        double middle = value(0.5 * (least + most));
        return new Estimate<double>(middle, Math.Max(Math.Abs(value(least) - middle), Math.Abs(value(most) - middle)));
    }

    private static double Area(double across) => 0.25 * Math.PI * across * across;
}
