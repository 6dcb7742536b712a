using System.Numerics;
using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Forces;

/// <summary>Force on a body as the derivative of energy at fixed flux along a virtual displacement of the mesh.</summary>
/// <remarks>
/// With the nodal values held, a displacement v = γ·e changes the energy of a stretched triangle by ∫ [w ∇·v + H·δB] dV, with
/// H·δB = (e_x B_y − e_y B_x)(H_x ∂γ/∂y − H_y ∂γ/∂x); the force along e is minus that. Round: e is along z only, the same formula.
/// Where the triangles stretched are air this is the stress tensor weighted with ∇γ (Coulomb 1983). Where the body touches other matter a layer of that is stretched too: the force on its
/// currents, ∫γ·J×B, is taken off again, and <see cref="ContactFaces"/> says what its magnetism changes.
/// Products of phasors: time mean ½Re(a·b*), and ½·a·b the phasor of the part at twice the frequency.
/// <source key="Coulomb1983" />
/// </remarks>
internal static class StressIntegral
{
    private const int F = ElementTables.Functions;

    /// <summary>Mean force (X, Y), torque about a point, and the phasors of their parts at twice the frequency.</summary>
    public static (double X, double Y, double Torque, Complex DoubleX, Complex DoubleY) Evaluate(MagneticField field, VirtualDisplacement displacement, PlaneVector about)
    {
        var space = field.Meshed.Space;
        var values = new ElementValues();
        double fx = 0, fy = 0, torque = 0;
        Complex doubleX = 0, doubleY = 0;
        var sense = CurrentSense(space.Symmetry);
        foreach (var e in displacement.Elements)
        {
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                var point = field.Local(e, q, values);
                var (g, gx, gy) = Weight(space, e, q, values, displacement.NodeWeights);
                // s = H_x ∂γ/∂y − H_y ∂γ/∂x
                var s = (point.Hx * gy) - (point.Hy * gx);
                // the other matter's own current, if it has any
                var j = sense * g * field.CurrentDensityAt(e, q, values);
                var px = (point.EnergyDensity * gx) + field.MeanProduct(point.By, s) - field.MeanProduct(j, point.By);
                var py = (point.EnergyDensity * gy) - field.MeanProduct(point.Bx, s) + field.MeanProduct(j, point.Bx);
                var w = values.Weight[q];
                fx -= w * px;
                fy -= w * py;
                torque -= w * (((values.X[q] - about.X) * py) - ((values.Y[q] - about.Y) * px));
                var energy2 = 0.25 * ((point.Hx * point.Bx) + (point.Hy * point.By));
                doubleX -= w * ((energy2 * gx) + (0.5 * point.By * (s - j)));
                doubleY -= w * ((energy2 * gy) - (0.5 * point.Bx * (s - j)));
            }
        }
        foreach (var face in ContactFaces.Points(field, displacement))
        {
            values.EvaluateAt(space, face.Element, face.Xi, face.Eta);
            var (mean, alternating) = ContactFaces.Traction(field, face, field.Local(face.Element, 0, values));
            fx += face.Area * face.Nx * mean;
            fy += face.Area * face.Ny * mean;
            torque += face.Area * mean * (((values.X[0] - about.X) * face.Ny) - ((values.Y[0] - about.Y) * face.Nx));
            doubleX += face.Area * face.Nx * alternating;
            doubleY += face.Area * face.Ny * alternating;
        }
        return (fx, fy, torque, doubleX, doubleY);
    }

    /// <summary>J×B = sense·J·(−B_y, B_x): a current along φ runs into the (r, z) plane, one along z out of the (x, y) plane.</summary>
    public static double CurrentSense(Symmetry symmetry) => symmetry == Symmetry.Round ? -1 : 1;

    /// <summary>γ and ∇γ at a point.</summary>
    public static (double Value, double X, double Y) Weight(FieldSpace space, int e, int q, ElementValues values, double[] weights)
    {
        double value = 0, x = 0, y = 0;
        for (var i = 0; i < 6; i++)
        {
            var g = weights[space.Triangles[(6 * e) + i]];
            value += g * values.A[(q * F) + i];
            x += g * values.Nx[(q * F) + i];
            y += g * values.Ny[(q * F) + i];
        }
        return (space.Symmetry == Symmetry.Round ? value / values.X[q] : value, x, y);
    }
}
