namespace Fieldwright.Matter;

/// <summary>Materials known by name. Grades: a read in a source, b computed, c from memory.</summary>
public static class Materials
{
    /// <summary>Air, and anything as good as nothing to a magnetic field.</summary>
    public static Material Air { get; } = new("air") { Density = 1.204, SpecificHeat = 1006, Source = "density and specific heat from memory (c)" };

    /// <summary>Annealed copper, the International Annealed Copper Standard.</summary>
    /// <source key="IEC60028"/>
    public static Material Copper { get; } = new("copper")
    {
        Conductivity = 58.0e6,
        TemperatureCoefficient = 3.93e-3,
        Density = 8890,
        SpecificHeat = 385,
        ThermalConductivity = 400,
        MeltingPoint = 1083 + PhysicalConstants.ZeroCelsius,
        Source = "IEC 60028 through a maker's sheet (conductivity, density, melting a); coefficient, specific heat, thermal conductivity from memory (c)",
    };

    /// <summary>All materials, by name.</summary>
    public static IReadOnlyList<Material> All { get; } =
    [
        Air,
        Copper,
        Aluminium("aluminium 1050", 35.55e6, "conductivity of 1050-O, matmake.com, 61.3 % IACS (a)"),
        Aluminium("aluminium 1100", 34.22e6, "conductivity of 1100-O, matmake.com, 59.0 % IACS (a)"),
        Aluminium("aluminium 6061", 24.9e6, "conductivity of 6061-T6, tubingchina.com, 43 % IACS (a)"),
        Aluminium("aluminium 6082", 28e6, "conductivity within 24 to 32 MS/m, maker's sheet (a)"),
        new("brass")
        {
            Conductivity = 1 / 6.6e-8, TemperatureCoefficient = 1.5e-3, Density = 8500, SpecificHeat = 380, ThermalConductivity = 115, MeltingPoint = 1173,
            Source = "CuZn37, from memory (c)",
        },
        new("stainless steel 304")
        {
            Conductivity = 1 / 7.2e-7, TemperatureCoefficient = 1e-3, Density = 7900, SpecificHeat = 500, ThermalConductivity = 15, MeltingPoint = 1673,
            Source = "from memory (c)",
        },
        new("mild steel")
        {
            Conductivity = 6.5e6, TemperatureCoefficient = 4.5e-3, Curve = Team13Steel(), Density = 7850, SpecificHeat = 480, ThermalConductivity = 50, MeltingPoint = 1773,
            Source = "BH curve of the steel plates of TEAM problems 10 and 13 (a at second hand), as there is no open curve of ordinary bar; coefficient of iron, teaching page (a); the rest from memory (c)",
        },
        Magnet("NdFeB N35", 1.19, 1.05, 7500, "Br within 1.17 to 1.22 T from memory (c); recoil permeability and density, sourcemagnets.com sheet (a)"),
        Magnet("NdFeB N42", 1.30, 1.05, 7500, "Br within 1.28 to 1.32 T from memory (c); recoil permeability and density, sourcemagnets.com sheet (a)"),
        Magnet("NdFeB N52", 1.45, 1.05, 7500, "Br within 1.43 to 1.48 T from memory (c); recoil permeability and density, sourcemagnets.com sheet (a)"),
        Magnet("ferrite Y30", 0.385, 1.07, 4900, "from memory (c)"),
    ];

    /// <summary>The material of that name, or null; case does not matter.</summary>
    public static Material? Find(string name) => All.FirstOrDefault(m => string.Equals(m.Name, name, StringComparison.OrdinalIgnoreCase));

    private static Material Aluminium(string name, double conductivity, string source) => new(name)
    {
        Conductivity = conductivity,
        TemperatureCoefficient = 3.8e-3,
        Density = 2700,
        SpecificHeat = 897,
        ThermalConductivity = 220,
        MeltingPoint = 660 + PhysicalConstants.ZeroCelsius,
        Source = source + "; coefficient, teaching page (a); density, specific heat, thermal conductivity from memory (c); melting, maker's sheet (a)",
    };

    private static Material Magnet(string name, double remanence, double recoil, double density, string source) => new(name)
    {
        Remanence = remanence,
        RelativePermeability = recoil,
        Conductivity = 1 / 1.4e-6,
        Density = density,
        SpecificHeat = 460,
        Source = source,
    };

    // Table of TEAM problems 10 and 13, continued above 1.8 T by the formula that goes with it: B = μ₀H + aH² + bH + c.
    private static BhCurve Team13Steel()
    {
        List<double> h = [16, 30, 54, 93, 143, 191, 210, 222, 233, 247, 258, 272, 289, 313, 342, 377, 433, 509, 648, 933, 1228, 1934, 2913, 4993, 7189, 9423];
        List<double> b = [0.0025, 0.005, 0.0125, 0.025, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.55, 1.6, 1.65, 1.7, 1.75, 1.8];
        for (double strength = 14000; strength < 48000; strength += 8000)
        {
            h.Add(strength);
            b.Add(PhysicalConstants.MagneticConstant * strength - 2.381e-10 * strength * strength + 2.327e-5 * strength + 1.590);
        }

        return BhCurve.Create("steel of TEAM 13", [.. h], [.. b]);
    }
}
