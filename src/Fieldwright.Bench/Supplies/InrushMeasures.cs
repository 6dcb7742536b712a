using System.Globalization;
using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Supplies;

namespace Fieldwright.Bench.Supplies;

/// <summary>What flows in the first moments: through a cold filament, into a transformer, into a coil whose steel saturates.</summary>
internal sealed class InrushMeasures : MeasureFamily
{
    // First peak of a transformer over its rated current (common practice, no source: ten to twenty).
    private const double TransformerLeast = 10, TransformerMost = 20;

    // Points of the curve of current against flux linkage.
    private const int Points = 24;

    private static readonly MeasureKind
        Cold = new("inrush", "through", SubjectKind.Load, "A", false, "Peak of the current through a filament lamp as it is switched on cold, before it glows."),
        Transformer = new("transformer inrush", "from", SubjectKind.Supply, "A", false, "Highest first peak that the transformer of a supply may draw from the mains by itself, if it is made for just this load.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Cold, Transformer];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Impedance;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) => kind == Cold
        ? apparatus.Load(subject!) is { Kind: LoadKind.FilamentLamp } ? null : "a filament lamp"
        : apparatus.Supply(subject!) is { LineVoltage: not null } ? null : "a supply with a transformer";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked) => asked.Kind == Cold ? ThroughCold(asked) : OfTransformer(asked);

    /// <summary>First peak that a supply's windings draw when their steel may saturate: a cold start at the worst instant, found by following the flux; null where the route is not quick enough to tell.</summary>
    public static Answer? OfSteel(Asked asked, Supply supply, OperatingPoint point)
    {
        if (asked.Route != RouteName.Circuit || supply.Frequency == 0 || supply.Connection != Connection.Series || (supply.Voltage ?? 0) <= 0)
            return null;
        var (at, resistance) = CurrentAtLinkage(asked.Apparatus, supply, asked.Session!.Route, asked.Session.Cancellation);
        double peak = supply.Voltage!.Value;
        double first = SteelInrush.FirstPeak(at, peak, supply.Frequency, resistance);
        double kept = SteelInrush.FirstPeak(at, peak, supply.Frequency, resistance, 0.5 * peak / (2 * Math.PI * supply.Frequency));
        return asked.Answer(first, Math.Max(0, kept - first) + first * point.ImpedanceRelativeBar, point.Remark, string.Create(CultureInfo.InvariantCulture,
            $"The flux is followed from a line that passes zero, other windings open, the steel without memory; the bar takes in steel that has kept half of its swing (common practice, no source), with which it is {kept:0.##} A."));
    }

    /// <summary>The current of a supply's windings in series against their flux linkage, up to what the line's peak drives through the resistance alone, and that resistance, ohm.</summary>
    public static (Func<double, double> Current, double Resistance) CurrentAtLinkage(Apparatus apparatus, Supply supply, IRoute route, CancellationToken cancellation)
    {
        double peak = supply.Voltage!.Value, resistance = Releases.Resistance(apparatus, supply);
        var table = new List<(double Linkage, double Current)> { (0, 0) };
        for (int k = 1; k <= Points; k++)
        {
            double current = peak / resistance * Math.Pow(10, 4 * ((double)k / Points - 1));
            var direct = apparatus with { Loads = [], Supplies = [supply with { Kind = SupplyKind.Current, Current = current, Voltage = null, LineVoltage = null, CurrentLimit = null, Frequency = 0, PhaseDegrees = 0 }] };
            var l = route.Solve(direct, MeasureOnRoute.Inductances, 0.01, cancellation).Inductance!;
            table.Add((Releases.Inductance(apparatus, supply, l) * current, current));
        }

        return (linkage =>
        {
            double size = Math.Abs(linkage);
            int k = 1;
            while (k < table.Count - 1 && table[k].Linkage < size)
                k++;
            double share = (size - table[k - 1].Linkage) / (table[k].Linkage - table[k - 1].Linkage);
            return Math.Sign(linkage) * (table[k - 1].Current + share * (table[k].Current - table[k - 1].Current));
        }, resistance);
    }

    private static Answer ThroughCold(Asked asked)
    {
        var apparatus = asked.Apparatus;
        var load = apparatus.Load(asked.Measure.Subject!)!;
        var point = asked.Point(Wanted.Impedance);
        var z = point.Impedance ?? throw new RouteFailedException("The route gave no impedances.");
        double cold = SupplyCircuit.Lamp(load).ColdResistance;
        Complex[,] ports = apparatus.Frequency > 0 ? z : FieldModels.Resistances(apparatus);
        var at = SupplyNetwork.Currents(apparatus with { Loads = [.. apparatus.Loads.Select(l => ReferenceEquals(l, load) ? l with { Kind = LoadKind.Resistor, Resistance = cold } : l)] }, ports);
        double peak = at[load.On].Magnitude, settled = point.Currents[load.On].Magnitude;
        return asked.Answer(peak, peak * (point.ImpedanceRelativeBar + point.CurrentRelativeBar), point.Remark, string.Create(CultureInfo.InvariantCulture,
            $"The cold filament has {cold:0.##} Ω, a thirteenth of its resistance at rated voltage (from memory); {(settled > 0 ? string.Create(CultureInfo.InvariantCulture, $"{peak / settled:0.#} times what settles. ") : "")}It warms within tenths of a second (common practice, no source); the offset of the first cycle is not counted."));
    }

    private static Answer OfTransformer(Asked asked)
    {
        var supply = asked.Supply;
        var point = asked.Point(Wanted.Impedance);
        var at = SupplyNetwork.AtTerminals(asked.Apparatus, supply, point);
        // What it must carry, as its rating: volts times amperes at the windings over the mains.
        double rated = at.Apparent / (0.5 * supply.LineVoltage!.Value * (supply.ThreePhase ? Math.Sqrt(3) : 1)) / Math.Sqrt(2);
        double middle = 0.5 * (TransformerLeast + TransformerMost) * rated, half = 0.5 * (TransformerMost - TransformerLeast) * rated;
        return asked.Answer(middle, half + middle * (point.CurrentRelativeBar + point.ImpedanceRelativeBar), string.Create(CultureInfo.InvariantCulture,
            $"Ten to twenty times the {rated:0.##} A that a transformer made for just this load is rated at (common practice, no source); a larger one draws more."));
    }
}
