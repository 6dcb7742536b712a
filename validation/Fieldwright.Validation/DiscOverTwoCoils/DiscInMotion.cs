using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;
using Xunit;

namespace Fieldwright.Validation.DiscOverTwoCoils;

/// <summary>The plate of TEAM workshop problem 28 let go from 3.8 mm, i = 20 sin ωt: height against time by coupled rings in motion and by the transient field; see source.md.</summary>
public class DiscInMotion
{
    private const double Millimetre = 1e-3, Mass = 0.107, Gravity = 9.81, Start = 3.8 * Millimetre, Sigma = 3.40e7;

    private static readonly Lazy<RingTrack> Rings = new(() => Release(1.72));

    /// <summary>Turning points of an independent computation by coupled rings, printed to a millisecond and 0.01 mm; its 130 × 6 rings were within 0.1 % of a coarser set in
    /// lift, which is 0.02 mm of height, and a turning point is flat: half a period of the 100 Hz ripple in time.</summary>
    [Fact]
    public void DiscInMotion_TurningPointsByRings_AgreeWithComputedRings()
    {
        var table = PublishedTable.Read("team28-extrema.csv");
        for (var row = 0; row < table.Count; row++)
        {
            double time = table.Number(row, "t_calc_ms") * Millimetre, height = table.Number(row, "z_calc_mm");
            var (t, z) = Turn(time, table.Text(row, "kind") == "max");
            Assert.Equal(height, z / Millimetre, 0.06);
            Assert.Equal(time, t, 5e-3);
        }
    }

    /// <summary>Measured heights, quantised to 0.1 mm. The swing measured is 4 % quicker than both computations and a little higher at rest, which a coil 0.3 mm nearer or 3 % more
    /// current would explain; the flat top at 79 to 109 ms cannot be free flight. So: turning points within 1 mm and 15 ms after the first half-swing, and the mean after 1.2 s within 0.4 mm.</summary>
    [Fact]
    public void DiscInMotion_MeasuredHeights_AgreeAfterTheFirstHalfSwing()
    {
        var extrema = PublishedTable.Read("team28-extrema.csv");
        for (var row = 1; row < extrema.Count; row++)
        {
            var range = extrema.Text(row, "t_measured_ms").Split("..");
            var measured = range.Average(t => double.Parse(t, System.Globalization.CultureInfo.InvariantCulture)) * Millimetre;
            var (t, z) = Turn(extrema.Number(row, "t_calc_ms") * Millimetre, extrema.Text(row, "kind") == "max");
            // 1 mm, and half a step of the table
            Assert.Equal(extrema.Number(row, "z_measured_mm"), z / Millimetre, 1.05);
            Assert.Equal(measured, t, 15e-3);
        }
        var table = PublishedTable.Read("team28-height.csv");
        double sum = 0, computed = 0;
        var count = 0;
        for (var row = 0; row < table.Count; row++)
        {
            if (table.Number(row, "t_ms") < 1200) continue;
            count++;
            sum += table.Number(row, "z_mm");
            computed += HeightAt(table.Number(row, "t_ms") * Millimetre) / Millimetre;
        }
        Assert.Equal(sum / count, computed / count, 0.4);
    }

    /// <summary>The field route shares no code with the rings. 0.1 s: up to the first top and into the fall. The lift of the mesh is good to some tenths of a per cent (2 % on a mesh twice as
    /// coarse, which ends 0.8 mm off), and so are the 15 mm of the rise.</summary>
    [Fact]
    public void DiscInMotion_ByTheTransientField_AgreesWithCoupledRings()
    {
        var (run, worst) = ByTheField(0.1);
        var books = run.Steps[^1].Balance;
        Told.Line($"first 0.1 s: at most {worst / Millimetre:0.000} mm from our rings, {run.Steps.Count} steps, {run.Meshes} meshes");
        Assert.True(worst < 0.08 * Millimetre, $"{worst} {run.Steps.Count} steps, {run.RefusedSteps} refused, {run.Meshes} meshes, {run.Last.UnknownCount} unknowns, {books}");
        // each step may miss what the field holds at its fullest by twice its relative error
        var fullest = run.Steps.Max(s => s.Balance.Field);
        Assert.True(Math.Abs(books.Residual) < 2e-3 * run.Steps.Count * fullest, $"{books}");
        Assert.True(Math.Abs(books.Remeshing) < 2e-3 * books.SolidHeat, $"{books}");
    }

