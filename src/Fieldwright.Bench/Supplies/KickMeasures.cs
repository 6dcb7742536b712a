using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Elements;

namespace Fieldwright.Bench.Supplies;

/// <summary>The kick of a meter on one winding when a battery on another is switched on.</summary>
/// <remarks>
/// The charge follows from the flux alone: with no current in the loop before or after, R q = ΔΨ, whatever happens in between. The peak follows the transient of coupled coils of
/// constant inductance, those of the final state. Switched off, the same charge is driven back. How high that peak is the switch decides: broken at once, the flux of every closed loop is kept for a moment by the currents in
/// those loops alone, and that is the most it can be; a spark lets the flux die slowly.
/// </remarks>
internal sealed class KickMeasures : MeasureFamily
{
    private const string Off = "Switched off it is driven back the other way; hysteresis keeps part of it in steel.";

    private static readonly MeasureKind
        Charge = new("kick charge", "through", SubjectKind.Load, "µC", false, "Charge driven through a load when a direct supply is switched on."),
        Peak = new("kick peak", "through", SubjectKind.Load, "mA", false, "Highest current through a load when a direct supply is switched on."),
        Break = new("break peak", "through", SubjectKind.Load, "A", false, "Highest current through a load when a direct supply is switched off at once: what the flux that is left drives. A spark at the switch makes it less.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Charge, Peak, Break];

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

        if (asked.Kind == Break)
        {
            var loops = apparatus.Loads.Select(o => apparatus.IndexOf(apparatus.Winding(o.On)!)).Distinct().ToList();
            if (apparatus.Supplies.Any(s => s.Feeds.Any(f => loops.Contains(apparatus.IndexOf(apparatus.Winding(f)!)))))
                throw new RouteFailedException("A load on a winding that a supply feeds loses its current with it.");
            var own = MathNet.Numerics.LinearAlgebra.Double.Matrix.Build.Dense(loops.Count, loops.Count, (i, j) => l[loops[i], loops[j]]);
            var kept = MathNet.Numerics.LinearAlgebra.Double.Vector.Build.Dense(loops.Count, i => Enumerable.Range(0, n).Sum(j => l[loops[i], j] * point.Currents[apparatus.Windings[j].Name].Real));
            double highest = Math.Abs(own.Solve(kept)[loops.IndexOf(at)]);
            return asked.Answer(highest, 3 * bar * highest, point.Remark, "The most it can be: broken at once, no current in the steel; a spark at the switch makes it less, the charge stays the same.");
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
