using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Routes;

/// <summary>Where the ampere-turns of a ring with coils go, A peak, and what share of its greatest flux leaks.</summary>
/// <param name="Gap">Ampere-turns across the gap; zero of a closed ring.</param>
/// <param name="Steel">Ampere-turns along the steel.</param>
/// <param name="Leakage">One less the least flux of a section over the greatest.</param>
public sealed record CoreBudget(Estimate Gap, Estimate Steel, Estimate Leakage)
{
    // Sections the flux is looked at, and what looking at the middle line of a gap only leaves open.
    private const int Sections = 36;
    private const double Sampling = 0.01;

    /// <summary>The budget of a core in a plane field.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="part">Its core.</param>
    /// <param name="field">The field.</param>
    /// <param name="currents">Currents of the windings, A peak.</param>
    /// <param name="spread">Relative bar of the currents.</param>
    /// <param name="flux">Relative bar of the flux in the plane.</param>
    /// <param name="faces">Relative share of the flux that flat faces add, its bar included: the plane does not see it.</param>
    internal static CoreBudget Of(Apparatus apparatus, Part part, MagneticField field, IReadOnlyDictionary<string, Complex> currents, double spread, double flux, double faces)
    {
        var core = (CoreShape)part.Shape;
        double at = core.GapAt * Math.PI / 180, half = core.Gap / (core.InnerRadius + core.OuterRadius);
        Complex Through(double angle)
        {
            PlaneVector On(double radius) => new(part.Place.X + radius * Math.Cos(angle), part.Place.Y + radius * Math.Sin(angle));
            return field is HarmonicField alternating ? alternating.Flux(On(core.InnerRadius), On(core.OuterRadius)) : ((StaticField)field).Flux(On(core.InnerRadius), On(core.OuterRadius));
        }

        // From face to face, the faces themselves left to the fringe.
        double[] fluxes = [.. Enumerable.Range(0, Sections).Select(i => Through(at + half + (2 * Math.PI - 2 * half) * (i + 0.5) / Sections).Magnitude)];
        Complex force = apparatus.Windings.Where(w => w.Space is LimbSpace).Aggregate(Complex.Zero, (sum, w) => sum + w.Turns * currents[w.Name]);
        Complex drop = core.Gap == 0 ? 0 : field is HarmonicField harmonic ? Routes.Gap.Drop(part, core, harmonic.FluxDensity)
            : Routes.Gap.Drop(part, core, (x, y) => new(((StaticField)field).FluxDensity(x, y).X, ((StaticField)field).FluxDensity(x, y).Y));
        // What the gap leaves, in whichever sense the coils drive.
        double steel = Math.Min((force - drop).Magnitude, (force + drop).Magnitude), leak = 1 - fluxes.Min() / fluxes.Max();
        return Divided(new Estimate(drop.Magnitude, Sampling * drop.Magnitude), steel, spread, flux + faces, new Estimate(leak, flux + faces + Sampling));
    }

    /// <summary>The budget when what the steel takes follows its flux, twice over where it bends, and the gap takes the rest of all ampere-turns.</summary>
    /// <param name="gap">Ampere-turns across the gap, its bar that of looking at it.</param>
    /// <param name="steel">Ampere-turns along the steel, A.</param>
    /// <param name="spread">Relative bar of the currents.</param>
    /// <param name="flux">Relative bar of the flux.</param>
    /// <param name="leakage">Share that leaks.</param>
    internal static CoreBudget Divided(Estimate gap, double steel, double spread, double flux, Estimate leakage)
    {
        double bar = 2 * flux * steel + gap.Bar;
        return new(new(gap.Value, gap.Value == 0 ? 0 : bar + spread * gap.Value), new(steel, bar + spread * steel), leakage);
    }
}
