using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Elements;

namespace Fieldwright.Bench.Supplies;

/// <summary>The kick of a meter on one winding when a battery on another is switched on.</summary>
/// <remarks>
/// The charge follows from the flux alone: with no current in the loop before or after, R q = ΔΨ, whatever happens in between. The peak follows the transient of coupled coils of
/// constant inductance, those of the final state. Switching off without a spark drives the same charge back; with a spark the peak is higher and the charge is the same.
/// </remarks>
internal sealed class KickMeasures : MeasureFamily
{
    private const string Off = "Switched off it is driven back the other way; hysteresis keeps part of it in steel.";

    private static readonly MeasureKind
        Charge = new("kick charge", "through", SubjectKind.Load, "µC", false, "Charge driven through a load when a direct supply is switched on."),
        Peak = new("kick peak", "through", SubjectKind.Load, "mA", false, "Highest current through a load when a direct supply is switched on.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Charge, Peak];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => MeasureOnRoute.Inductances;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        apparatus.Frequency > 0 || apparatus.Supplies.Count == 0 ? "a battery or another direct supply" : null;

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var apparatus = asked.Apparatus;
        var load = apparatus.Load(asked.Measure.Subject!)!;
        var point = asked.Point(MeasureOnRoute.Inductances);
        var l = point.Inductance ?? throw new RouteFailedException("The route gave no inductances.");
        int n = apparatus.Windings.Count, at = apparatus.IndexOf(apparatus.Winding(load.On)!);
        double bar = point.ImpedanceRelativeBar;
        if (asked.Kind == Charge)
        {
            double linkage = 0, spread = 0;
            for (int j = 0; j < n; j++)
            {
                double current = point.Currents[apparatus.Windings[j].Name].Real;
                linkage += l[at, j] * current;
                spread += Math.Sqrt(Math.Abs(l[at, at] * l[j, j])) * Math.Abs(current) * bar;
            }

            double burden = load.Resistance ?? throw new RouteFailedException("A filament changes its resistance within the kick; ask it of a resistor or a meter.");
            double resistance = Warming.Resistance(apparatus.Windings[at], apparatus) + burden;
            return asked.Answer(Math.Abs(linkage) / resistance, spread / resistance, point.Remark, Off);
        }

        double[] r = new double[n * n], rows = new double[n * n];
        for (int i = 0; i < n; i++)
        {
            r[i * n + i] = Warming.Resistance(apparatus.Windings[i], apparatus);
            for (int j = 0; j < n; j++)
                rows[i * n + j] = 0.5 * (l[i, j] + l[j, i]);
        }

        double slowest = Enumerable.Range(0, n).Max(i => rows[i * n + i] / r[i * n + i]);
        var (_, currents) = new SupplyCircuit(apparatus, (name, ends) => new CoupledCoils(name, ends, r, rows, new double[n])).SwitchedOn(3 * slowest);
        double peak = currents[at].Max(Math.Abs);
        return asked.Answer(peak, peak * (2 * bar + 0.01), point.Remark, "Inductances are held at those of the final state.", Off);
    }
}
