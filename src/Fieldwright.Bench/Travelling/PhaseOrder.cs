using System.Globalization;
using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Travelling;

/// <summary>Whether a polyphase winding sends its field one way: slot by slot, from its belts, the senses of its coils and the phases of its supply.</summary>
internal static class PhaseOrder
{
    // A coil whose ampere-turns stand further than this from the wave of them all is named.
    private const double FarDegrees = 75;

    /// <summary>Ampere-turns of the working wave that travel forwards over those that travel either way, with words on what is out of order.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="apparatus">Its apparatus; currents not given by the file are taken as balanced.</param>
    public static Answer ForwardShare(Polyphase winding, Apparatus apparatus)
    {
        var currents = Currents(winding, apparatus);
        Complex forwards = Wave(winding, winding.Sides, currents, 1), backwards = Wave(winding, winding.Sides, currents, -1);
        double share = forwards.Magnitude / (forwards.Magnitude + backwards.Magnitude);
        bool forward = forwards.Magnitude >= backwards.Magnitude;
        return new Answer(share, 0, RouteName.Given, Words(winding, currents, share, forward ? forwards : backwards, forward));
    }

    // K(x) = Σ I δ(x − x_s); with exp(+jωt) the wave exp(−jkx) runs forwards.
    private static Complex Wave(Polyphase winding, IEnumerable<SlotSide> sides, Complex[] currents, int way)
    {
        double k = Math.PI / winding.PolePitch;
        Complex sum = 0;
        foreach (var side in sides)
            sum += side.Sign * currents[side.Phase] * Complex.FromPolarCoordinates(1, way * k * side.Slot * winding.SlotPitch);
        return sum;
    }

    private static string Words(Polyphase winding, Complex[] currents, double share, Complex wave, bool forward)
    {
        string belts = string.Join(' ', Enumerable.Range(0, 2 * winding.Phases).Select(b => winding.Belt(b * winding.PerPoleAndPhase)).Select(b => (b.Sign < 0 ? "−" : "") + (char)('a' + b.Phase)));
        bool round = winding.Row is RingRow;
        string way = forward ? round ? "counter-clockwise" : "forwards" : round ? "clockwise" : "backwards";
        var against = winding.Sides.GroupBy(s => s.Coil).Where(coil => Wave(winding, coil, currents, forward ? 1 : -1) is { Magnitude: > 0 } own && Math.Abs((own / wave).Phase) * 180 / Math.PI > FarDegrees)
            .Select(c => c.Key.ToString(CultureInfo.InvariantCulture)).ToList();
        string order = against.Count switch
        {
            0 => "every coil helps",
            1 => $"coil {against[0]} is against the rest: turn it round",
            _ => $"coils {string.Join(", ", against)} are against the rest: turn them round",
        };
        string travel = share is > 0.3 and < 0.7 ? "The field hardly travels: it stands and beats" : $"The field travels {way}";
        return $"Belts {belts} along the travel; {order}. {travel}.";
    }

    private static Complex[] Currents(Polyphase winding, Apparatus apparatus)
    {
        var supply = apparatus.SupplyOf(winding.NameOf(0));
        double sense = supply is { Backwards: true } ? -1 : 1;
        if (supply is not null && SupplyNetwork.IsImposed(apparatus))
        {
            var imposed = SupplyNetwork.ImposedCurrents(apparatus);
            if (Enumerable.Range(0, winding.Phases).All(p => imposed[winding.NameOf(p)] != Complex.Zero))
                return [.. Enumerable.Range(0, winding.Phases).Select(p => imposed[winding.NameOf(p)])];
        }

        return [.. Enumerable.Range(0, winding.Phases).Select(p => Complex.FromPolarCoordinates(1, -sense * winding.Lag(p)))];
    }
}
