using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>Goodness factor of a sheet: the field it makes by its own currents over the one it stands in, at standstill.</summary>
/// <remarks>
/// For a thin sheet at wave number k, G = ωμ₀σt/(k(y₁ + y₂)), y = tanh kd where iron lies at a distance d on that side and 1 where there is none: Laithwaite's
/// 2μ₀fτ²σt/(πg) for a narrow gap between iron, and the open sheet's value without iron. Carter's factor is not in it.
/// </remarks>
/// <source key="Laithwaite1965"/>
internal static class Goodness
{
    // Matter that leads flux well enough to count as iron.
    private const double LeastPermeability = 20;

    /// <summary>The goodness of a flat sheet in a track; null where there is no track or the part is no sheet.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="part">The sheet.</param>
    /// <param name="edge">Whether the conductivity is lowered by the transverse-edge factor.</param>
    public static double? Of(Apparatus apparatus, Part part, bool edge = true)
    {
        if (apparatus.Polyphases().FirstOrDefault(p => p.Row is FlatRow) is not { } track || part.Shape is not RectangleShape sheet || !FieldModels.Conducts(part) || apparatus.Frequency == 0)
            return null;
        double k = Math.PI / track.PolePitch, conductivity = part.Material.ConductivityAt(apparatus.Ambient) * (edge ? AcrossWidth.Factor(apparatus, part) : 1);
        var row = (FlatRow)track.Row;
        double Side(bool above) => apparatus.Parts
            .Where(p => !ReferenceEquals(p, part) && p.Shape is RectangleShape && IsIron(p.Material) && above == p.Place.Y > part.Place.Y
                && Math.Abs(p.Place.X - row.X) < 0.5 * ((RectangleShape)p.Shape).Width)
            .Select(p => Math.Tanh(k * (Math.Abs(p.Place.Y - part.Place.Y) - 0.5 * ((RectangleShape)p.Shape).Height))).DefaultIfEmpty(1).Min();
        return 2 * Math.PI * apparatus.Frequency * PhysicalConstants.MagneticConstant * conductivity * sheet.Height / (k * (Side(true) + Side(false)));
    }

    private static bool IsIron(Material material) => material.Curve is not null || material.RelativePermeability >= LeastPermeability;
}
