using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Geometry;
using Fieldwright.Numerics;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>How much coenergy may hide in the slivers between arcs and the parabolas that stand for them.</summary>
/// <remarks>
/// A parabola through the ends and the middle of an arc of radius R and half angle α lies inside the circle everywhere, by ½R(1 − cos α)²s²(1 − s²) at s ∈ [−1, 1] along it.
/// Moving an interface by t changes the coenergy by ∫t·[w − H_t·B_t] dS, the bracket being the jump across it (w the energy density, B_n and H_t continuous); a coil
/// whose section grows spreads its current, which changes ∫J·A. Both are summed without their signs, the rim counted on both its sides. Second order in t, which is of the
/// order of α⁴, is left out.
/// </remarks>
internal static class GeometrySlack
{
    private static readonly LineRule Rule = Quadrature.GaussLegendre(4);

    /// <summary>The slack in the coenergy, J; not negative.</summary>
    /// <param name="meshed">The mesh.</param>
    /// <param name="materials">Its laws.</param>
    /// <param name="nodal">Vector potential over the nodes.</param>
    /// <param name="magnets">Whether magnets count.</param>
    /// <param name="density">Current density of each region of the mesh, A/m².</param>
    public static double Of(MeshedModel meshed, MaterialTable materials, double[] nodal, bool magnets, double[] density)
    {
        var space = meshed.Space;
        var sum = 0.0;
        var grown = new double[space.Regions.Length];
        var linked = new double[space.Regions.Length];
        var values = new ElementValues();
        foreach (var (e, k) in CurvedEdges(space))
        {
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            Point from = Place(nodes[k]), to = Place(nodes[(k + 1) % 3]), middle = Place(nodes[3 + k]);
            var (radius, half) = Arc(from, to, middle);
            var neighbour = space.Mesh.Neighbours[(3 * e) + k];
            // the triangle's own side is convex if the middle bulges to the right of the way, away from it
            var convex = ((to.X - from.X) * (middle.Y - from.Y)) - ((to.Y - from.Y) * (middle.X - from.X)) < 0;
            var region = space.RegionIndex[e];
            for (var p = 0; p < Rule.Count; p++)
            {
                var s = Rule.Nodes[p];
                var thickness = 0.5 * radius * Math.Pow(1 - Math.Cos(half), 2) * s * s * (1 - (s * s));
                var area = Rule.Weights[p] * radius * half * thickness;
                var (energy, along, a, weight) = Side(e, k, 0.5 * (1 + s));
                grown[region] += convex ? area : -area;
                linked[region] += area * weight * a * (convex ? 1 : -1);
                if (neighbour < 0) sum += 2 * area * weight * energy;
                else if (e < neighbour)
                {
                    var other = Side(neighbour, EdgeTo(neighbour, e), 0.5 * (1 - s));
                    sum += area * weight * Math.Abs(energy - along - other.Energy + other.Along);
                }
            }
        }
        for (var r = 0; r < grown.Length; r++)
            if (density[r] != 0) sum += Math.Abs(density[r] * (linked[r] - (grown[r] / meshed.Ports.RegionArea[space.Regions[r]] * LinkedIn(r))));
        return sum;

        Point Place(int n) => new(space.Coordinates[2 * n], space.Coordinates[(2 * n) + 1]);

        double LinkedIn(int r)
        {
            var total = 0.0;
            for (var e = 0; e < space.InsideCount; e++)
                if (space.RegionIndex[e] == r)
                    for (var i = 0; i < 6; i++) total += meshed.Matrices.Load[(6 * e) + i] * nodal[space.Triangles[(6 * e) + i]];
            return total;
        }

        int EdgeTo(int element, int target)
        {
            for (var k = 0; k < 3; k++)
                if (space.Mesh.Neighbours[(3 * element) + k] == target) return k;
            throw new InvalidOperationException($"Triangles {element} and {target} do not share an edge.");
        }

        // energy density, H_t·B_t, A and depth (or circumference) at a place along edge k of triangle e
        (double Energy, double Along, double A, double Weight) Side(int e, int k, double position)
        {
            var (xi, eta) = k switch { 0 => (position, 0.0), 1 => (1 - position, position), _ => (0.0, 1 - position) };
            values.EvaluateAt(space, e, xi, eta);
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            double bx = 0, by = 0, a = 0;
            for (var i = 0; i < 6; i++)
            {
                bx += nodal[nodes[i]] * values.Bx[i];
                by += nodal[nodes[i]] * values.By[i];
                a += nodal[nodes[i]] * values.A[i];
            }
            var law = materials.Law(e);
            var nu = law.Reluctivity(double.Hypot(bx, by));
            double hx = nu * bx, hy = nu * by, energy = law.EnergyDensity(double.Hypot(bx, by));
            if (magnets && materials.Matter(e) is { IsMagnet: true } matter)
            {
                (hx, hy) = (hx - (nu * matter.Remanence.X), hy - (nu * matter.Remanence.Y));
                energy = law.EnergyDensity(double.Hypot(hx, hy) / nu);
            }
            Point from = Place(nodes[k]), to = Place(nodes[(k + 1) % 3]);
            double tx = to.X - from.X, ty = to.Y - from.Y, length = (tx * tx) + (ty * ty);
            var along = ((hx * tx) + (hy * ty)) * ((bx * tx) + (by * ty)) / length;
            return (energy, along, a, space.Symmetry == Symmetry.Round ? 2 * Math.PI * values.X[0] : space.Depth);
        }
    }

    /// <summary>Radius and half angle of the arc through three points.</summary>
    private static (double Radius, double Half) Arc(Point from, Point to, Point middle)
    {
        double chord = from.DistanceTo(to), sagitta = middle.DistanceTo(0.5 * (from + to)), half = 2 * Math.Atan(2 * sagitta / chord);
        return (0.5 * chord / Math.Sin(half), half);
    }

    private static IEnumerable<(int Element, int Edge)> CurvedEdges(FieldSpace space)
    {
        for (var e = 0; e < space.InsideCount; e++)
        {
            if (!space.Curved[e]) continue;
            for (var k = 0; k < 3; k++)
            {
                int i = space.Triangles[(6 * e) + k], j = space.Triangles[(6 * e) + ((k + 1) % 3)], m = space.Triangles[(6 * e) + 3 + k];
                double x = space.Coordinates[2 * m] - (0.5 * (space.Coordinates[2 * i] + space.Coordinates[2 * j]));
                double y = space.Coordinates[(2 * m) + 1] - (0.5 * (space.Coordinates[(2 * i) + 1] + space.Coordinates[(2 * j) + 1]));
                var length = double.Hypot(space.Coordinates[2 * i] - space.Coordinates[2 * j], space.Coordinates[(2 * i) + 1] - space.Coordinates[(2 * j) + 1]);
                if (double.Hypot(x, y) > 1e-9 * length) yield return (e, k);
            }
        }
    }
}
