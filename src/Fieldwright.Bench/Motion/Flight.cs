using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Motion;

/// <summary>Where a body is that was let go, and how fast.</summary>
/// <param name="Height">Height of the underside, m.</param>
/// <param name="Speed">Speed upwards, m/s.</param>
internal sealed record Flight(Estimate Height, Estimate Speed)
{
    /// <summary>How it was let go, in words.</summary>
    public string Remark { get; init; } = Releases.Remark;
}

/// <summary>A route that can let a body go and follow it in time.</summary>
internal interface IReleasingRoute : IRoute
{
    /// <summary>Switches the supplies on, lets a part go from its place and follows it.</summary>
    /// <param name="apparatus">The apparatus, all settings applied; <see cref="Releases.Suits"/> holds.</param>
    /// <param name="time">Time after switching on, s.</param>
    /// <param name="relativeTarget">Half-width to aim for, relative to the way moved.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The route could not follow it.</exception>
    Flight Release(Apparatus apparatus, double time, double relativeTarget, CancellationToken cancellation);
}

/// <summary>What letting go means: one part that may move up and down over round coils; at t = 0 every supply is switched on, an alternating one as a source of no phase passes zero upwards.
/// A direct current flows already. The part stands on whatever reaches under it.</summary>
internal static class Releases
{
    /// <summary>What an answer says of how it was let go.</summary>
    public const string Remark = "Let go as the supplies are switched on, an alternating one where a source of no phase passes zero; resistances stay as they are at the temperature of the hall.";

    /// <summary>Whether a part of an apparatus can be let go so.</summary>
    public static bool Suits(Apparatus apparatus) => apparatus.Layout == Layout.Round && apparatus.Loads.Count == 0
        && apparatus.Parts.Count(p => p.Freedom != Freedom.Fixed) == 1 && MovesUp(Part(apparatus)) && Floats.MassIsKnown(Part(apparatus))
        && apparatus.Supplies.All(s => s.Connection == Connection.Series || s.Feeds.Count == 1);

    /// <summary>The part that is let go.</summary>
    public static Part Part(Apparatus apparatus) => apparatus.Parts.First(p => p.Freedom != Freedom.Fixed);

    /// <summary>Whether a part may move along z.</summary>
    public static bool MovesUp(Part part) => part.Freedom is Freedom.UpAndDown or Freedom.Freely;

    /// <summary>Lowest the part can go from its place, m, zero or negative.</summary>
    public static double Lowest(Apparatus apparatus) => Math.Min(0, Floats.Of(apparatus, Part(apparatus)).Lowest - Part(apparatus).Place.Z);

    /// <summary>Weight, N.</summary>
    public static double Weight(Part part) => Floats.Mass(part) * PhysicalConstants.StandardGravity;

    /// <summary>Current, A, or voltage, V, of a supply against time; nothing but its capacitor drives a bank.</summary>
    public static Func<double, double> Source(Apparatus apparatus, Supply supply)
    {
        if (supply.Capacitance is not null)
            return _ => 0;
        double size = supply.Current ?? supply.Voltage ?? throw new RouteFailedException($"'{supply.Name}' has neither a voltage nor a current.");
        double omega = 2 * Math.PI * apparatus.Frequency, phase = supply.PhaseDegrees * Math.PI / 180;
        return omega > 0 ? t => size * Math.Sin(omega * t + phase) : _ => size;
    }

    /// <summary>Resistance of a supply and of all wire it feeds in series, ohm.</summary>
    public static double Resistance(Apparatus apparatus, Supply supply) => supply.InternalResistance + Fed(apparatus, supply).Sum(f => Duty.Warming.Resistance(f.Winding, apparatus));

    /// <summary>Inductance of all the windings a supply feeds in series, each in its sense, H.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="supply">The supply.</param>
    /// <param name="l">Inductances of all windings, H.</param>
    public static double Inductance(Apparatus apparatus, Supply supply, double[,] l)
    {
        var fed = Fed(apparatus, supply).Select(f => (At: apparatus.IndexOf(f.Winding), f.Sense)).ToList();
        return fed.Sum(a => fed.Sum(b => a.Sense * b.Sense * l[a.At, b.At]));
    }

    /// <summary>Windings a supply feeds, each with +1 or −1 for its sense.</summary>
    public static IEnumerable<(Winding Winding, int Sense)> Fed(Apparatus apparatus, Supply supply) =>
        supply.Feeds.Select(f => apparatus.Winding(f)!).Select(w => (w, w.Reversed ? -1 : 1));
}
