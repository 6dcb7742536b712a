using System.Numerics;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Fields;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Routes;

/// <summary>What leaves a ring core through its two flat faces, and what the wire that crosses them links: from a second plane field.</summary>
/// <remarks>
/// The plane of the apparatus shows the ring's bore and outside and cannot see its flat faces. In a second section they can be seen: the ring with its width and its depth exchanged, about the
/// same mean radius, with the same gap and the same coils at the same angles. There the flat faces are bore and outside, and the coils' end turns are their sides. The
/// steel is linear and easy (permeability 2000), for only what goes through air is read off: permeance round the gap and flux between wire and steel.
/// Within half a width of the gap the flat faces are as good as endless, and that part is taken as it is; farther away the flux also spreads sideways, and half of what leaves there is in
/// the bar. Of the flux between wire and steel, half is in the bar for the corners of the turns.
/// </remarks>
internal sealed class FlatFaces
{
    private const double Easy = 2000;
    private const double Demand = 0.01;
    private const int Samples = 9;

    private FlatFaces(double[,] leakage, double spread, double spreadBar) => (Leakage, Spread, SpreadBar) = (leakage, spread, spreadBar);

    /// <summary>Inductances that the end turns add between themselves and the steel, H.</summary>
    public double[,] Leakage { get; }

    /// <summary>Permeance round the gap beside that of the faces, over both flat faces, H/m of width; 0 without a gap.</summary>
    public double Spread { get; }

    /// <summary>Half-width of <see cref="Spread"/>.</summary>
    public double SpreadBar { get; }

    /// <summary>The flat faces of a ring of magnetic matter with all windings on it; null for anything else, or if the exchanged ring has no bore.</summary>
    public static FlatFaces? Of(Apparatus apparatus, CancellationToken cancellation)
    {
        if (apparatus.Layout != Layout.Long || apparatus.Parts is not [{ Shape: CoreShape core } part] || !apparatus.Windings.All(w => w.Space is LimbSpace))
            return null;
        double depth = apparatus.Depth!.Value, width = core.OuterRadius - core.InnerRadius, middle = 0.5 * (core.InnerRadius + core.OuterRadius);
        double least = middle - 0.5 * depth - apparatus.Windings.Max(w => ((LimbSpace)w.Space).Clearance + ((LimbSpace)w.Space).Build);
        if (apparatus.Windings.Count == 0 || (part.Material.Curve is null && part.Material.RelativePermeability < 30) || least <= 0.5 * core.Gap || least <= 0.1 * middle)
            return null;
        var shape = core with { InnerRadius = middle - 0.5 * depth, OuterRadius = middle + 0.5 * depth };
        var easy = new Material("easy steel") { RelativePermeability = Easy };
        var exchanged = apparatus with { Depth = width, Parts = [part with { Shape = shape, Material = easy, StackingFactor = 1 }] };
        var sections = Sections.Of(exchanged);
        // equal ampere-turns of all: what drives the gap
        var even = apparatus.Windings.ToDictionary(w => w.Name, w => new Complex(1.0 / w.Turns, 0), StringComparer.OrdinalIgnoreCase);
        var goals = apparatus.Windings.Select(w => (Goal)new FluxLinkageGoal(w.Name, w.Name) { Uncorrected = true }).ToList();
        var together = (StaticField)AdaptiveField.Solve(FieldModels.Of(exchanged, sections, even) with { Frequency = 0 }, goals, new AdaptiveDemand(Demand), null, cancellation).Field;
        var (spread, bar) = core.Gap > 0 ? RoundTheGap(exchanged, shape, together) : (0, 0);
        return new FlatFaces(EndTurns(apparatus, exchanged, shape, together, cancellation), spread, bar);
    }

    private static (double Spread, double Bar) RoundTheGap(Apparatus exchanged, CoreShape core, StaticField field)
    {
        double width = exchanged.Depth!.Value, angle = core.GapAt * Math.PI / 180, middle = 0.5 * (core.InnerRadius + core.OuterRadius);
        double drop = Gap.Drop(exchanged.Parts[0], core, (x, y) => new(field.FluxDensity(x, y).X, field.FluxDensity(x, y).Y)).Magnitude;
        double far = Math.Abs(Across(exchanged.Parts[0], core, field, angle + Math.PI));
        double away = 0.5 * (core.Gap + width) / middle;
        double near = 0.5 * (Math.Abs(Across(exchanged.Parts[0], core, field, angle + away)) + Math.Abs(Across(exchanged.Parts[0], core, field, angle - away)));
        double faces = PhysicalConstants.MagneticConstant * (core.OuterRadius - core.InnerRadius) / core.Gap;
        double spread = far / (drop * width) - faces;
        return (Math.Max(0, spread), 0.5 * Math.Abs(far - near) / (drop * width));
    }

    // Flux through the turns less the flux in the steel under them, for one ampere at a time; over the length of wire that lies across the faces.
    private static double[,] EndTurns(Apparatus apparatus, Apparatus exchanged, CoreShape core, StaticField together, CancellationToken cancellation)
    {
        int n = apparatus.Windings.Count;
        var link = new double[n, n];
        for (int j = 0; j < n; j++)
        {
            var model = together.Model with { Windings = [.. together.Model.Windings.Select((w, k) => w with { Drive = new ImposedCurrent(k == j ? 1 : 0) })] };
            var field = StaticField.Solve(together.Meshed.With(model), cancellation);
            for (int i = 0; i < n; i++)
            {
                var limb = (LimbSpace)apparatus.Windings[i].Space;
                double half = 0.5 * limb.Length / (0.5 * (core.InnerRadius + core.OuterRadius)), steel = 0;
                for (int k = 0; k < Samples; k++)
                    steel += Across(exchanged.Parts[0], core, field, limb.CentredAt * Math.PI / 180 + half * ((2 * k + 1.0) / Samples - 1)) / Samples;
                var winding = apparatus.Windings[i];
                double ends = (Warming.MeanTurn(winding, apparatus) - 2 * apparatus.Depth!.Value) / (2 * exchanged.Depth!.Value);
                // a winding wound the other way sees the steel's flux with the other sign
                double turns = together.Model.Windings[i].Sides[0].Turns;
                link[i, j] = ends * (field.FluxLinkage(winding.Name) - turns * steel);
            }
        }

        var result = new double[n, n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                result[i, j] = 0.5 * (link[i, j] + link[j, i]);
        return result;
    }

    // Counter-clockwise through the steel at an angle.
    private static double Across(Part part, CoreShape core, StaticField field, double angle)
    {
        PlaneVector On(double radius) => new(part.Place.X + radius * Math.Cos(angle), part.Place.Y + radius * Math.Sin(angle));
        return field.Flux(On(core.InnerRadius), On(core.OuterRadius));
    }
}
