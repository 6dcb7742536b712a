using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Supplies;

namespace Fieldwright.Bench.Supplies;

/// <summary>What drives a field that can be drawn where capacitor banks are emptied: an alternating current of the same peak, whose quarter cycle is the time to that peak.</summary>
/// <remarks>So the picture shows the currents that the rise induces in metal, and may be played slowly. The peak is that of the coil alone, as the measure <c>peak current</c> has it; induced currents make it higher and sooner.</remarks>
internal static class BankShot
{
    /// <summary>The apparatus with its banks replaced for a drawing, and what must be said of it; the apparatus itself and nothing to say where no bank is emptied.</summary>
    /// <exception cref="RouteFailedException">No route knows the inductances.</exception>
    public static (Apparatus Apparatus, string Note) Drawn(Apparatus apparatus, CancellationToken cancellation)
    {
        if (apparatus.Supplies.Count == 0 || apparatus.Supplies.Any(s => s.Capacitance is null || (s.Connection == Connection.Parallel && s.Feeds.Count > 1)))
            return (apparatus, "");
        var (point, _) = CurrentCourse.Point(apparatus, cancellation);
        var shots = apparatus.Supplies.Select(s => Of(apparatus, s, point.Inductance!)).ToList();
        double frequency = 1 / (4 * shots.Max(s => s.TimeToPeak));
        var drawn = apparatus with { Supplies = [.. apparatus.Supplies.Zip(shots, (s, shot) => s with { Kind = SupplyKind.Current, Current = shot.PeakCurrent, Voltage = null, Capacitance = null, Frequency = frequency })] };
        return (drawn, string.Create(CultureInfo.InvariantCulture,
            $"The shot, drawn as an alternating current of the same peak, {string.Join(" and ", shots.Select(s => $"{s.PeakCurrent:G3} A"))}, and of {frequency:G3} Hz, so that a quarter cycle is the rise to it; forces are means over such a cycle."));
    }

    /// <summary>The discharge of a bank through its windings in series, metal and motion left out.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="supply">The bank.</param>
    /// <param name="l">Inductances of all windings, H.</param>
    public static Discharge Of(Apparatus apparatus, Supply supply, double[,] l) =>
        Discharge.Of(supply.Voltage!.Value, supply.Capacitance!.Value, Releases.Resistance(apparatus, supply), Releases.Inductance(apparatus, supply, l));
}
