using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Supplies;

namespace Fieldwright.Bench.Supplies;

/// <summary>The current of a winding moment by moment after its supplies are switched on: a battery's rise and the kick it drives next door, the inrush from the mains, the shot of a capacitor bank.</summary>
/// <remarks>
/// Windings are coils of constant inductance and resistance, those of the settled state of one route, coupled as they are; where a line magnetises steel that saturates, the flux is followed instead and the current
/// read off its curve (<see cref="SteelInrush"/>). Nothing moves. Of direct supplies and banks, currents induced in metal are left out; of alternating ones they are in as they are once settled.
/// </remarks>
/// <param name="Winding">Name of the winding.</param>
/// <param name="Times">Times since the first switch, s, rising from 0.</param>
/// <param name="Currents">Instantaneous currents, A, positive in the winding's own sense.</param>
/// <param name="RelativeBar">Half-width of the currents, relative to the largest.</param>
/// <param name="Route">The route that gave the inductances.</param>
/// <param name="Remark">What must be known about it.</param>
public sealed record CurrentCourse(string Winding, IReadOnlyList<double> Times, IReadOnlyList<double> Currents, double RelativeBar, RouteName Route, string Remark)
{
    private const int Cycles = 5;
    private const double Target = 0.02, TransientError = 0.005;

    /// <summary>Index of the largest current of either sense.</summary>
    public int Peak => Enumerable.Range(0, Currents.Count).MaxBy(i => Math.Abs(Currents[i]));

    /// <summary>The windings whose current has a course worth following; none where a supply holds a given current, which then is there at once.</summary>
    public static IReadOnlyList<string> Windings(Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return apparatus.Layout is Layout.Flat or Layout.Board || apparatus.Supplies.Count == 0 || apparatus.Supplies.Any(s => s.Current is not null || s.Voltage is null || (s.Phases > 1 && !s.ThreePhase)) ? []
            : [.. apparatus.Windings.Select(w => w.Name)];
    }

    /// <summary>Follows the current of a winding.</summary>
    /// <param name="apparatus">The apparatus, every setting applied.</param>
    /// <param name="winding">Name of the winding, one of <see cref="Windings"/>.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">No route knows the inductances, or the network cannot be followed.</exception>
    public static CurrentCourse Of(Apparatus apparatus, string winding, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        int at = apparatus.IndexOf(apparatus.Winding(winding) ?? throw new ArgumentException($"There is no winding '{winding}'.", nameof(winding)));
        if (InSteel(apparatus, winding, cancellation) is { } followed)
            return followed;
        var (point, route) = Point(apparatus, cancellation);
        int n = apparatus.Windings.Count;
        double[] r = new double[n * n], l = new double[n * n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
            {
                l[i * n + j] = 0.5 * (point.Inductance![i, j] + point.Inductance[j, i]);
                // Of alternating current, what the metal takes stands in the resistance.
                r[i * n + j] = apparatus.Frequency > 0 ? 0.5 * (point.Impedance![i, j].Real + point.Impedance[j, i].Real) : i == j ? Warming.Resistance(apparatus.Windings[i], apparatus) : 0;
            }

        double duration = Duration(apparatus, point.Inductance!);
        var (times, currents) = new SupplyCircuit(apparatus, (name, ends) => new CoupledCoils(name, ends, r, l, new double[n]), banks: true).SwitchedOn(duration, duration / 400);
        double bar = TransientError + point.ImpedanceRelativeBar * (apparatus.Supplies.Any(s => s.Capacitance is not null) ? 0.5 : 1);
        return new CurrentCourse(winding, [0, .. times], [0, .. currents[at]], bar, route, string.Join(' ', Remarks(apparatus, point)));
    }

    // The steel of a core on the mains is followed along its own curve, as the first peak is.
    private static CurrentCourse? InSteel(Apparatus apparatus, string winding, CancellationToken cancellation)
    {
        var route = new CircuitRoute();
        if (apparatus.Supplies is not [{ Frequency: > 0, Connection: Connection.Series, Voltage: > 0, ThreePhase: false } supply] || !supply.Feeds.Any(f => Apparatus.Same(f, winding))
            || !apparatus.Parts.Any(p => p.Material.Curve is not null) || !route.Serves(apparatus).HasFlag(Wanted.Impedance))
            return null;
        var (current, resistance) = InrushMeasures.CurrentAtLinkage(apparatus, supply, route, cancellation);
        double bar = route.Solve(apparatus, Wanted.Impedance, Target, cancellation).ImpedanceRelativeBar, sense = apparatus.Winding(winding)!.Reversed ? -1 : 1;
        var steps = SteelInrush.Course(current, supply.Voltage!.Value, supply.Frequency, resistance, Cycles).Where((_, i) => i % 10 == 9).ToList();
        return new CurrentCourse(winding, [0, .. steps.Select(s => s.Time)], [0, .. steps.Select(s => sense * s.Current)], bar, route.Name,
            "The flux is followed from a line that passes zero, other windings open, the steel without memory.");
    }

    /// <summary>Impedances and inductances of the windings from the first route that knows them, series before fields: they answer at once.</summary>
    /// <exception cref="RouteFailedException">None does.</exception>
    internal static (OperatingPoint Point, RouteName Route) Point(Apparatus apparatus, CancellationToken cancellation)
    {
        string? why = null;
        foreach (var route in KnownRoutes.OfImpedance(apparatus))
        {
            try
            {
                var point = route.Solve(apparatus, MeasureOnRoute.Inductances, Target, cancellation);
                if (point is { Inductance: not null, Impedance: not null })
                    return (point, route.Name);
            }
            catch (RouteFailedException e)
            {
                why = e.Message;
            }
        }

        throw new RouteFailedException(why ?? "No route knows the inductances of these windings.");
    }

    // Long enough for a bank to have swung, for direct current to have risen, for some cycles of alternating.
    private static double Duration(Apparatus apparatus, double[,] l)
    {
        if (apparatus.Frequency > 0)
            return Cycles / apparatus.Frequency;
        double longest = 0;
        foreach (var supply in apparatus.Supplies)
        {
            double resistance = Releases.Resistance(apparatus, supply), inductance = Releases.Inductance(apparatus, supply, l);
            longest = Math.Max(longest, supply.Delay + (supply.Capacitance is { } c ? Math.Max(3 * Math.PI * Math.Sqrt(inductance * c), 5 * resistance * c) : 5 * inductance / resistance));
        }

        return longest;
    }

    private static IEnumerable<string> Remarks(Apparatus apparatus, OperatingPoint point)
    {
        bool sudden = apparatus.Frequency == 0;
        if (point.Remark.Length > 0)
            yield return point.Remark;
        if (sudden && apparatus.Parts.Any(FieldModels.Conducts))
            yield return "Currents induced in the metal are left out; they make the coil quicker and the first peak higher.";
        if (apparatus.Parts.Any(p => p.Material.Curve is not null))
            yield return "Inductances are held at those of the settled state; steel that saturates lets more through.";
        if (apparatus.Supplies.Any(s => s.CurrentLimit is not null))
            yield return "The current limit of the supply is left out.";
        if (!sudden)
            yield return "Switched on where the line passes zero.";
    }
}
