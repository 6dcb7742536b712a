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

    /// <summary>Follows the part on two meshes and with steps of two lengths, for the bar.</summary>
    public static Flight Release(Apparatus apparatus, double time, CancellationToken cancellation)
    {
        if (time * apparatus.Frequency > MostPeriods)
            throw new RouteFailedException($"The field is followed in time over at most {MostPeriods} periods.");
        try
        {
            double start = Releases.Part(apparatus).Place.Z;
            var answers = TransientSolver.FollowWithBars(
                Model(apparatus, Period(apparatus, time), 0, Releases.Lowest(apparatus)), Options(apparatus, time), [run => start + run.Steps[^1].Displacements[0], run => run.Steps[^1].Speeds[0]], cancellation).Answers;
            return new Flight(new Estimate(answers[0].Value, answers[0].ErrorBar), new Estimate(answers[1].Value, answers[1].ErrorBar));
        }
        catch (Exception e) when (FieldRoute.IsBreakdown(e))
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>A round apparatus with its part that may move, to be followed in time.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="period">Time in which the currents change much, s.</param>
    /// <param name="drag">Steady force that holds the part back besides its weight, N.</param>
    /// <param name="lowest">Lowest it can go from its place, m.</param>
    public static TransientModel Model(Apparatus apparatus, double period, double drag, double lowest)
    {
        var part = Releases.Part(apparatus);
        var sections = Sections.Of(apparatus);
        var field = FieldModels.Of(apparatus, sections, apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.Zero, StringComparer.OrdinalIgnoreCase)) with { Frequency = 0 };
        return new TransientModel
        {
            Field = field,
            Circuits = [.. apparatus.Supplies.Select(s => Circuit(apparatus, s))],
            Bodies = [new MovingBody(part.Name, sections.RegionsOf(part.Name), Floats.Mass(part)) { SteadyForce = -Releases.Weight(part) - drag, LowestDisplacement = lowest }],
            ResolvedFrequency = 1 / period,
        };
    }

    private static TransientOptions Options(Apparatus apparatus, double time)
    {
        double period = Math.Min(time, Period(apparatus, time));
        return new(time) { Fineness = 2, RelativeError = 1e-3, LargestStep = period / 40, FirstStep = period / 200 };
    }

    private static double Period(Apparatus apparatus, double time) => Shots.Pace(apparatus) is var pace && double.IsFinite(pace) ? pace : time;

    private static WindingCircuit Circuit(Apparatus apparatus, Supply supply)
    {
        var source = Releases.Source(apparatus, supply);
        var circuit = new WindingCircuit(supply.Name, [.. Releases.Fed(apparatus, supply).Select(f => (f.Winding.Name, f.Sense))]);
        return supply.Current is not null ? circuit with { Current = source } : circuit with { Voltage = source, Resistance = supply.InternalResistance, Capacitance = supply.Capacitance, CapacitorVoltage = supply.Capacitance is null ? 0 : supply.Voltage ?? 0 };
    }
}
