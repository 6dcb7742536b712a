using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Fields.Forces;

/// <summary>A place on the face between a body and magnetic matter it lies against.</summary>
/// <param name="Element">Triangle of the other matter.</param>
/// <param name="Xi">Local place.</param>
/// <param name="Eta">Local place.</param>
/// <param name="Area">Share of the face, m².</param>
/// <param name="Nx">Normal, out of the body.</param>
/// <param name="Ny">Normal, out of the body.</param>
internal readonly record struct FacePoint(int Element, double Xi, double Eta, double Area, double Nx, double Ny);

/// <summary>What a crack of air as thin as one likes changes on the face between two bodies.</summary>
/// <remarks>
/// The force that holds bodies together is the one it takes to part them, so it is that of the stress in a crack between them, where B_n and H_t are those beside it. Virtual work on the other
/// body's own triangles counts the stress in its matter instead. The difference is along the normal, t = ½B_n²/μ0 − ½μ0H_t² + H_t·B_t − w, with B_t and w = ∫H·dB of the other body: nothing
/// where that is like air, ½B_n²/μ0 on ideal iron.
/// </remarks>
internal static class ContactFaces
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;
    private static readonly LineRule Rule = Quadrature.GaussLegendre(4);

    /// <summary>Points on those faces where the crack makes a difference.</summary>
    public static IEnumerable<FacePoint> Points(MagneticField field, VirtualDisplacement displacement)
    {
        var space = field.Meshed.Space;
        foreach (var (e, edge) in displacement.Contacts)
        {
            var law = field.Materials.Law(e);
            if (law.IsLinear && !field.Materials.Matter(e).IsMagnet && Math.Abs((law.Reluctivity(0) * Mu0) - 1) < 1e-12) continue;
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            int from = nodes[edge], to = nodes[(edge + 1) % 3], middle = nodes[3 + edge];
            for (var p = 0; p < Rule.Count; p++)
            {
                var s = 0.5 * (1 + Rule.Nodes[p]);
                var (x, dx) = Along(0, s);
                var (_, dy) = Along(1, s);
                var length = double.Hypot(dx, dy);
                var (xi, eta) = edge switch { 0 => (s, 0.0), 1 => (1 - s, s), _ => (0.0, 1 - s) };
                // the triangle lies to the left of its edge, and so does what is out of the body
                yield return new(e, xi, eta, 0.5 * Rule.Weights[p] * length * (space.Symmetry == Symmetry.Round ? 2 * Math.PI * x : space.Depth), -dy / length, dx / length);
            }

            (double Value, double Slope) Along(int axis, double s)
            {
                double a = space.Coordinates[(2 * from) + axis], b = space.Coordinates[(2 * to) + axis], m = space.Coordinates[(2 * middle) + axis];
                return ((a * (1 - s) * (1 - (2 * s))) + (b * s * ((2 * s) - 1)) + (4 * m * s * (1 - s)), (a * ((4 * s) - 3)) + (b * ((4 * s) - 1)) + (4 * m * (1 - (2 * s))));
            }
        }
    }

    /// <summary>t, N/m² along the normal out of the body, and the phasor of its part at twice the frequency (linear matter).</summary>
    public static (double Mean, Complex Double) Traction(MagneticField field, FacePoint at, in LocalField local)
    {
        var (bn, bt, hn, ht) = Turned(at, local);
        var mean = (0.5 * field.MeanProduct(bn, bn) / Mu0) - (0.5 * Mu0 * field.MeanProduct(ht, ht)) + field.MeanProduct(ht, bt) - local.EnergyDensity;
        return (mean, (0.25 * ((bn * bn / Mu0) - (Mu0 * ht * ht))) + (0.25 * ((ht * bt) - (hn * bn))));
    }

    /// <summary>δt = m·(x·δB_x + y·δB_y) for a change of the field, m the factor of the mean product; saturable matter by its reluctivity as it stands.</summary>
    public static (Complex X, Complex Y) Slope(FacePoint at, in LocalField local, double reluctivity)
    {
        var (bn, bt, hn, ht) = Turned(at, local);
        Complex n = Complex.Conjugate((bn / Mu0) - hn), t = reluctivity * Complex.Conjugate(bt - (Mu0 * ht));
        return ((n * at.Nx) - (t * at.Ny), (n * at.Ny) + (t * at.Nx));
    }

    private static (Complex Bn, Complex Bt, Complex Hn, Complex Ht) Turned(FacePoint at, in LocalField local) => (
        (at.Nx * local.Bx) + (at.Ny * local.By), (at.Nx * local.By) - (at.Ny * local.Bx),
        (at.Nx * local.Hx) + (at.Ny * local.Hy), (at.Nx * local.Hy) - (at.Ny * local.Hx));
}
