using System.Globalization;
using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Protection;
using Fieldwright.Circuits.Supplies;

namespace Fieldwright.Bench.Supplies;

/// <summary>What supplies store and can stand, what breakers and fuses will do, and which capacitors are wanted.</summary>
internal sealed class SupplyMeasures : MeasureFamily
{
    /// <summary>Longest time that is told apart, s: a day. Whatever lasts longer answers this and says so.</summary>
    public const double Day = 86400;

    private const string OrLonger = "Or longer: a day is as far as is looked.";

    // A motor-run capacitor is sold to ± 5 % (common practice, no source).
    private const string StockSpread = "Motor-run capacitors lie within 5 % of their value (common practice, no source).";

    private static readonly MeasureKind
        Stored = new("bank energy", "of", SubjectKind.Supply, "J", false, "Energy in a charged capacitor bank."),
        Bleed = new("bleed time", "of", SubjectKind.Supply, "s", false, "Time in which the bleeder brings a capacitor bank down to 60 V."),
        PeakCurrent = new("peak current", "from", SubjectKind.Supply, "A", false, "Highest instantaneous current after switching on at the worst instant, or of a capacitor bank's discharge."),
        TimeToPeak = new("time to peak", "of", SubjectKind.Supply, "ms", false, "Time from switching a capacitor bank on to its highest current."),
        BreakerHolds = new("breaker holds", "on", SubjectKind.Supply, "s", false, "Longest on-time for which the breaker surely holds, inrush included; a day at most."),
        BreakerOpens = new("breaker opens", "on", SubjectKind.Supply, "s", false, "Time by which the breaker has surely opened; a day when it need not."),
        FuseHolds = new("fuse holds", "on", SubjectKind.Supply, "s", false, "Longest on-time for which the fuse surely holds; a day at most."),
        FuseOpens = new("fuse opens", "on", SubjectKind.Supply, "s", false, "Time by which the fuse has surely opened; a day when it need not."),
        CapacitorVoltage = new("capacitor voltage", "of", SubjectKind.Supply, "V", false, "Voltage over the capacitor that splits the phase, rms."),
        CapacitorRating = new("capacitor rating", "of", SubjectKind.Supply, "V", false, "Least voltage rating of that capacitor, V AC: a quarter above its voltage."),
        CapacitorWanted = new("capacitor wanted", "of", SubjectKind.Supply, "µF", false, "Capacitance that brings the wanted phase difference."),
        Correction = new("correction capacitor", "of", SubjectKind.Supply, "µF", false, "Capacitance across the windings that brings the power factor to one."),
        Phase = new("phase", "of", SubjectKind.TwoWindings, "deg", false, "Angle by which the current of the first winding leads that of the second.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } =
        [Stored, Bleed, PeakCurrent, TimeToPeak, BreakerHolds, BreakerOpens, FuseHolds, FuseOpens, CapacitorVoltage, CapacitorRating, CapacitorWanted, Correction, Phase];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => kind switch
    {
        _ when kind == Stored || kind == Bleed => Wanted.None,
        _ when kind == Phase => UnlessImposed(apparatus),
        _ => Wanted.Impedance,
    };

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus)
    {
        if (kind == Phase)
            return apparatus.Frequency > 0 ? null : "an alternating supply";
        var supply = apparatus.Supply(subject!)!;
        return kind switch
        {
            _ when kind == Stored || kind == TimeToPeak => supply.Capacitance is null ? "a capacitor bank" : null,
            _ when kind == Bleed => supply.Bleeder is null ? "a capacitor bank with a bleeder" : null,
            _ when kind == BreakerHolds || kind == BreakerOpens => supply.Breaker is null ? "a supply with a breaker" : null,
            _ when kind == FuseHolds || kind == FuseOpens => supply.Fuse is null ? "a supply with a fuse" : null,
            _ when kind == CapacitorVoltage || kind == CapacitorRating || kind == CapacitorWanted => supply.Split is null ? "a supply with a capacitor before one winding" : null,
            _ when kind == Correction => supply.Frequency > 0 && !supply.ThreePhase && supply.Split is null ? null : "an alternating supply of one phase without a capacitor",
            _ => null,
        };
    }

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var kind = asked.Kind;
        if (kind == Phase)
            return PhaseBetween(asked);
        var supply = asked.Supply;
        return kind switch
        {
            _ when kind == Stored => asked.Answer(Discharge.StoredEnergy(supply.Capacitance!.Value, supply.Voltage!.Value), 0),
            _ when kind == Bleed => asked.Answer(Discharge.BleedTime(supply.Capacitance!.Value, supply.Bleeder!.Value, supply.Voltage!.Value, 60), 0, "60 V is the limit of bare direct-current parts in a dry place (IEC 60598-1:2008)."),
            _ when kind == PeakCurrent => Peak(asked, supply),
            _ when kind == TimeToPeak => Shot(asked, supply) is var shot ? asked.Answer(shot.TimeToPeak, shot.TimeToPeak * shot.RelativeBar, shot.Remark) : null!,
            _ when kind == BreakerHolds || kind == BreakerOpens => OfDevice(asked, BreakerOf(supply)),
            _ when kind == FuseHolds || kind == FuseOpens => OfDevice(asked, FuseOf(supply)),
            _ when kind == Correction => Corrected(asked, supply),
            _ => Splitting(asked, supply, supply.Split!),
        };
    }

    /// <summary>The breaker of a supply.</summary>
    public static Breaker BreakerOf(Supply supply) => new(supply.Breaker![0], double.Parse(supply.Breaker[1..], CultureInfo.InvariantCulture));

    /// <summary>The fuse of a supply.</summary>
    public static Fuse FuseOf(Supply supply) => supply.Fuse!.Split(' ') is var words ? new(words[0], double.Parse(words[1], CultureInfo.InvariantCulture)) : null!;

    private static Answer PhaseBetween(Asked asked)
    {
        var point = asked.Point(asked.Session is null ? Wanted.None : Wanted.Impedance);
        Complex first = point.Currents[asked.Winding.Name], second = point.Currents[asked.Apparatus.Winding(asked.Measure.Other!)!.Name];
        if (first == 0 || second == 0)
            throw new RouteFailedException("One of the two carries no current, so it has no phase.");
        // A relative bar of each current turns it by no more than that many radians.
        return asked.Answer((first / second).Phase, 2 * point.CurrentRelativeBar, point.Remark);
    }

    private static Answer Peak(Asked asked, Supply supply)
    {
        if (supply.Kind == SupplyKind.CapacitorBank)
        {
            var shot = Shot(asked, supply);
            return asked.Answer(shot.PeakCurrent, shot.PeakCurrent * shot.RelativeBar, shot.Remark);
        }

        var point = asked.Point(Wanted.Impedance);
        var at = SupplyNetwork.AtTerminals(asked.Apparatus, supply, point);
        if (supply.Frequency == 0)
            return asked.Answer(at.Current, at.Current * point.CurrentRelativeBar, point.Remark, "Direct current rises to its steady value and no further.");
        if (Saturable(asked.Apparatus) && InrushMeasures.OfSteel(asked, supply, point) is { } followed)
            return followed;
        var inrush = InrushOf(asked.Apparatus, supply, point);
        if (!Saturable(asked.Apparatus))
            return asked.Answer(inrush.Value, inrush.Bar, point.Remark);
        double bound = Bound(asked.Apparatus, supply, point);
        return asked.Answer(inrush.Value, Math.Max(inrush.Bar, bound - inrush.Value), point.Remark, string.Create(CultureInfo.InvariantCulture,
            $"Steel may saturate at the first peak and let up to {bound:0.#} A through, the line's peak voltage over the resistance: this route does not follow the flux, and its bar reaches that far."));
    }

    // Constant inductance: the settled peak times the worst factor of R and X as the line sees them.
    private static Estimate InrushOf(Apparatus apparatus, Supply supply, OperatingPoint point)
    {
        var at = SupplyNetwork.AtTerminals(apparatus, supply, point);
        double resistance = at.Real / (0.5 * at.Current * at.Current) + supply.InternalResistance * (supply.ThreePhase ? 3 : 1), size = at.Apparent / (0.5 * at.Current * at.Current);
        double reactance = Math.Sqrt(Math.Max(0, size * size - Math.Pow(at.Real / (0.5 * at.Current * at.Current), 2)));
        double factor = reactance > 1e-9 * size ? Inrush.WorstFactor(resistance, reactance) : 1;
        return new Estimate(factor * at.Current, factor * at.Current * (point.CurrentRelativeBar + 0.5 * point.ImpedanceRelativeBar));
    }

    private static double Bound(Apparatus apparatus, Supply supply, OperatingPoint point)
    {
        var at = SupplyNetwork.AtTerminals(apparatus, supply, point);
        double wires = supply.Feeds.Sum(f => Duty.Warming.Resistance(apparatus.Winding(f)!, apparatus));
        return (supply.Voltage ?? at.Voltage) / (supply.InternalResistance + (supply.Connection == Connection.Parallel ? wires / (supply.Feeds.Count * supply.Feeds.Count) : wires));
    }

    private static bool Saturable(Apparatus apparatus) => apparatus.Parts.Any(p => p.Material.Curve is not null);

    private static (double PeakCurrent, double TimeToPeak, double RelativeBar, string Remark) Shot(Asked asked, Supply supply)
    {
        var point = asked.Point(MeasureOnRoute.Inductances);
        var l = point.Inductance ?? throw new RouteFailedException("The route gave no inductances.");
        var apparatus = asked.Apparatus;
        if (supply.Connection == Connection.Parallel && supply.Feeds.Count > 1)
            throw new RouteFailedException("The discharge through windings side by side is not computed; join them in series.");
        var shot = BankShot.Of(apparatus, supply, l);
        string metal = apparatus.Parts.Any(FieldModels.Conducts) ? "Currents induced in the metal are left out; they make the coil quicker and the peak higher." : "";
        string steel = Saturable(apparatus) ? "Steel is taken as it is at no current; saturated it lets more through." : "";
        return (shot.PeakCurrent, shot.TimeToPeak, 0.5 * point.ImpedanceRelativeBar + 0.01, string.Join(' ', new[] { point.Remark, metal, steel }.Where(t => t.Length > 0)));
    }

    private static Answer OfDevice(Asked asked, ProtectiveDevice device)
    {
        var supply = asked.Supply;
        var point = asked.Point(Wanted.Impedance);
        // The variable transformer stands between breaker and windings; at a lower setting the line carries less.
        double rms = SupplyNetwork.AtTerminals(asked.Apparatus, supply, point).Current / asked.Root, share = Share(asked.Apparatus, supply, point);
        bool holds = asked.Kind == BreakerHolds || asked.Kind == FuseHolds;
        double Time(double current) => Math.Min(Day, holds ? device.HoldsFor(current) : device.OpensBy(current));
        double low = Time(rms * share * (1 - point.CurrentRelativeBar)), value = Time(rms * share), high = Time(rms * share * (1 + point.CurrentRelativeBar));
        string remark = string.Create(CultureInfo.InvariantCulture, $"{rms * share:0.##} A through {(device is Breaker b ? $"a {b.Type}{b.Rating:0}" : $"a fuse {((Fuse)device).Kind} {device.Rating:0.##}")}, from cold; a promise of its standard, not a measurement.");
        if (holds && supply.Frequency > 0)
        {
            // The far end of the bar, for it must surely hold.
            var peak = Peak(asked, supply);
            double first = (peak.Value + peak.ErrorBar) * share, half = 0.5 / supply.Frequency;
            // A fuse must stand half a cycle of the first peak; a breaker's magnet answers to the peak itself.
            var at = device is Breaker breaker ? breaker.AtInrush(first) : device.HoldsFor(first / Math.Sqrt(2)) < half ? ProtectionVerdict.MayTrip : ProtectionVerdict.Holds;
            if (at != ProtectionVerdict.Holds)
                return asked.Answer(0, 0, point.Remark, string.Create(CultureInfo.InvariantCulture, $"Switched on at the worst instant it may draw {first:0.#} A at its first peak, which {(at == ProtectionVerdict.Trips ? "trips" : "may trip")} {(device is Breaker ? $"a {supply.Breaker}" : $"a fuse {supply.Fuse}")} at once."), remark);
        }

        return asked.Answer(value, Math.Max(Math.Abs(high - value), Math.Abs(low - value)), point.Remark, remark, value >= Day ? OrLonger : "");
    }

    private static double Share(Apparatus apparatus, Supply supply, OperatingPoint point)
    {
        if (supply.LineVoltage is not { } line)
            return 1;
        double volts = supply.Voltage ?? SupplyNetwork.AtTerminals(apparatus, supply, point).Voltage;
        return Math.Min(1, volts / line);
    }

    private static Answer Corrected(Asked asked, Supply supply)
    {
        var point = asked.Point(Wanted.Impedance);
        var at = SupplyNetwork.AtTerminals(asked.Apparatus, supply, point);
        double reactive = Math.Sqrt(Math.Max(0, at.Apparent * at.Apparent - at.Real * at.Real));
        if (reactive < 1e-9 * at.Apparent)
            throw new RouteFailedException("The windings take no reactive power, so nothing is to be corrected.");
        double per = 2 * Math.PI * supply.Frequency * at.Voltage * at.Voltage / 2, wanted = reactive / per;
        double stock = PreferredValues.Nearest(wanted, 12), left = reactive - stock * per, factor = at.Real / double.Hypot(at.Real, left);
        return asked.Answer(wanted, wanted * (point.ImpedanceRelativeBar + point.CurrentRelativeBar), point.Remark, string.Create(CultureInfo.InvariantCulture,
            $"The stock value {stock * 1e6:G3} µF (E12), rated {1.25 * at.Voltage / Math.Sqrt(2):0} V AC at least, brings it from {100 * at.Real / at.Apparent:0} % to {100 * factor:0} %."), StockSpread);
    }

    private static Answer Splitting(Asked asked, Supply supply, SplittingCapacitor split)
    {
        var point = asked.Point(Wanted.Impedance);
        var apparatus = asked.Apparatus;
        var current = point.Currents[split.Before];
        double over = current.Magnitude / (2 * Math.PI * supply.Frequency * split.Capacitance) / Math.Sqrt(2), bar = point.CurrentRelativeBar;
        if (asked.Kind == CapacitorVoltage)
            return asked.Answer(over, over * bar, point.Remark);
        if (asked.Kind == CapacitorRating)
            return asked.Answer(1.25 * over, 1.25 * over * bar, point.Remark, "A quarter above its voltage, for a line that runs high (common practice, no source); give it a bleeder.");
        var z = Turned(apparatus, supply, split, point.Impedance!);
        var found = PhaseSplit.For(z, supply.Voltage!.Value / Math.Sqrt(2), supply.Frequency, split.WantedLead)
            ?? throw new RouteFailedException(string.Create(CultureInfo.InvariantCulture, $"No capacitor before '{split.Before}' reaches a lead of {split.WantedLead * 180 / Math.PI:0.#}°."));
        double stock = PreferredValues.Nearest(found.Capacitance, 12);
        var there = PhaseSplit.With(z, supply.Voltage!.Value / Math.Sqrt(2), supply.Frequency, stock);
        return asked.Answer(found.Capacitance, found.Capacitance * 2 * point.ImpedanceRelativeBar, point.Remark, string.Create(CultureInfo.InvariantCulture,
            $"The stock value {stock * 1e6:G3} µF (E12) leads by {there.PhaseLead * 180 / Math.PI:0.#}°, {there.Shifted.Magnitude / Math.Sqrt(2):0.##} A behind the capacitor and {there.Direct.Magnitude / Math.Sqrt(2):0.##} A beside it, {there.CapacitorVoltage:0} V over it: rate it {there.CapacitorRating:0} V AC or more."), StockSpread);
    }

    // The 2 × 2 of the pair, the winding straight on the line first, each in the sense it is joined; the line's own resistance is common to both.
    private static Complex[] Turned(Apparatus apparatus, Supply supply, SplittingCapacitor split, Complex[,] z)
    {
        var behind = apparatus.Winding(split.Before)!;
        var direct = apparatus.Winding(supply.Feeds.First(f => !Apparatus.Same(f, split.Before)))!;
        int[] at = [apparatus.IndexOf(direct), apparatus.IndexOf(behind)];
        double Sense(int i) => apparatus.Windings[at[i]].Reversed ? -1 : 1;
        var turned = new Complex[4];
        for (int i = 0; i < 2; i++)
            for (int j = 0; j < 2; j++)
                turned[2 * i + j] = Sense(i) * Sense(j) * z[at[i], at[j]] + supply.InternalResistance;
        return turned;
    }
}
