using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Cautions;

/// <summary>Finds the hazards of an apparatus and sets each beside its limit.</summary>
internal static class CautionsOf
{
    // Burn threshold of bare metal for a touch of one second and of one minute, °C.
    private const double TouchSecond = 65, TouchMinute = 51;

    // ICNIRP 2010 reference level for the public at 50 and 60 Hz, T rms; the static line for implants, T.
    private const double PublicAlternating = 200e-6, ImplantLine = 0.5e-3;

    // Bare live parts that may be touched in dry places, V.
    private const double TouchAlternating = 25, TouchDirect = 60;

    /// <summary>The cautions of an apparatus, worst state first found.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="panel">The routes, for the numbers.</param>
    public static IReadOnlyList<Caution> Apparatus(Apparatus apparatus, RoutePanel panel)
    {
        var found = new List<Caution>();
        found.AddRange(Mains(apparatus));
        found.AddRange(TouchableVoltage(apparatus, panel));
        found.AddRange(HotWindings(apparatus, panel));
        found.AddRange(HotMetal(apparatus, panel));
        found.AddRange(StrayField(apparatus, panel));
        found.AddRange(Magnets(apparatus));
        return [.. found.Select(c => c with { Acknowledged = apparatus.Acknowledged.Any(a => Model.Apparatus.Same(a, c.Name)) })];
    }

    private static IEnumerable<Caution> Mains(Apparatus apparatus) =>
        apparatus.Supplies.Where(s => s.Kind == SupplyKind.Mains && Rms(s.LineVoltage ?? s.Voltage ?? 0, s) > 50).Select(s => new Caution(
            "mains",
            Text($"'{s.Name}' is fed from {Rms(s.LineVoltage ?? s.Voltage ?? 0, s):0} V."),
            "extra-low voltage ends at 50 V AC",
            "International Electrotechnical Vocabulary, from IEC 61558-1",
            'a',
            "Isolate it, earth what can be touched, protect it with a residual-current device, and keep the audience out of reach."
                + (s.Through?.Contains("variable", StringComparison.OrdinalIgnoreCase) == true ? " A variable transformer does not isolate." : ""),
            false));

    private static IEnumerable<Caution> TouchableVoltage(Apparatus apparatus, RoutePanel panel)
    {
        foreach (var supply in apparatus.Supplies)
        {
            if (Leading(panel, "voltage needed", SubjectKind.Supply, supply.Name) is not { } volts)
                continue;
            double limit = supply.Frequency > 0 ? TouchAlternating : TouchDirect;
            if (volts.Value <= limit)
                continue;
            yield return new Caution(
                "live terminals",
                Text($"The windings on '{supply.Name}' stand at {volts.Value:0} V."),
                Text($"{limit:0} V for bare parts touchable in a dry place"),
                "IEC 60598-1:2008, 8.2.3",
                'a',
                "Cover every terminal and joint; switch off before touching.",
                false);
        }
    }

    private static IEnumerable<Caution> HotWindings(Apparatus apparatus, RoutePanel panel)
    {
        foreach (var winding in apparatus.Windings)
        {
            if (Leading(panel, "current", SubjectKind.Winding, winding.Name) is not { Value: > 0 } current)
                continue;
            double limit = InsulationClasses.Limit(winding.ThermalClass);
            double seconds = Warming.TimeTo(winding, apparatus, current.Value, limit);
            if (seconds > 3600)
                continue;
            double hot = Warming.TimeTo(winding, apparatus, current.Value, PhysicalConstants.ZeroCelsius + TouchSecond);
            yield return new Caution(
                "hot winding " + winding.Name,
                Text($"At {current.Value:0.##} A '{winding.Name}' reaches {TouchSecond:0} °C after {Time(hot)} and the limit of its insulation after {Time(seconds)}, no cooling counted."),
                Text($"{limit - PhysicalConstants.ZeroCelsius:0} °C, class {winding.ThermalClass}; {TouchSecond:0} °C burns bare skin in a second"),
                "IEC 60085:2007 (read at second hand); ISO 13732-1:2006, its value at one second from memory",
                'c',
                Text($"Switch on for less than {Time(0.5 * seconds)} at a go, measure the winding's resistance before the next, and do not touch it."),
                false);
        }
    }

