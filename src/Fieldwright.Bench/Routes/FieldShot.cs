using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Fields;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Bench.Routes;

/// <summary>A part thrown, by the transient field.</summary>
internal static class FieldShot
{
    /// <summary>Follows the part on two meshes and with steps of two lengths, for the bars.</summary>
    public static Shot Throw(Apparatus apparatus, CancellationToken cancellation)
    {
        double way = Shots.Way(apparatus);
        var asked = new Asked();
        var left = asked.Of(e => e.Left ? 1 : 0);
        Func<Estimate> time = asked.Of(e => e.Time), speed = asked.Of(e => e.Speed), top = asked.Of(e => e.Top);
        Func<Estimate> inMetal = asked.Of(e => e.Books.SolidHeat), inWire = asked.Of(e => e.Books.WireHeat), inCircuits = asked.Of(e => e.Books.Circuit), inField = asked.Of(e => e.Books.Field);
        var inWindings = apparatus.Windings.Select(w => (w.Name, Heat: asked.Of(e => e.WireHeat(apparatus, w)))).ToList();
        try
        {
            var run = asked.Answer(Model(apparatus), Options(apparatus, way), r => Ending.Of(r, way, apparatus.Supplies.Count), cancellation);
            var last = Ending.Of(run, way, apparatus.Supplies.Count);
            static Estimate Above(double start, Estimate e) => new(start + e.Value, e.Bar);
            // What no book accounts for is anyone's.
            double lost = Math.Abs(last.Books.Residual) + Math.Abs(last.Books.Remeshing);
            return new Shot(
                last.Left && left().Bar == 0, time(), speed(), Above(Releases.Part(apparatus).Place.Z, top()), new Estimate(inMetal().Value, inMetal().Bar + lost),
                inWindings.ToDictionary(w => w.Name, w => w.Heat(), StringComparer.OrdinalIgnoreCase), inWire(), Above(Shots.BankEnergy(apparatus), inCircuits()), inField(), last.Force);
        }
        catch (Exception e) when (FieldRoute.IsBreakdown(e))
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    private static double Pace(Apparatus apparatus) => Shots.Pace(apparatus) is var pace && double.IsFinite(pace) ? pace : Shots.Longest(apparatus);

    private static TransientModel Model(Apparatus apparatus) => FieldRelease.Model(apparatus, Pace(apparatus), Releases.Part(apparatus).Drag, 0);

    private static TransientOptions Options(Apparatus apparatus, double way)
    {
        double pace = Pace(apparatus), before = 0;
        bool risen = false;
        return new(Shots.Longest(apparatus))
        {
            Fineness = 1.5, RelativeError = 2e-3, LargestStep = pace / 30, FirstStep = pace / 400,
            Until = step =>
            {
                // it is followed more than once: a time that goes back begins again
                risen = (risen && step.Time > before) || step.Displacements[0] > 0;
                before = step.Time;
                return step.Displacements[0] >= way || (risen && step.Displacements[0] <= 0 && step.Speeds[0] <= 0);
            },
        };
    }

    // Questions to one transient, each answered under the name it was asked by once all have been.
    private sealed class Asked
    {
        private readonly List<Func<Ending, double>> questions = [];
        private IReadOnlyList<(double Value, double ErrorBar)> answers = [];

        public Func<Estimate> Of(Func<Ending, double> question)
        {
            questions.Add(question);
            int at = questions.Count - 1;
            return () => new Estimate(answers[at].Value, answers[at].ErrorBar);
        }

        public TransientSolution Answer(TransientModel model, TransientOptions options, Func<TransientSolution, Ending> ending, CancellationToken cancellation)
        {
            (var run, answers) = TransientSolver.FollowWithBars(model, options, [.. questions.Select(q => (Func<TransientSolution, double>)(r => q(ending(r))))], cancellation);
            return run;
        }
    }

    private sealed record Ending(bool Left, double Time, double Speed, double Top, double Force, EnergyBalance Books, IReadOnlyList<double> Squares)
    {
        // ∫I² dt of the circuit a winding belongs to, times its resistance.
        public double WireHeat(Apparatus apparatus, Winding winding)
        {
            for (int k = 0; k < apparatus.Supplies.Count; k++)
                if (apparatus.Supplies[k].Feeds.Any(f => Apparatus.Same(f, winding.Name)))
                    return Squares[k] * Warming.Resistance(winding, apparatus);
            return 0;
        }

        public static Ending Of(TransientSolution run, double way, int circuits)
        {
            var steps = run.Steps;
            var squares = new double[circuits];
            for (int s = 1; s < steps.Count; s++)
                for (int k = 0; k < squares.Length; k++)
                {
                    double a = steps[s - 1].CircuitCurrents[k], b = steps[s].CircuitCurrents[k];
                    squares[k] += (steps[s].Time - steps[s - 1].Time) * (a * a + a * b + b * b) / 3;
                }

            var (last, before) = (steps[^1], steps[^2]);
            bool left = last.Displacements[0] >= way;
            // Over the last step the place is a parabola, the speed runs straight.
            double h = last.Time - before.Time, share = 1;
            if (left)
            {
                double rise = before.Speeds[0] * h, bend = last.Displacements[0] - before.Displacements[0] - rise, gap = way - before.Displacements[0];
                share = Math.Clamp(2 * gap / (rise + Math.Sqrt(Math.Max(0, rise * rise + 4 * bend * gap))), 0, 1);
            }

            return new Ending(left, before.Time + share * h, before.Speeds[0] + share * (last.Speeds[0] - before.Speeds[0]), left ? way : steps.Max(s => s.Displacements[0]), last.Forces[0], last.Balance, squares);
        }
    }
}
