using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Fields;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Bench.Routes;

/// <summary>A part thrown, by the transient field.</summary>
internal static class FieldShot
{
    /// <summary>Follows the part twice, on two meshes and with two demands on the steps; their differences are the bars.</summary>
    public static Shot Throw(Apparatus apparatus, CancellationToken cancellation)
    {
        try
        {
            Ending coarse = Run(apparatus, 1, 4e-3, cancellation), fine = Run(apparatus, 1.5, 2e-3, cancellation);
            static Estimate Both(double fine, double coarse) => new(fine, Math.Abs(fine - coarse));
            double start = Releases.Part(apparatus).Place.Z, held = Shots.BankEnergy(apparatus);
            // What no book accounts for is anyone's.
            double lost = Math.Abs(fine.Books.Residual) + Math.Abs(fine.Books.Remeshing);
            return new Shot(
                fine.Left && coarse.Left, Both(fine.Time, coarse.Time), Both(fine.Speed, coarse.Speed), Both(start + fine.Top, start + coarse.Top),
                new Estimate(fine.Books.SolidHeat, Math.Abs(fine.Books.SolidHeat - coarse.Books.SolidHeat) + lost),
                apparatus.Windings.ToDictionary(w => w.Name, w => Both(fine.WireHeat(apparatus, w), coarse.WireHeat(apparatus, w)), StringComparer.OrdinalIgnoreCase),
                Both(fine.Books.WireHeat, coarse.Books.WireHeat),
                new Estimate(held + fine.Books.Circuit, Math.Abs(fine.Books.Circuit - coarse.Books.Circuit)), Both(fine.Books.Field, coarse.Books.Field), fine.Force);
        }
        catch (Exception e) when (e is FieldNotConvergedException or ZeroPivotException)
        {
            throw new RouteFailedException(e.Message, e);
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
    }

    private static Ending Run(Apparatus apparatus, double fineness, double relativeError, CancellationToken cancellation)
    {
        double pace = Shots.Pace(apparatus), longest = Shots.Longest(apparatus), way = Shots.Way(apparatus);
        if (!double.IsFinite(pace))
            pace = longest;
        var model = FieldRelease.Model(apparatus, pace, Releases.Part(apparatus).Drag, 0);
        bool risen = false;
        var options = new TransientOptions(longest)
        {
            Fineness = fineness, RelativeError = relativeError, LargestStep = pace / 30, FirstStep = pace / 400,
            Until = step =>
            {
                risen |= step.Displacements[0] > 0;
                return step.Displacements[0] >= way || (risen && step.Displacements[0] <= 0 && step.Speeds[0] <= 0);
            },
        };
        var steps = TransientSolver.Follow(model, options, null, cancellation).Steps;
        var squares = new double[apparatus.Supplies.Count];
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
