using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes.Travel;

namespace Fieldwright.Bench.File;

/// <summary>Whether polyphase windings and bodies that move together could stand on a bench.</summary>
internal static class TravelSense
{
    /// <summary>All that makes no sense.</summary>
    public static IEnumerable<Slip> Of(Apparatus apparatus)
    {
        foreach (var winding in apparatus.Polyphases())
            foreach (var (finding, expectation) in Of(winding))
                yield return new Slip(winding.NameOf(0), finding, expectation);
        foreach (var part in apparatus.Parts)
        {
            if (part.GoesWith is { } name && (apparatus.Part(name) is not { GoesWith: null } lead || ReferenceEquals(lead, part)))
                yield return new Slip(part.Name, $"'{part.Name}' goes with '{name}', which is no part that moves by itself", "the name of a part that goes with no other");
            if (part.GoesWith is not null && (part.Speed != 0 || part.TurningSpeed != 0))
                yield return new Slip(part.Name, $"'{part.Name}' goes with '{part.GoesWith}' and has a speed of its own", "a speed on the part it goes with");
            if (part.TurningSpeed != 0 && part.Shape is not CylinderShape)
                yield return new Slip(part.Name, $"'{part.Name}', {Words.A(part.Shape.Word)}, turns", "a cylinder, or no turning speed");
            if (part.Channel is not null && part.Shape is not (RectangleShape or PumpChannelShape))
                yield return new Slip(part.Name, $"'{part.Name}', {Words.A(part.Shape.Word)}, is a channel", "a bar, plate or sheet of a long apparatus, or a pump channel of a free one");
            if (part.Shape is RectangleShape { Called: Teeth.Word } && Teeth.Slots(apparatus, part) is null)
                yield return new Slip(part.Name, $"no slots lie in '{part.Name}' and open at one of its faces", "a track winding whose slots end flush with one face of the core, leave a yoke at the other, and have teeth at either end");
            if (part.Across is not null && apparatus.Layout != Layout.Long)
                yield return new Slip(part.Name, $"'{part.Name}' has a width across, and nothing here runs along a hidden direction", "symmetry: long, or no width across");
        }
    }

    /// <summary>Area that the turns of one coil may take, m².</summary>
    public static double RoomForACoilSide(Polyphase winding) => (winding.DoubleLayer ? 0.5 : 1) * winding.Row switch
    {
        FlatRow flat => flat.SlotWidth * flat.SlotHeight,
        TubeRow tube => tube.CoilLength * tube.Build,
        RingRow ring => 0.5 * ring.SectorAngle * Math.PI / 180 * (ring.OuterRadius * ring.OuterRadius - ring.InnerRadius * ring.InnerRadius),
        _ => double.PositiveInfinity,
    };

    private static IEnumerable<(string Finding, string Expectation)> Of(Polyphase winding)
    {
        string name = winding.Name;
        if (winding.Phases > 2 && winding.Phases % 2 == 0)
        {
            yield return ($"'{name}' has {Words.Count(winding.Phases)} phases", "1, 2 or an odd number of phases");
            yield break;
        }

        bool ring = winding.Row is RingRow, tube = winding.Row is TubeRow;
        int round = ring || (!winding.DoubleLayer && !tube) ? 2 * winding.PerPole : 1;
        if (winding.Slots % round != 0)
            yield return ($"'{name}' has {Words.Count(winding.Slots)} slots, which do not make whole pairs of poles", $"a multiple of {Words.Count(round)}: two poles of {Words.Count(winding.PerPole)} slots each");
        else if (winding.CoilSpan < 1 || winding.CoilSpan > 2 * winding.PerPole || (!tube && winding.CoilSpan >= winding.Slots))
            yield return ($"the coil span of '{name}', {Words.Count(winding.CoilSpan)} slots, does not fit its row", $"a span near the pole pitch of {Words.Count(winding.PerPole)} slots");
        else if (!winding.DoubleLayer && !tube && winding.CoilSpan != winding.PerPole)
            yield return ($"'{name}' has one layer and a coil span of {Words.Count(winding.CoilSpan)} slots", $"{Words.Count(winding.PerPole)}, the pole pitch, or two layers");
        else if (Enumerable.Range(0, winding.Phases).Any(p => winding.CoilsOf(p) == 0))
            yield return ($"'{name}' has too few slots for a coil of every phase", $"{Words.Count(winding.CoilSpan + winding.PerPole)} slots or more");
        else if (winding.ReversedCoils.FirstOrDefault(c => winding.Sides.All(s => s.Coil != c)) is not 0 and var coil)
            yield return ($"'{name}' has no coil {Words.Count(coil)}", $"coils from 1 to {Words.Count(winding.Sides.Max(s => s.Coil))}");
        switch (winding.Row)
        {
            case FlatRow flat when flat.SlotWidth > flat.SlotPitch * (1 + 1e-12):
                yield return ($"the slots of '{name}', {Mm(flat.SlotWidth)} wide, overlap at a pitch of {Mm(flat.SlotPitch)}", "a slot width of at most the slot pitch");
                break;
            case TubeRow coils when coils.CoilLength > coils.CoilPitch * (1 + 1e-12):
                yield return ($"the coils of '{name}', {Mm(coils.CoilLength)} long, overlap at a pitch of {Mm(coils.CoilPitch)}", "a coil length of at most the coil pitch");
                break;
            case RingRow sectors when sectors.InnerRadius >= sectors.OuterRadius:
                yield return ($"the inner radius of '{name}', {Mm(sectors.InnerRadius)}, is not below its outer radius, {Mm(sectors.OuterRadius)}", "an inner radius below the outer radius");
                break;
            case RingRow sectors when sectors.SectorAngle <= 0 || sectors.SectorAngle * winding.Slots > 360 * (1 + 1e-12):
                yield return (string.Create(CultureInfo.InvariantCulture, $"{winding.Slots} sectors of {sectors.SectorAngle:0.###}° do not fit round '{name}'"), "sectors that fill a turn at most");
                break;
        }
    }

    private static string Mm(double metres) => Units.WriteSi(metres, "mm");
}
