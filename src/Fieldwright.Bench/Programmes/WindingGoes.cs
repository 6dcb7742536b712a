using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Programmes;

/// <summary>A winding that is switched on several times with pauses: how warm it gets, and how long the pauses must be.</summary>
/// <param name="Winding">Its name.</param>
/// <param name="Current">Current while on, A (rms when it alternates).</param>
/// <param name="Limit">What its insulation bears, K.</param>
/// <param name="Longest">Longest go from the temperature it starts at, s.</param>
/// <param name="Peaks">Temperature at the end of each go, K, with the pauses of <see cref="Pause"/>.</param>
/// <param name="Pause">Least pause between goes, s; 0 when it may be switched on again at once, infinite when a single go is too long.</param>
/// <param name="UntilTouch">Time after the last go until it may be touched for a minute, s; 0 when it may be at once.</param>
/// <param name="End">Temperature at the end of the last go, K.</param>
/// <param name="TimeConstant">Time constant of its cooling, s.</param>
public sealed record WindingGoes(
    string Winding, double Current, double Limit, double Longest, IReadOnlyList<double> Peaks, double Pause, double UntilTouch, double End, double TimeConstant)
{
    // Natural convection and radiation from a warm coil in still air together, W/(m² K): common practice, no source; real coils lie between 6 and 12.
    private const double SurfaceHeatTransfer = 8;

    // Bare metal for a touch of one minute (ISO 13732-1, value from memory).
    private const double Touch = PhysicalConstants.ZeroCelsius + 51;

    /// <summary>Temperatures and pauses of a winding.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    /// <param name="current">Current while on, A (rms when it alternates); positive.</param>
    /// <param name="on">Length of a go, s; positive.</param>
    /// <param name="goes">How many goes; positive.</param>
    /// <param name="start">Temperature at the first go, K.</param>
    /// <remarks>On: no cooling is counted, the resistance rises with temperature. Off: the whole winding cools as one body through its surface at 8 W/(m² K) (common practice, no source);
    /// the inside of a thick coil stays warm for longer.</remarks>
    /// <exception cref="RouteFailedException">Density or specific heat of the wire's metal is not known.</exception>
    public static WindingGoes Of(Winding winding, Apparatus apparatus, double current, double on, int goes, double start)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        double limit = InsulationClasses.Limit(winding.ThermalClass), ambient = apparatus.Ambient;
        // Seconds on from the temperature of the hall at this current stand for temperatures: a go moves on along the same curve.
        double At(double seconds) => Warming.OfWinding(winding, apparatus, new Estimate(current, 0), seconds).Value;
        double SecondsTo(double temperature) => temperature <= ambient ? 0 : Warming.TimeTo(winding, apparatus, current, temperature);
        double whole = SecondsTo(limit), startMost = whole > on ? At(whole - on) : double.NaN;
        double constant = TimeConstantOf(winding, apparatus);
        double now = Math.Max(start, ambient), pause = 0;
        var peaks = new List<double>();
        double first = At(SecondsTo(now) + on);
        if (goes > 1 && first > startMost)
            pause = constant * Math.Log((limit - ambient) / (startMost - ambient));
        if (double.IsNaN(startMost))
            pause = double.PositiveInfinity;
        for (int go = 0; go < goes; go++)
        {
            double peak = At(SecondsTo(now) + on);
            peaks.Add(peak);
            now = ambient + (peak - ambient) * Math.Exp(-(double.IsFinite(pause) ? pause : 0) / constant);
        }

        double end = peaks[^1];
        double untilTouch = end <= Touch || ambient >= Touch ? 0 : constant * Math.Log((end - ambient) / (Touch - ambient));
        return new WindingGoes(winding.Name, current, limit, Math.Max(0, whole - SecondsTo(start)), peaks, pause, untilTouch, end, constant);
    }

    /// <summary>Temperature after a time switched off, K.</summary>
    public double After(double seconds, double ambient) => ambient + (End - ambient) * Math.Exp(-seconds / TimeConstant);

    private static double TimeConstantOf(Winding winding, Apparatus apparatus)
    {
        var metal = winding.Wire.Metal;
        double density = metal.Density ?? throw new RouteFailedException($"The density of {metal.Name} is not known.");
        double heat = metal.SpecificHeat ?? throw new RouteFailedException($"The specific heat of {metal.Name} is not known.");
        double section = winding.Wire.Strands * 0.25 * Math.PI * winding.Wire.BareDiameter * winding.Wire.BareDiameter;
        double capacity = density * heat * section * Warming.WireLength(winding, apparatus);
        return capacity / (SurfaceHeatTransfer * Surface(winding, apparatus));
    }

    // Round coils cool all round; a coil on a limb through its outside only; sides by their circumference.
    private static double Surface(Winding winding, Apparatus apparatus) => winding.Space switch
    {
        RoundSpace r => 2 * Math.PI * (r.InnerRadius + r.OuterRadius) * (r.ToZ - r.FromZ + r.OuterRadius - r.InnerRadius),
        LimbSpace limb => (Warming.MeanTurn(winding, apparatus) + Math.PI * limb.Build) * limb.Length,
        TwoSides sides => Warming.MeanTurn(winding, apparatus) * 2 * (sides.Out.Width + sides.Out.Height),
        _ => throw new RouteFailedException($"The surface of '{winding.Name}' is not known."),
    };
}
