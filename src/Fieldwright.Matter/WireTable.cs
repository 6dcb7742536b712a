namespace Fieldwright.Matter;

/// <summary>An enamelled round wire of the preferred series.</summary>
/// <param name="Diameter">Nominal diameter of the bare conductor, m.</param>
/// <param name="OverallGrade1">Largest diameter over grade 1 enamel, m.</param>
/// <param name="OverallGrade2">Largest diameter over grade 2 enamel, m.</param>
public sealed record EnamelledWire(double Diameter, double OverallGrade1, double OverallGrade2);

/// <summary>Enamelled round copper wire in preferred sizes.</summary>
/// <remarks>Diameters over enamel are from memory, but for 0.1 mm grade 1, which was read.</remarks>
/// <source key="IEC60317"/>
public static class WireTable
{
    private static readonly double[] Rows =
    [
        0.1, 0.117, 0.125, 0.112, 0.130, 0.139, 0.125, 0.144, 0.154, 0.14, 0.160, 0.171, 0.16, 0.182, 0.194, 0.18, 0.204, 0.217,
        0.2, 0.226, 0.239, 0.224, 0.252, 0.266, 0.25, 0.281, 0.297, 0.28, 0.312, 0.329, 0.315, 0.349, 0.367, 0.355, 0.392, 0.411,
        0.4, 0.439, 0.459, 0.45, 0.491, 0.513, 0.5, 0.544, 0.566, 0.56, 0.606, 0.630,
        0.63, 0.679, 0.704, 0.71, 0.762, 0.789, 0.8, 0.855, 0.884, 0.9, 0.959, 0.989, 1.0, 1.062, 1.094, 1.12, 1.184, 1.217,
        1.25, 1.316, 1.349, 1.4, 1.468, 1.502, 1.6, 1.670, 1.706, 1.8, 1.872, 1.909, 2.0, 2.074, 2.112, 2.24, 2.316, 2.355,
        2.5, 2.578, 2.618, 2.8, 2.880, 2.922, 3.15, 3.233, 3.276, 3.55, 3.635, 3.679, 4.0, 4.088, 4.133, 4.5, 4.591, 4.637,
        5.0, 5.093, 5.141,
    ];

    /// <summary>All sizes, thinnest first.</summary>
    public static IReadOnlyList<EnamelledWire> Sizes { get; } =
        [.. Enumerable.Range(0, Rows.Length / 3).Select(i => new EnamelledWire(Rows[3 * i] * 1e-3, Rows[3 * i + 1] * 1e-3, Rows[3 * i + 2] * 1e-3))];

    /// <summary>Largest diameter over enamel, m; between the sizes of the table it is interpolated.</summary>
    /// <param name="diameter">Bare diameter, m, within the table.</param>
    /// <param name="grade">1 or 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">The diameter lies outside the table, or the grade is neither 1 nor 2.</exception>
    public static double OverallDiameter(double diameter, int grade)
    {
        Numerics.Guard.InRange(diameter, Sizes[0].Diameter * (1 - 1e-9), Sizes[^1].Diameter * (1 + 1e-9));
        Numerics.Guard.InRange(grade, 1, 2);
        double Over(EnamelledWire wire) => grade == 1 ? wire.OverallGrade1 : wire.OverallGrade2;
        int i = 1;
        while (i < Sizes.Count - 1 && Sizes[i].Diameter < diameter)
            i++;
        var (thin, thick) = (Sizes[i - 1], Sizes[i]);
        double t = (diameter - thin.Diameter) / (thick.Diameter - thin.Diameter);
        return Over(thin) + t * (Over(thick) - Over(thin));
    }
}
