using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.ScalarPotential;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>Bounds of static energies, inductances and flux linkages from two complementary solutions on one mesh.</summary>
/// <remarks>
/// With w(B) = ∫H·dB convex (the BH curve rises) and w'(H) = ∫B·dH its conjugate, the coenergy of the true field is
/// <code>W' = max over a of ∫J·a − ∫w(curl a) = min over H with curl H = J of ∫w'(H).</code>
/// Any a on the mesh gives a lower bound, any H with exactly that curl an upper one, linear matter or not; the vector and the scalar potential give the best of
/// each. Curves H_low ≤ H ≤ H_high that enclose the table's interpolation (<see cref="BhEnclosure"/>) order w and w', so each end is evaluated with the curve that is worse for it. Arcs
/// that are parabolas on the mesh move each end by <see cref="GeometrySlack"/>, to first order.
/// Integrals over nonlinear or curved triangles are by quadrature; its error is not enclosed.
/// Linear matter without magnets: W = W' = ½ΣL·I·I, so inductances are bracketed as forms. Otherwise λ = ∂W'/∂I lies between difference quotients of W', which is
/// convex in the currents: bounds of order √(relative width of W').
/// <source key="Penman1982" />
/// </remarks>
public static class Complementary
{
    /// <summary>Relative room for rounding in sums over a mesh.</summary>
    private const double Rounding = 1e-11;

    /// <summary>Bounds of the coenergy ∫∫B·dH, J, magnets counting ½μH² + Remanence·H: Σ I·λ less the energy.</summary>
    /// <param name="field">A solved static field without moving conductors.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static Bracket Coenergy(StaticField field, CancellationToken cancellation = default) => Of(field, cancellation).Coenergy;

    /// <summary>Bounds of the energy ∫∫H·dB, J, zero where H is zero.</summary>
    /// <param name="field">A solved static field without moving conductors.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static Bracket Energy(StaticField field, CancellationToken cancellation = default) => EnergyAndLinked(field, cancellation).Energy;

