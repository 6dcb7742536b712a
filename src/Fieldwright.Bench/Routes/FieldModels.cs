using System.Numerics;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes.Travel;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Routes;

/// <summary>Apparatus into field models.</summary>
internal static class FieldModels
{
    /// <summary>The field model of an apparatus under given winding currents (peak phasors, each in the winding's own sense).</summary>
    public static FieldModel Of(Apparatus apparatus, Sections sections, IReadOnlyDictionary<string, Complex> currents)
    {
        var matter = new Dictionary<int, RegionMatter>();
        foreach (var part in apparatus.Parts)
            foreach (int region in sections.RegionsOf(part.Name))
                matter[region] = Matter(part, apparatus);
        return new FieldModel
        {
            Symmetry = apparatus.Layout == Layout.Round ? Symmetry.Round : Symmetry.Long,
            Depth = apparatus.Depth ?? 1,
            Parts = sections.Outlines,
            Matter = matter,
            Frequency = apparatus.Frequency,
            Motion = TravellingBodies.Motions(apparatus, sections),
            Windings = [.. apparatus.Windings.Select(w => new FieldWinding(
                w.Name,
                [.. sections.SectionsOf(w.Name).Select(s => new WindingSide(s.Outline.Region, s.Share * w.Turns))],
                new ImposedCurrent(currents[w.Name]),
                Warming.Resistance(w, apparatus)))],
        };
    }

    /// <summary>Whether induced currents flow in a part.</summary>
    public static bool Conducts(Part part) => !part.Laminated && part.Material.Conductivity > 0;

    /// <summary>Diagonal matrix of the windings' wire resistances, ohm.</summary>
    public static Complex[,] Resistances(Apparatus apparatus)
    {
        var z = new Complex[apparatus.Windings.Count, apparatus.Windings.Count];
        for (int i = 0; i < apparatus.Windings.Count; i++)
            z[i, i] = Warming.Resistance(apparatus.Windings[i], apparatus);
        return z;
    }

    /// <summary>Inductances, H, of an impedance matrix at a frequency.</summary>
    public static double[,] Inductances(Complex[,] z, double frequency)
    {
        int n = z.GetLength(0);
        var l = new double[n, n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                l[i, j] = z[i, j].Imaginary / (2 * Math.PI * frequency);
        return l;
    }

    private static RegionMatter Matter(Part part, Apparatus apparatus)
    {
        var m = part.Material;
        double conductivity = Conducts(part) ? m.ConductivityAt(apparatus.Ambient) * AcrossWidth.Factor(apparatus, part) : 0;
        var remanence = part.Magnetised is { } degrees ? new PlaneVector(m.Remanence * Math.Cos(degrees * Math.PI / 180), m.Remanence * Math.Sin(degrees * Math.PI / 180)) : default;
        return new RegionMatter(part.Name, conductivity, m.RelativePermeability) { Curve = m.Curve, StackingFactor = part.StackingFactor, Remanence = remanence, KneeFieldStrength = -m.Knee };
    }
}
