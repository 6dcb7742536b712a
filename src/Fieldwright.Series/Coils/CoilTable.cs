using System.Runtime.Intrinsics;

namespace Fieldwright.Series.Coils;

/// <summary>The field of a coil, each value found once on a lattice and between its points by polynomials of the fifth degree: for bodies that are followed and ask at the same places again and again.</summary>
/// <remarks>Within some steps of the winding's edges, where the field is not smooth, it errs by about a step over the build. Filled as it is asked; what it says does not depend on the order. Threads may share it.</remarks>
internal sealed class CoilTable
{
    private const int Cells = 24, Points = 6, Side = Cells + Points - 1;
    private readonly double step, lowest, highest, furthest;
    private readonly double[]?[] blocks;
    private readonly int rows;

    /// <summary>Prepares a table.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="step">Distance of the points, m.</param>
    /// <param name="reach">How far round the winding it is kept, m; further away the field is found each time.</param>
    public CoilTable(ThickCoil coil, double step, double reach)
    {
        (Coil, this.step) = (coil, step);
        (lowest, highest, furthest) = (coil.ZFrom - reach, coil.ZTo + reach, coil.OuterRadius + reach);
        rows = (int)Math.Ceiling((highest - lowest) / (Cells * step)) + 1;
        blocks = new double[]?[rows * ((int)Math.Ceiling(furthest / (Cells * step)) + 1)];
    }

    /// <summary>The coil.</summary>
    public ThickCoil Coil { get; }

    /// <summary>A_φ, B_r and B_z per ampere at a distance from the coil's axis and a height along it, m.</summary>
    public AxialField Field(double r, double z)
    {
        if (!(r < furthest && z > lowest && z < highest))
            return Coil.Field(r, z);
        double across = r / step, along = (z - lowest) / step;
        int i = (int)across, j = (int)along, column = i / Cells, row = j / Cells;
        var block = Volatile.Read(ref blocks[column * rows + row]) ?? Filled(column, row);
        Span<double> atR = stackalloc double[Points], atZ = stackalloc double[Points];
        Lagrange(across - i, atR);
        Lagrange(along - j, atZ);
        // Potential, radial and axial field of a point stand together, the fourth place empty.
        ref var first = ref block[4 * ((i - column * Cells) * Side + (j - row * Cells))];
        var sum = Vector256<double>.Zero;
        for (var a = 0; a < Points; a++)
        {
            var at = (nuint)(4 * Side * a);
            sum += atR[a] * (atZ[0] * Vector256.LoadUnsafe(ref first, at) + atZ[1] * Vector256.LoadUnsafe(ref first, at + 4) + atZ[2] * Vector256.LoadUnsafe(ref first, at + 8)
                + atZ[3] * Vector256.LoadUnsafe(ref first, at + 12) + atZ[4] * Vector256.LoadUnsafe(ref first, at + 16) + atZ[5] * Vector256.LoadUnsafe(ref first, at + 20));
        }
        return new AxialField(sum[0], sum[1], sum[2]);
    }

    private double[] Filled(int column, int row)
    {
        var block = new double[4 * Side * Side];
        for (var a = 0; a < Side; a++)
            for (var b = 0; b < Side; b++)
            {
                // Across the axis the potential and the radial field change sign.
                double r = (column * Cells + a - 2) * step, z = lowest + (row * Cells + b - 2) * step, sign = r < 0 ? -1 : 1;
                var field = Coil.Field(Math.Abs(r), z);
                var at = 4 * (a * Side + b);
                (block[at], block[at + 1], block[at + 2]) = (sign * field.VectorPotential, sign * field.Radial, field.Axial);
            }
        Volatile.Write(ref blocks[column * rows + row], block);
        return block;
    }

    // Points at −2 … 3, t between the two in the middle.
    private static void Lagrange(double t, Span<double> weights)
    {
        double a = t + 2, b = t + 1, c = t - 1, d = t - 2, e = t - 3, inner = t * c, near = b * d, far = a * e;
        (weights[0], weights[5]) = (inner * near * e / -120, inner * near * a / 120);
        (weights[1], weights[4]) = (inner * far * d / 24, inner * far * b / -24);
        (weights[2], weights[3]) = (near * far * c / -12, near * far * t / 12);
    }
}
