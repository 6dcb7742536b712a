using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Series.Gases;

namespace Fieldwright.Bench.Routes;

/// <summary>The motion route: a flat box of discs, followed from meeting to meeting.</summary>
internal sealed class MotionRoute : IRoute
{
    /// <inheritdoc/>
    public RouteName Name => RouteName.Motion;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => apparatus.Box is null ? Wanted.None : Wanted.Gas;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation) => new()
    {
        Currents = new Dictionary<string, System.Numerics.Complex>(),
        Gas = BoxRun.Measure(apparatus.Box!, relativeTarget, cancellation),
        Remark = "The bar is what a run of finite length leaves open, 95 of 100 times."
            + (apparatus.Box!.Discs.Moment > 0 ? " The discs repel as upright dipoles, every pair counted, in steps of a hundredth of how near two come; magnets wider than half their distance push a little otherwise." : ""),
    };
}

/// <summary>The series route for a box that keeps its energy: the equation of state of hard discs.</summary>
internal sealed class GasRoute : IRoute
{
    // What Enskog's theory leaves out of the self-diffusion at these packings: some per cent.
    private const double EnskogBar = 0.1;

    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => apparatus.Box is { Discs.Moment: 0 } box && BoxRun.KeepsItsEnergy(box) ? Wanted.Gas : Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var box = apparatus.Box!;
        var discs = box.Discs;
        double start = 0.5 * discs.Mass * discs.RmsSpeed * discs.RmsSpeed;
        var found = new Dictionary<string, Estimate>();
        try
        {
            var thermal = new Estimate(start, 1e-9 * start);
            double height = box.Height;
            if (box.Lid is { } lid)
            {
                // Energy held: N kT of the discs, kT/2 of the lid, and the load's height. The lid stands where the push of the gas carries the load.
                double total = discs.Count * start + lid.Load * lid.Height;
                if (lid.Load == 0)
                    throw new RouteFailedException("Nothing presses the lid, so it has no height of rest.");
                (double Height, double Thermal) At(double shrink)
                {
                    double low = 4 * discs.Radius, high = lid.Height + discs.Count * start / lid.Load;
                    double Excess(double h) => Push(box, h, Thermal(h), shrink).Value - lid.Load;
                    double Thermal(double h) => Math.Max(0, total - lid.Load * h) / (discs.Count + 0.5);
                    while (Packing(box, low, shrink) >= HardDiscGas.Freezing)
                        low *= 1.05;
                    if (Excess(low) < 0)
                        throw new RouteFailedException("The load presses the discs until they freeze; the equation of state ends there.");
                    for (int i = 0; i < 200; i++)
                    {
                        double middle = 0.5 * (low + high);
                        (low, high) = Excess(middle) > 0 ? (middle, high) : (low, middle);
                    }

                    return (low, Thermal(low));
                }

                var (h1, t1) = At(2);
                var (h2, t2) = At(1);
                (height, thermal) = (0.5 * (h1 + h2), new Estimate(0.5 * (t1 + t2), 0.5 * Math.Abs(t1 - t2) + 0.5 * t1 / discs.Count));
                if (height > box.Height)
                    throw new RouteFailedException("The lid would rise above the box.");
                found["lid height"] = new Estimate(height, 0.5 * Math.Abs(h1 - h2) + height / discs.Count);
            }
            else
            {
                var pressure = Pressure(box, box.Height, start);
                found["gas pressure"] = pressure;
                if (Packing(box, 0.5 * box.Height, 2) < HardDiscGas.Freezing)
                {
                    var halved = Pressure(box, 0.5 * box.Height, start);
                    double ratio = halved.Value / pressure.Value;
                    found["pressure ratio on halving"] = new Estimate(ratio, ratio * (halved.RelativeBar + pressure.RelativeBar));
                }
            }

            double unit = Math.Sqrt(thermal.Value / discs.Mass), bar = 0.5 * thermal.RelativeBar;
            found["disc temperature"] = thermal;
            // A box of N discs that holds its energy differs from Maxwell's law by a part in some N.
            found["mean speed"] = new Estimate(Math.Sqrt(0.5 * Math.PI) * unit, Math.Sqrt(0.5 * Math.PI) * unit * (bar + 0.25 / discs.Count));
            found["rms speed"] = new Estimate(Math.Sqrt(2) * unit, Math.Sqrt(2) * unit * bar);
            double diffusion = HardDiscGas.SelfDiffusion(Packing(box, height, 2), discs.Radius, discs.Mass, thermal.Value);
            found["diffusion coefficient"] = new Estimate(diffusion, EnskogBar * diffusion);
        }
        catch (ArgumentException)
        {
            throw new RouteFailedException("The discs stand so close that they freeze; the equation of state ends before.");
        }

        return new OperatingPoint
        {
            Currents = new Dictionary<string, System.Numerics.Complex>(), Gas = found,
            Remark = "Equation of state of hard discs; the bar brackets where the wall's layer counts from.",
        };
    }

    private static double Packing(ParticleBox box, double height, double radii) =>
        box.Discs.Count * Math.PI * box.Discs.Radius * box.Discs.Radius / (Across(box, radii) * (height - radii * box.Discs.Radius));

    // Width that the centres have.
    private static double Across(ParticleBox box, double radii) => box.Width - (box.IsJoined ? 0 : radii * box.Discs.Radius);

    // Force on the lid: pressure times the width the centres have.
    private static Estimate Push(ParticleBox box, double height, double thermal, double radii)
    {
        double packing = Packing(box, height, radii);
        var z = HardDiscGas.Compressibility(packing);
        double density = packing / (Math.PI * box.Discs.Radius * box.Discs.Radius);
        return new Estimate(density * thermal * z.Value, density * thermal * z.Error).Times(Across(box, radii));
    }

    // The gas counts from somewhere between the room of the centres and half a diameter further out: a wall gathers a layer.
    private static Estimate Pressure(ParticleBox box, double height, double thermal)
    {
        Estimate P(double radii)
        {
            double packing = Packing(box, height, radii);
            var z = HardDiscGas.Compressibility(packing);
            double density = packing / (Math.PI * box.Discs.Radius * box.Discs.Radius);
            return new Estimate(density * thermal * z.Value, density * thermal * z.Error);
        }

        Estimate tight = P(2), wide = P(1);
        return new Estimate(0.5 * (tight.Value + wide.Value), 0.5 * Math.Abs(tight.Value - wide.Value) + tight.Bar);
    }
}