    private static IEnumerable<Caution> HotMetal(Apparatus apparatus, RoutePanel panel)
    {
        foreach (var part in apparatus.Parts)
        {
            if (Leading(panel, "heat", SubjectKind.Part, part.Name) is not { Value: > 0 } heat || part.Material.SpecificHeat is null)
                continue;
            double after = Warming.OfPart(part, apparatus, new Estimate(heat.Value, heat.ErrorBar), 60).Value - PhysicalConstants.ZeroCelsius;
            if (after <= TouchMinute)
                continue;
            yield return new Caution(
                "hot metal " + part.Name,
                Text($"'{part.Name}' takes {heat.Value:0.#} W and would stand at {after:0} °C after a minute, no cooling counted."),
                Text($"{TouchMinute:0} °C for a touch of one minute, {TouchSecond:0} °C for one second, bare metal"),
                "ISO 13732-1:2006, read at second hand; the values at 1 s and 1 min from memory",
                'c',
                "Let it cool or lift it off with tongs; keep it away from hands and paper.",
                false);
        }
    }

    // Far off, coils and magnets are dipoles: B on the axis is μ₀ m / 2π r³, so the distance follows from the moment alone.
    private static IEnumerable<Caution> StrayField(Apparatus apparatus, RoutePanel panel)
    {
        if (apparatus.Layout == Layout.Long)
            yield break;
        double moment = 0;
        foreach (var winding in apparatus.Windings)
            if (winding.Space is RoundSpace space && Leading(panel, "current", SubjectKind.Winding, winding.Name) is { } current)
            {
                double area = Math.PI / 3 * (Math.Pow(space.OuterRadius, 3) - Math.Pow(space.InnerRadius, 3)) / (space.OuterRadius - space.InnerRadius);
                moment += (winding.Reversed ? -1 : 1) * winding.Turns * current.Value * area;
            }

        moment = Math.Abs(moment);
        double limit = apparatus.Frequency > 0 ? PublicAlternating : ImplantLine;
        double distance = Math.Cbrt(PhysicalConstants.MagneticConstant * moment / (2 * Math.PI * limit));
        if (distance < 0.05)
            yield break;
        yield return new Caution(
            "stray field",
            Text($"On the axis the field falls to {limit * 1e6:0} µT{(apparatus.Frequency > 0 ? " rms" : "")} about {distance:0.0#} m away (far-off dipole of {moment:0.#} A m²)."),
            apparatus.Frequency > 0 ? "200 µT rms for the public at 50 and 60 Hz" : "0.5 mT for implants and loose iron",
            apparatus.Frequency > 0 ? "ICNIRP 2010" : "ICNIRP 2009 and Directive 2013/35/EU, from memory",
            apparatus.Frequency > 0 ? 'a' : 'c',
            "Keep the audience and anyone with an implant beyond that distance; ask for implants before the show.",
            false);
    }

    private static IEnumerable<Caution> Magnets(Apparatus apparatus) =>
        apparatus.Parts.Where(p => p.Magnetised is not null && p.Material.Remanence > 0.5).Select(p => new Caution(
            "pinch " + p.Name,
            Text($"'{p.Name}' is a strong magnet ({p.Material.Remanence:0.0#} T): at contact it pulls with up to {p.Material.Remanence * p.Material.Remanence / (2 * PhysicalConstants.MagneticConstant) / 1e3 / 4:0} kPa of face."),
            "skin is bruised by some tens of newtons on a fingertip",
            "common practice, no source",
            'c',
            "Handle one at a time with gloves and eye protection; keep steel tools and other magnets a pace away.",
            false));

    // A caution must not fall silent because a route did: what cannot be computed is simply not found here, and the routes say so elsewhere.
    private static Answer? Leading(RoutePanel panel, string kindName, SubjectKind subjectKind, string subject)
    {
        var kind = MeasureCatalogue.Kinds.First(k => k.Name == kindName && k.Subject == subjectKind);
        if (panel.RoutesFor(kind, subject).Count == 0)
            return null;
        var measure = new Measure(kind.Name, subject, null, [], null, false, kind.Write(subject));
        // The worst of all states counts: people stand in front of each of them.
        return panel.States.Select(state => panel.Answer(measure, state).Leading).Where(a => a is not null).MaxBy(a => a!.Value);
    }

    private static double Rms(double peak, Supply supply) => supply.Frequency > 0 ? peak / Math.Sqrt(2) : peak;

    private static string Time(double seconds) => seconds switch
    {
        < 10 => Text($"{seconds:0.#} s"),
        < 120 => Text($"{seconds:0} s"),
        < 7200 => Text($"{seconds / 60:0} min"),
        _ => "hours",
    };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
