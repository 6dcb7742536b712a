using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Fields;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Bench.Routes;

/// <summary>A part let go, by the transient field.</summary>
internal static class FieldRelease
{
    // One period takes some forty steps of some thousand unknowns: more than this is for the series route.
    private const int MostPeriods = 30;

    /// <summary>Follows the part twice, on two meshes and with two demands on the steps; their difference is the bar.</summary>
    public static Flight Release(Apparatus apparatus, double time, CancellationToken cancellation)
    {
        if (time * apparatus.Frequency > MostPeriods)
            throw new RouteFailedException($"The field is followed in time over at most {MostPeriods} periods.");
        try
        {
            var (coarseHeight, coarseSpeed) = Run(apparatus, time, 1.4, 2e-3, cancellation);
            var (height, speed) = Run(apparatus, time, 2, 1e-3, cancellation);
            double start = Releases.Part(apparatus).Place.Z;
            return new Flight(new Estimate(start + height, Math.Abs(height - coarseHeight)), new Estimate(speed, Math.Abs(speed - coarseSpeed)));
        }
        catch (Exception e) when (e is FieldNotConvergedException or ZeroPivotException)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    private static (double Height, double Speed) Run(Apparatus apparatus, double time, double fineness, double relativeError, CancellationToken cancellation)
    {
        var part = Releases.Part(apparatus);
        var sections = Sections.Of(apparatus);
        var field = FieldModels.Of(apparatus, sections, apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.Zero, StringComparer.OrdinalIgnoreCase)) with { Frequency = 0 };
        double pace = Shots.Pace(apparatus), period = double.IsFinite(pace) ? pace : time;
        var model = new TransientModel
        {
            Field = field,
            Circuits = [.. apparatus.Supplies.Select(s => Circuit(apparatus, s))],
            Bodies = [new MovingBody(part.Name, sections.RegionsOf(part.Name), Floats.Mass(part)) { SteadyForce = -Releases.Weight(part), LowestDisplacement = Releases.Lowest(apparatus) }],
            ResolvedFrequency = 1 / period,
        };
        var options = new TransientOptions(time) { Fineness = fineness, RelativeError = relativeError, LargestStep = Math.Min(time, period) / 40, FirstStep = Math.Min(time, period) / 200 };
        var last = TransientSolver.Follow(model, options, null, cancellation).Steps[^1];
        return (last.Displacements[0], last.Speeds[0]);
    }

    /// <summary>A supply with the windings it feeds.</summary>
    public static WindingCircuit Circuit(Apparatus apparatus, Supply supply)
    {
        var source = Releases.Source(apparatus, supply);
        var circuit = new WindingCircuit(supply.Name, [.. Releases.Fed(apparatus, supply).Select(f => (f.Winding.Name, f.Sense))]);
        return supply.Current is not null ? circuit with { Current = source } : circuit with { Voltage = source, Resistance = supply.InternalResistance, Capacitance = supply.Capacitance, CapacitorVoltage = supply.Capacitance is null ? 0 : supply.Voltage ?? 0 };
    }
}