    /// <summary>Bounds of the energy ∫∫H·dB, J, and of Σ I·λ, J, the currents times the flux they link.</summary>
    /// <param name="field">A solved static field without moving conductors.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static (Bracket Energy, Bracket Linked) EnergyAndLinked(StaticField field, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(field);
        var coenergy = Of(field, cancellation).Coenergy;
        var driven = field.WindingCurrents.Any(c => c != 0) || field.ConductorVoltages.Any(v => v != 0);
        if (!driven) return (coenergy.Times(-1), new(0, 0));
        if (field.Materials.IsLinear && !HasMagnets(field)) return (coenergy, coenergy.Times(2));
        // Σ I·λ = dW'/ds for all currents times s, at s = 1, and W = Σ I·λ − W'
        var linked = Slope(field, coenergy, _ => true, s => Driven(field, (_, current) => s * current, s), cancellation);
        return (new(linked.Lower - coenergy.Upper, linked.Upper - coenergy.Lower), linked);
    }

    /// <summary>Bounds of the inductances between windings of linear matter, H, in the order of the model's windings; magnets do not matter.</summary>
    /// <param name="field">A solved static field of linear matter without moving conductors.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>L_ij lies within ½√(g_ii·g_jj) of the mean of the two solutions' matrices, g their difference and what geometry adds: the difference is a positive form.</returns>
    /// <exception cref="ArgumentException">The matter is not linear.</exception>
    /// <exception cref="NetCurrentException">One winding of a long model has a net current of its own.</exception>
    public static Bracket[,] Inductances(StaticField field, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(field);
        if (!field.Materials.IsLinear) throw new ArgumentException("Inductances are bracketed for linear matter; ask for the flux linkage in steel that saturates.", nameof(field));
        var meshed = field.Meshed;
        var n = field.Model.Windings.Count;
        var system = new ScalarSystem(meshed);
        var tree = new SourceTree(meshed);
        var (sources, potentials, slack) = (new SourceField[n], new double[n][], new double[n]);
        var below = new double[n, n];
        for (var j = 0; j < n; j++)
        {
            cancellation.ThrowIfCancellationRequested();
            double[] density = [.. Enumerable.Range(0, meshed.Space.Regions.Length).Select(r => meshed.Ports.TurnDensityOf(j, r))];
            sources[j] = tree.Carry(density);
            potentials[j] = system.Solve(sources[j], false, (_, _) => 0, cancellation);
            var response = field.System.SolveTangent(meshed.Ports.Windings[j]);
            for (var i = 0; i < n; i++) below[i, j] = NodeVectors.Dot(meshed.Ports.Windings[i], response);
            slack[j] = GeometrySlack.Of(meshed, field.Materials, response, false, density);
        }
        var above = Above(system, sources, potentials, below);
        var result = new Bracket[n, n];
        double Gap(int i) => above[i, i] - below[i, i];
        for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
            {
                var middle = 0.5 * (above[i, j] + below[i, j]);
                // an energy ½L for one ampere: its slack counts twice in L
                var half = (0.5 * Math.Sqrt(Math.Max(0, Gap(i)) * Math.Max(0, Gap(j)))) + (2 * Math.Sqrt(slack[i] * slack[j]))
                    + (Rounding * Math.Sqrt(below[i, i] * below[j, j]));
                result[i, j] = new(middle - half, middle + half);
            }
        return result;
    }

    /// <summary>Bounds of the flux linkage of a winding, Wb, in any matter: between the difference quotients of the coenergy, convex in its current.</summary>
    /// <param name="field">A solved static field without moving conductors.</param>
    /// <param name="winding">Name of the winding; it must carry a current.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The winding carries no current.</exception>
    public static Bracket FluxLinkage(StaticField field, string winding, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(field);
        var w = field.WindingIndex(winding);
        var current = field.WindingCurrents[w].Real;
        if (current == 0) throw new ArgumentException($"Winding {winding} carries no current.", nameof(winding));
        var slope = Slope(field, Of(field, cancellation).Coenergy, i => i == w, s => Driven(field, (i, c) => i == w ? s * c : c), cancellation);
        return slope.Times(1 / current);
    }

    /// <summary>The coenergy and what keeps its bounds apart.</summary>
    internal static CoenergyBracket Of(StaticField field, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(field);
        var twin = ScalarField.Solve(field.Meshed, Near(field), cancellation);
        var (space, materials) = (field.Meshed.Space, field.Materials);
        var enclosures = space.Regions.Select(r => r > 0 && field.Model.MatterOf(r).Curve is { } curve ? BhEnclosure.Of(curve) : null).ToArray();
        var shares = new double[space.ElementCount];
        var values = new ElementValues();
        double curveBelow = 0, curveAbove = 0, scale = 0, inside = 0;
        for (var e = 0; e < space.InsideCount; e++)
        {
            var tables = space.TablesFor(e, true, false);
            values.Evaluate(space, e, tables);
            var matter = materials.Matter(e);
            var enclosure = enclosures[space.RegionIndex[e]];
            for (var q = 0; q < values.Points; q++)
            {
                var here = field.Local(e, q, values);
                double bx = here.Bx.Real, by = here.By.Real;
                var (hx, hy) = twin.At(e, q, values, tables.Xi[q], tables.Eta[q]);
                var h = double.Hypot(hx, hy);
                var coenergy = twin.System.Law(e).CoenergyDensity(h) + (matter.Remanence.X * hx) + (matter.Remanence.Y * hy);
                // w + w' − B·H: zero only where B and H obey the law
                shares[e] += values.Weight[q] * (here.EnergyDensity + coenergy - (bx * hx) - (by * hy));
                scale += values.Weight[q] * (here.EnergyDensity + Math.Abs(coenergy));
                if (enclosure is null) continue;
                var f = matter.StackingFactor;
                var inSteel = matter.Curve!.FluxDensity(double.Hypot(here.Hx.Real, here.Hy.Real));
                curveBelow += values.Weight[q] * f * enclosure.EnergyAbove(inSteel);
                curveAbove += values.Weight[q] * f * enclosure.CoenergyAbove(h);
            }
            shares[e] = Math.Max(0, shares[e]);
            inside += shares[e];
        }
        var mesh = twin.Coenergy - field.Coenergy;
        var images = space.ElementCount - space.InsideCount;
        Array.Fill(shares, Math.Max(0, mesh - inside) / images, space.InsideCount, images);
        var geometry = GeometrySlack.Of(field.Meshed, materials, [.. field.Nodal.Select(v => v.Real)], true, ScalarField.CurrentDensities(field.Meshed));
        var room = geometry + (Rounding * scale);
        return new(new(field.Coenergy - curveBelow - room, twin.Coenergy + curveAbove + room), mesh, geometry, curveBelow + curveAbove, shares);
    }

    /// <summary>Bounds of dW'/ds at s = 1 from W' at 1 ± δ; δ balances the width of the bounds against the curvature. The currents of the scaled windings are taken times s.</summary>
    private static Bracket Slope(StaticField field, Bracket here, Func<int, bool> scaled, Func<double, FieldModel> at, CancellationToken cancellation)
    {
        Bracket At(double s) => Of(StaticField.Solve(field.Meshed.With(at(s)), cancellation), cancellation).Coenergy;
        var curvature = Curvature(field, here, scaled);
        var delta = curvature > 0 ? Math.Clamp(Math.Sqrt(2 * (here.Upper - here.Lower) / curvature), 1e-4, 0.5) : 0.5;
        if (field.Materials.IsLinear)
        {
            // a parabola in s: the central difference is exact however far apart
            Bracket none = At(0), twice = At(2);
            return new(0.5 * (twice.Lower - none.Upper), 0.5 * (twice.Upper - none.Lower));
        }
        Bracket before = At(1 - delta), after = At(1 + delta);
        return new((here.Lower - before.Upper) / delta, (after.Upper - here.Lower) / delta);
    }

    /// <summary>d²W'/ds² from the incremental inductances, which saturation makes small; with driven conductors twice W', as for a straight characteristic.</summary>
    private static double Curvature(StaticField field, Bracket here, Func<int, bool> scaled)
    {
        if (field.ConductorVoltages.Any(v => v != 0)) return 2 * Math.Max(Math.Abs(here.Upper), Math.Abs(here.Lower));
        var l = field.InductanceMatrix();
        var sum = 0.0;
        for (var i = 0; i < l.GetLength(0); i++)
            for (var j = 0; j < l.GetLength(1); j++)
                if (scaled(i) && scaled(j)) sum += l[i, j] * field.WindingCurrents[i].Real * field.WindingCurrents[j].Real;
        return sum;
    }

    /// <summary>The permeability that steel has in the vector potential's solution: the twin's is near it, so Newton's method starts close to its end.</summary>
    private static Func<PermeabilityLaw, int, int, double> Near(StaticField field)
    {
        var (space, values, last) = (field.Meshed.Space, new ElementValues(), -1);
        return (law, e, q) =>
        {
            if (e != last) values.Evaluate(space, last = e, space.TablesFor(e, true, false));
            var here = field.Local(e, q, values);
            return law.Permeability(double.Hypot(here.Hx.Real, here.Hy.Real));
        };
    }

    private static FieldModel Driven(StaticField field, Func<int, double, double> current, double conductors = 1) => field.Model with
    {
        Conductors = [.. field.Model.Conductors.Select(c => c with { Drive = Times(c.Drive, conductors) })],
        Windings = [.. field.Model.Windings.Select((w, i) => w with { Drive = new ImposedCurrent(new Complex(current(i, field.WindingCurrents[i].Real), 0)) })],
    };

    private static WindingDrive Times(WindingDrive drive, double factor) => drive switch
    {
        ImposedCurrent c => c with { Current = factor * c.Current },
        ImposedVoltage v => v with { Voltage = factor * v.Voltage },
        _ => drive,
    };

    private static bool HasMagnets(StaticField field) => field.Meshed.Space.Regions.Any(r => r > 0 && field.Model.MatterOf(r).IsMagnet);

    /// <summary>∫μ·H_i·H_j over all space: the mapped outside, where sources do not reach, as the form of its potentials.</summary>
    private static double[,] Above(ScalarSystem system, SourceField[] sources, double[][] potentials, double[,] below)
    {
        var n = sources.Length;
        var result = new double[n, n];
        var own = new double[n];
        for (var i = 0; i < n; i++) own[i] = 2 * system.Coenergy(potentials[i], sources[i], false);
        for (var i = 0; i < n; i++)
        {
            result[i, i] = own[i];
            for (var j = 0; j < i; j++)
            {
                // by polarisation, scaled so that both weigh the same
                var t = Math.Sqrt(below[i, i] / below[j, j]);
                var both = system.Coenergy([.. potentials[i].Select((v, k) => v + (t * potentials[j][k]))], SourceField.Sum(sources[i], sources[j], t), false);
                result[i, j] = result[j, i] = ((2 * both) - own[i] - (t * t * own[j])) / (2 * t);
            }
        }
        return result;
    }
}
