using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Supplies;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Motion;

/// <summary>A part that was thrown, at the moment it left its tube or fell back, with the books of its energy.</summary>
/// <param name="Left">Whether it passed the mouth.</param>
/// <param name="Time">Time since the first switch, s.</param>
/// <param name="Speed">Speed upwards, m/s.</param>
/// <param name="Top">Highest place of its underside so far, m.</param>
/// <param name="MetalHeat">Heat made in all metal, J.</param>
/// <param name="WindingHeat">Heat made in the wire of each winding, J.</param>
/// <param name="CircuitHeat">Heat made in all wire and all internal resistances, J.</param>
/// <param name="InBanks">Energy left in all capacitor banks, J.</param>
/// <param name="InField">Energy of the field, J; zero when the field gave back what it held at first.</param>
/// <param name="Force">Force of the field on it at the end, N.</param>
internal sealed record Shot(bool Left, Estimate Time, Estimate Speed, Estimate Top, Estimate MetalHeat, IReadOnlyDictionary<string, Estimate> WindingHeat, Estimate CircuitHeat, Estimate InBanks, Estimate InField, double Force);

/// <summary>A route that can throw a part.</summary>
internal interface IThrowingRoute : IRoute
{
    /// <summary>Switches the supplies on and follows the part until it has left, fallen back or been waited for long enough.</summary>
    /// <param name="apparatus">The apparatus, all settings applied; <see cref="Shots.Suits"/> holds.</param>
    /// <param name="relativeTarget">Half-width to aim for, relative to the speed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The route could not follow it.</exception>
    Shot Throw(Apparatus apparatus, double relativeTarget, CancellationToken cancellation);
}

/// <summary>What throwing means: <see cref="Releases"/>, with a stop under the part where it lies, and a mouth it leaves by.</summary>
internal static class Shots
{
    // Periods of an alternating supply, or swings of a bank, that a throw may take before nothing but the flight is waited for.
    private const double Pushes = 10;

    /// <summary>What an answer says of how it was thrown.</summary>
    public const string Remark = "Switched on with the part lying on a stop; an alternating supply starts where a source of no phase passes zero, a bank swings as long as it will; resistances stay as they are at the temperature of the hall.";

    /// <summary>Whether a part of an apparatus can be thrown so.</summary>
    public static bool Suits(Apparatus apparatus) => Releases.Suits(apparatus) && apparatus.FieldSpeed() is null && apparatus.Supplies.Count > 0;

    /// <summary>Height at which the underside has left, m.</summary>
    public static double Mouth(Apparatus apparatus)
    {
        var part = Releases.Part(apparatus);
        if (part.Mouth is { } mouth)
            return mouth;
        double radius = part.Shape is DiscShape d ? d.Radius : part.Shape is RingShape r ? r.OuterRadius : Floats.Of(apparatus, part).Span;
        var tops = apparatus.Windings.Select(w => ((RoundSpace)w.Space).ToZ).Concat(apparatus.Parts.Where(p => p != part).Select(p => p.Top));
        return radius + tops.Append(part.Place.Z).Max();
    }

    /// <summary>How far the part must go, m.</summary>
    /// <exception cref="RouteFailedException">It lies beyond the mouth.</exception>
    public static double Way(Apparatus apparatus)
    {
        double way = Mouth(apparatus) - Releases.Part(apparatus).Place.Z;
        return way > 0 ? way : throw new RouteFailedException("It lies beyond the mouth already.");
    }

    /// <summary>Time in which the currents change much, s: a period, or the shortest swing of a capacitor bank; infinite for direct supplies. For the length of steps only, so the inductance is
    /// Wheeler's (common practice, no source).</summary>
    public static double Pace(Apparatus apparatus)
    {
        double pace = apparatus.Frequency > 0 ? 1 / apparatus.Frequency : double.PositiveInfinity;
        foreach (var supply in apparatus.Supplies.Where(s => s.Capacitance is not null))
            pace = Math.Min(pace, 2 * Math.PI * Math.Sqrt(supply.Capacitance!.Value * supply.Feeds.Sum(f => Wheeler(apparatus.Winding(f)!))));
        return pace;
    }

    /// <summary>Time after which nothing more is waited for, s.</summary>
    public static double Longest(Apparatus apparatus)
    {
        double pace = Pace(apparatus), slowest = apparatus.Windings.Max(w => Wheeler(w) / Duty.Warming.Resistance(w, apparatus));
        return apparatus.Supplies.Max(s => s.Delay) + Pushes * (double.IsFinite(pace) ? pace : slowest) + 1.5 * Math.Sqrt(2 * Way(apparatus) / PhysicalConstants.StandardGravity);
    }

    /// <summary>Energy in the charged banks before the shot, J.</summary>
    public static double BankEnergy(Apparatus apparatus) => apparatus.Supplies.Where(s => s.Capacitance is not null).Sum(s => Discharge.StoredEnergy(s.Capacitance!.Value, s.Voltage!.Value));

    private static double Wheeler(Winding winding)
    {
        if (winding.Space is not RoundSpace c)
            return 0;
        double radius = 0.5 * (c.InnerRadius + c.OuterRadius);
        return 4e-7 * Math.PI * Math.PI * radius * radius * winding.Turns * winding.Turns / (c.ToZ - c.FromZ + 0.9 * radius + c.OuterRadius - c.InnerRadius);
    }
}