    /// <summary>The whole record of 1.7 s, some minutes long: run by hand with <c>-explicit on</c>, results in source.md. Turning points by the field against those computed elsewhere by rings, which leave 0.06 mm and 5 ms open;
    /// a swing of eleven half-turns adds up the difference in lift of a few tenths of a per cent to as much again.</summary>
    [Fact(Explicit = true)]
    public void DiscInMotion_WholeRecordByTheTransientField_AgreesWithComputedRings()
    {
        var (run, worst) = ByTheField(1.72);
        var table = PublishedTable.Read("team28-extrema.csv");
        Told.Line($"{run.Steps.Count} steps, {run.RefusedSteps} refused, {run.Meshes} meshes, {run.Last.UnknownCount} unknowns, at most {worst / Millimetre:0.000} mm from our rings; {run.Steps[^1].Balance}");
        for (var row = 0; row < table.Count; row++)
        {
            double time = table.Number(row, "t_calc_ms") * Millimetre, height = table.Number(row, "z_calc_mm");
            var (t, z) = Turn(time, table.Text(row, "kind") == "max", at => Start + run.Motion(0, at).Displacement);
            Told.Line($"{table.Text(row, "kind")}: computed {time * 1e3:0} ms {height:0.00} mm, by the field {t * 1e3:0} ms {z / Millimetre:0.00} mm, measured {table.Text(row, "t_measured_ms")} ms {table.Text(row, "z_measured_mm")} mm");
            Assert.Equal(height, z / Millimetre, 0.12);
            Assert.Equal(time, t, 8e-3);
        }
    }

    private static (TransientSolution Run, double Worst) ByTheField(double end)
    {
        double Current(double t) => 20 * Math.Sin(2 * Math.PI * 50 * t);
        var run = TransientSolver.Follow(
            new()
            {
                Field = new()
                {
                    Symmetry = Symmetry.Round,
                    Parts =
                    [
                        Outline.Rectangle(1, 0, Start, 65 * Millimetre, Start + (3 * Millimetre)),
                        Outline.Rectangle(2, 27 * Millimetre, -52 * Millimetre, 55 * Millimetre, 0),
                        Outline.Rectangle(3, 80 * Millimetre, -52 * Millimetre, 95 * Millimetre, 0),
                    ],
                    Matter = new Dictionary<int, RegionMatter> { [1] = new("plate", Sigma) },
                    Windings = [FieldWinding.InOneRegion("inner", 2, 960, new OpenCircuit()), FieldWinding.InOneRegion("outer", 3, -576, new OpenCircuit())],
                },
                Circuits = [new WindingCircuit("line", [("inner", 1), ("outer", 1)]) { Current = Current }],
                Bodies = [new MovingBody("plate", [1], Mass) { SteadyForce = -Mass * Gravity, LowestDisplacement = 0 }],
                ResolvedFrequency = 50,
            },
            new(end) { RelativeError = 1e-3, LargestStep = 5e-4, FirstStep = 1e-4, Fineness = 2 },
            null,
            TestContext.Current.CancellationToken);
        var worst = 0.0;
        for (var t = 0.0; t <= end; t += 1e-3) worst = Math.Max(worst, Math.Abs(Start + run.Motion(0, t).Displacement - HeightAt(t)));
        return (run, worst);
    }

    private static double HeightAt(double time)
    {
        var track = Rings.Value;
        var at = time / track.Times[1];
        var low = Math.Min((int)at, track.Times.Count - 2);
        return Start + track.Lifts[low] + ((at - low) * (track.Lifts[low + 1] - track.Lifts[low]));
    }

    /// <summary>The highest or lowest place of the rings within 30 ms of a time.</summary>
    private static (double Time, double Height) Turn(double near, bool top) => Turn(near, top, HeightAt);

    private static (double Time, double Height) Turn(double near, bool top, Func<double, double> heightAt)
    {
        (double Time, double Height) best = (0, top ? double.NegativeInfinity : double.PositiveInfinity);
        for (var t = near - 0.03; t <= near + 0.03; t += 5e-4)
            if (top ? heightAt(t) > best.Height : heightAt(t) < best.Height) best = (t, heightAt(t));
        return best;
    }

    private static RingTrack Release(double end)
    {
        var rings = new CoupledRings(
            [new RingBody(0, 65 * Millimetre, Start, Start + (3 * Millimetre), Sigma)],
            [new ThickCoil(27 * Millimetre, 55 * Millimetre, -52 * Millimetre, 0, 960), new ThickCoil(80 * Millimetre, 95 * Millimetre, -52 * Millimetre, 0, -576)],
            50);
        var motion = new RingMotion(rings, Mass, -Mass * Gravity, 0, 30 * Millimetre);
        var track = motion.Release([new RingCircuit([(0, 1), (1, 1)], t => 20 * Math.Sin(2 * Math.PI * 50 * t))], 0, end, 2e-4);
        Assert.True(track.Lift.Error < 0.01 * Millimetre, $"{track.Lift}");
        return track;
    }
}
