using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Fields;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Routes;

/// <summary>Readings at the gap of a ring core in a plane field.</summary>
internal static class Gap
{
    private const int Samples = 8;

    /// <summary>Magnetomotive force across the gap at its mean radius, A, counter-clockwise.</summary>
    /// <param name="part">The core.</param>
    /// <param name="core">Its shape; with a gap.</param>
    /// <param name="fluxDensity">Flux density at a point of the plane, T.</param>
    public static Complex Drop(Part part, CoreShape core, Func<double, double, PlanePhasor> fluxDensity)
    {
        double angle = core.GapAt * Math.PI / 180, middle = 0.5 * (core.InnerRadius + core.OuterRadius);
        Complex across = 0;
        for (int i = 0; i < Samples; i++)
        {
            double along = ((i + 0.5) / Samples - 0.5) * core.Gap;
            var b = fluxDensity(
                part.Place.X + middle * Math.Cos(angle) - along * Math.Sin(angle),
                part.Place.Y + middle * Math.Sin(angle) + along * Math.Cos(angle));
            across += (-Math.Sin(angle) * b.X + Math.Cos(angle) * b.Y) * core.Gap / Samples;
        }

        return across / PhysicalConstants.MagneticConstant;
    }
}
