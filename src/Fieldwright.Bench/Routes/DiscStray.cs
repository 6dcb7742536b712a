using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Discs;

namespace Fieldwright.Bench.Routes;

/// <summary>Whether a disc or ring that floats level over coaxial coils stays there: how it is pushed back when it slides and tilts.</summary>
/// <param name="Sideways">Least stiffness against straying sideways, N/m, the disc tilting as it likes while it slides; below zero it runs away.</param>
/// <param name="Tilting">Torque that rights it for each radian of tilt about its centre, N·m, held in the middle.</param>
/// <remarks>Sliding and tilting push on one another: the softest of their two joint motions decides. It is given in N/m of the mass that moves, so that a stray grows, or swings, with the root of it over the mass.</remarks>
public sealed record DiscStray(Estimate Sideways, Estimate Tilting)
{
    // Currents across the thickness are left out; what that changes is of the order of the square of thickness over width, and is counted in the bar.
    private const double MostThickness = 0.3;

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
        var (inner, outer, thickness) = part.Shape switch
        {
            DiscShape d => (0, d.Radius, d.Thickness),
            RingShape r => (r.InnerRadius, r.OuterRadius, r.Height),
            _ => throw new RouteFailedException($"'{part.Name}' is no disc or ring."),
        };
        double flat = thickness / (outer - inner);
        if (flat > MostThickness)
            throw new RouteFailedException(FormattableString.Invariant($"'{part.Name}' is {flat:P0} as thick as it is wide: currents across the thickness count, which are left out here."));
        var disc = new DiscOverCoils(new DiscBody(inner, outer, thickness, part.Material.ConductivityAt(apparatus.Ambient)),
            [.. apparatus.Windings.Select(w => new CoilSource(RingsRoute.Coil(w), currents.Each[w.Name]))], apparatus.Frequency);
        double middle = part.Place.Z + 0.5 * thickness;
        var k = disc.Stiffness(middle, tolerance);
        double mass = Floats.Mass(part), gyration = Math.Sqrt(0.25 * (inner * inner + outer * outer) + thickness * thickness / 12);
        double slide = k.Sideways, across = 0.5 * (k.SidewaysByTilt + k.TiltBySideways) / gyration, turn = k.Tilting / (gyration * gyration);
        double half = 0.5 * (slide - turn), least = 0.5 * (slide + turn) - double.Hypot(half, across);
        double relative = k.RelativeError + 2 * currents.Bar + flat * flat, size = new[] { slide, across, turn }.Max(Math.Abs);
        return new DiscStray(new Estimate(least, 2 * relative * size), new Estimate(k.Tilting, relative * Math.Max(Math.Abs(k.Tilting), size * outer * outer * 0.25)))
        {
            Remark = FormattableString.Invariant($"It may tilt as it slides; held level it would be {slide:G3} N/m. ") + (least < 0
                ? FormattableString.Invariant($"A small stray grows by e in {1e3 * Math.Sqrt(mass / -least):G2} ms.") : "It swings about its place.") + " The lag of the currents behind its motion is left out.",
        };
    }

    /// <summary>What is said with the answer.</summary>
    public string Remark { get; private init; } = "";
}
