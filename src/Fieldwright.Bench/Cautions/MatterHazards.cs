using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>What the matter itself does: liquids that poison or burn, steel that hums.</summary>
internal static class MatterHazards
{
    private static readonly (string Word, string Finding, string Limit, string Document, char Grade, string Remedy)[] Liquids =
    [
        ("mercury", "Mercury gives off a poisonous vapour at the temperature of the hall and splashes far.",
            "0.02 mg/m³ of air over a working day", "Directive 2009/161/EU, from memory", 'c',
            "Licensed handling only: closed vessel, tray, ventilation, spill kit. Gallium–indium–tin is the usual substitute."),
        ("nak", "The sodium–potassium alloy takes fire in air and explodes with water.",
            "none may be open to air", "common practice, no source", 'c',
            "Licensed handling only, under dry inert gas; no water near. Gallium–indium–tin is the usual substitute."),
        ("sodium", "Liquid sodium takes fire in air and explodes with water.",
            "none may be open to air", "common practice, no source", 'c',
            "Licensed handling only, under dry inert gas; no water near. Gallium–indium–tin is the usual substitute."),
        ("gallium", "Gallium and its alloys creep into aluminium and rot it, stain skin and cloth, and slip underfoot.",
            "no aluminium part may touch it", "common practice, no source", 'c',
            "Gloves, glasses and a tray; keep it from aluminium, from ladders and bench tops of aluminium too; collect every drop."),
        ("galinstan", "Gallium alloys creep into aluminium and rot it, stain skin and cloth, and slip underfoot.",
            "no aluminium part may touch it", "common practice, no source", 'c',
            "Gloves, glasses and a tray; keep it from aluminium, from ladders and bench tops of aluminium too; collect every drop."),
    ];

    /// <summary>Liquid metals.</summary>
    public static IEnumerable<Caution> LiquidMetal(WorstOf worst)
    {
        foreach (var part in worst.Apparatus.Parts)
        {
            if (OfLiquid(part.Material.Name) is { } hazard)
                yield return hazard with { Name = "liquid metal " + part.Name, Finding = $"'{part.Name}' is {part.Material.Name}. {hazard.Finding}" };
        }
    }

    /// <summary>What a liquid metal does to people and things; null for matter that is none.</summary>
    public static Caution? OfLiquid(string material)
    {
        var liquid = Liquids.FirstOrDefault(l => material.Contains(l.Word, StringComparison.OrdinalIgnoreCase));
        return liquid.Word is null ? null : new Caution("liquid metal", liquid.Finding, liquid.Limit, liquid.Document, liquid.Grade, liquid.Remedy, false);
    }

    /// <summary>Channels that carry a heavy direct current.</summary>
    public static IEnumerable<Caution> HeavyCurrent(WorstOf worst)
    {
        foreach (var part in worst.Apparatus.Parts)
            if (part.Shape is PumpChannelShape && worst.Most("electrode voltage", SubjectKind.Part, part.Name) is { } voltage && voltage > 0)
            {
                double jet = worst.Most("fountain height", SubjectKind.Part, part.Name) ?? 0, current = worst.States.Max(s => Math.Abs(((PumpChannelShape)worst.In(s).Part(part.Name)!.Shape).Carries));
                string high = jet > 0.02 ? Text($" The jet may stand {1e3 * jet:0} mm high, and higher where the nozzle is half blocked.") : "";
                yield return new Caution(
                    "heavy current " + part.Name,
                    Text($"'{part.Name}' carries {current:0.#} A at {1e3 * voltage:0.##} mV: joints and leads take far more than the liquid does and run hot; a lead that comes off draws an arc and throws metal about.{high}"),
                    "5 A/mm² in leads that are touched",
                    "common practice, no source", 'c',
                    "Bolt the joints, fuse the supply, switch off before anything is taken apart; a tray below, a clear screen before the front row and glasses for whoever is near.",
                    false);
            }
    }

    /// <summary>Sheets of steel in an alternating field.</summary>
    public static IEnumerable<Caution> Hum(WorstOf worst)
    {
        double frequency = worst.Apparatus.Frequency;
        if (frequency == 0)
            yield break;
        var limit = BlowLimits.Noise;
        foreach (var core in worst.Apparatus.Parts.Where(p => p.Laminated))
        {
            string pull = worst.Most("pull across gap", SubjectKind.Part, core.Name) is { } force and > 1 ? Text($", its faces pulled with {force:0} N on the mean,") : "";
            yield return new Caution(
                "hum " + core.Name,
                Text($"The sheets of '{core.Name}'{pull} shake at {2 * frequency:0.#} Hz; loose ones clatter, and how loud cannot be told from the field."),
                Text($"{limit.Value:0} dB(A) over a working day"),
                limit.Document, limit.Grade,
                "Clamp or varnish the stack, stand it on felt, and spare the front row's ears: measure before the first show.",
                false);
        }
    }
}
