using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Matter.Units;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Discs;

namespace Fieldwright.Bench.Routes;

/// <summary>Whether a disc or ring that floats level over coaxial coils stays there: how it is pushed back when it slides and tilts.</summary>
/// <param name="Sideways">Least stiffness against straying sideways, N/m, the disc tilting as it likes while it slides; below zero it runs away.</param>
/// <param name="Tilting">Torque that rights it for each radian of tilt about its centre, N·m, held in the middle.</param>
/// <remarks>Sliding and tilting push on one another: the softest of their two joint motions decides. It is given in N/m of the mass that moves, so that a stray grows, or swings, with the root of it over the mass.</remarks>
public sealed record DiscStray(Estimate Sideways, Estimate Tilting)
{
    /// <summary>Finds it for one part.</summary>
    /// <param name="part">The disc or ring.</param>
    /// <param name="apparatus">The apparatus, round.</param>
    /// <param name="currents">Currents of its windings, A peak, and the relative half-width they have.</param>
    /// <param name="tolerance">Relative error of the forces aimed at.</param>
    /// <exception cref="RouteFailedException">The disc is too thick to be one of stream functions, or its sums do not settle.</exception>
    internal static DiscStray Of(Part part, Apparatus apparatus, (IReadOnlyDictionary<string, Complex> Each, double Bar) currents, double tolerance)
    {
        try
        {
            return Found(part, apparatus, currents, tolerance);
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    private static DiscStray Found(Part part, Apparatus apparatus, (IReadOnlyDictionary<string, Complex> Each, double Bar) currents, double tolerance)
    {
        var disc = DiscRoute.Disc(part, apparatus, [.. apparatus.Windings.Select(RingsRoute.Coil)], w => currents.Each[w.Name]);
        var (inner, outer, thickness) = (disc.Body.InnerRadius, disc.Body.OuterRadius, disc.Body.Thickness);
        double middle = part.Place.Z + 0.5 * thickness, flat = DiscRoute.Flatness(part);
        var k = disc.Stiffness(middle, tolerance);
        double mass = Floats.Mass(part), gyration = Math.Sqrt(0.25 * (inner * inner + outer * outer) + thickness * thickness / 12);
        double slide = k.Sideways, turn = k.Tilting / (gyration * gyration), coupled = k.SidewaysByTilt * k.TiltBySideways / (gyration * gyration);
        double relative = k.RelativeError + 2 * currents.Bar + flat * flat, size = new[] { slide, Math.Sqrt(Math.Abs(coupled)), turn }.Max(Math.Abs);
        double least = Least(slide, turn, coupled, out bool flutters), most = 2 * relative * size;
        double bar = most + new[] { -most * size, most * size }.Max(off => Math.Abs(Least(slide, turn, coupled + off, out _) - least));
        return new DiscStray(new Estimate(least, bar), new Estimate(k.Tilting, relative * Math.Max(Math.Abs(k.Tilting), size * outer * outer * 0.25)))
        {
            Remark = FormattableString.Invariant($"It may tilt as it slides; held level it would be {slide:G3} N/m. ") + Said(k.Rates(mass, mass * gyration * gyration, true)[0], flutters),
        };
    }

    // The less of the two eigenvalues of the joint motion. Where the coils are out of step they may be a complex pair: slide and tilt then drive one another round, and it counts as soft as what would throw it off as fast.
    private static double Least(double slide, double turn, double coupled, out bool flutters)
    {
        double half = 0.5 * (slide - turn), under = half * half + coupled;
        flutters = under < 0;
        if (!flutters)
            return 0.5 * (slide + turn) - Math.Sqrt(under);
        double grows = Complex.Sqrt(-new Complex(0.5 * (slide + turn), Math.Sqrt(-under))).Real;
        return -grows * grows;
    }

    private static string Said(Complex fastest, bool flutters)
    {
        // Slower than this air and what is left out decide.
        const double Slow = 1e-3;
        string time = SiFormat.Write(1 / Math.Abs(fastest.Real), "s"), beat = SiFormat.Write(Math.Abs(fastest.Imaginary) / (2 * Math.PI), "Hz");
        return (Math.Abs(fastest.Real) < Slow ? "It swings about its place, for long." : fastest switch
        {
            { Real: < 0 } => $"It swings about its place, less by e in {time}.",
            { Imaginary: 0 } => $"It does not stay in the middle: a small stray grows by e in {time}.",
            _ when flutters => $"It flutters: slide and tilt drive one another round at {beat}, more by e in {time}.",
            _ => $"It would come back, but for its currents, which lag so that it swings wider, at {beat}, by e in {time}.",
        }) + " The lag of its currents behind its motion is counted in these times.";
    }

    /// <summary>What is said with the answer.</summary>
    public string Remark { get; private init; } = "";
}
