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
        SofteningPoint = 250 + PhysicalConstants.ZeroCelsius,
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
        Aluminium("aluminium 1060", 35.96e6, "conductivity of 1060-O, matmake.com, 62.0 % IACS (a)"),
        Aluminium("aluminium 1199", 37.41e6, "conductivity of 1199-O, matmake.com, 64.5 % IACS (a)"),
        Aluminium("aluminium 1350", 35.84e6, "conductivity of 1350-O, matmake.com, 61.8 % IACS (a)"),
        Aluminium("aluminium 2024", 17.4e6, "conductivity of 2024-T3/T4, tubingchina.com, 30 % IACS (a)"),
        Aluminium("aluminium 3003", 29.0e6, "conductivity of 3003-O, matmake.com, 50 % IACS (a)"),
        Aluminium("aluminium 5052", 20.3e6, "conductivity of 5052-O, matmake.com, 35 % IACS (a)"),
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
        new("pure iron")
        {
            Conductivity = 1 / 9.7e-8, TemperatureCoefficient = 4.5e-3, Curve = Team13Steel(), Density = 7870, SpecificHeat = 450, ThermalConductivity = 80, MeltingPoint = 1811,
            Source = "BH curve of the steel plates of TEAM problems 10 and 13 (a at second hand), as there is no open curve of cast or pure iron; coefficient, teaching page (a); the rest from memory (c)",
        },
        new("mercury")
        {
            Conductivity = 1.04e6, Density = 13546, SpecificHeat = 139.3, MeltingPoint = 234.3, DynamicViscosity = 1.55e-3,
            Source = "specific heat and melting, Vukalovich et al. 1971 as reprinted in a handbook (a); conductivity, viscosity and density at 20 °C from memory (c; the table gives 13537 kg/m³ at 300 K). Needs licensed handling.",
        },
        new("galinstan")
        {
            Conductivity = 3.46e6, Density = 6440, SpecificHeat = 296, ThermalConductivity = 16.5, MeltingPoint = 254.15, DynamicViscosity = 2.4e-3,
            Source = "encyclopaedia infobox quoting the maker's sheet, specific heat after Hodes et al. 2014 (a); the true eutectic melts near 11 °C",
        },
        new("gallium")
        {
            Conductivity = 1 / 2.6e-7, Density = 6095, MeltingPoint = 302.91,
            Source = "liquid, near melting, from memory (c)",
        },
        new("NaK")
        {
            Conductivity = 1 / 3.35e-7, Density = 866, SpecificHeat = 982, ThermalConductivity = 22.4, MeltingPoint = 260.55,
            Source = "eutectic, encyclopaedia infobox (a); its resistivity is given only as 0.335 to 0.72 µΩ m for all alloys, the lower end taken. Burns in air and reacts violently with water.",
        },
        Magnet("NdFeB N35", 1.19, 1.05, 7500, "Br within 1.17 to 1.22 T from memory (c); recoil permeability and density, sourcemagnets.com sheet (a)"),
        Magnet("NdFeB N42", 1.30, 1.05, 7500, "Br within 1.28 to 1.32 T from memory (c); recoil permeability and density, sourcemagnets.com sheet (a)"),
        Magnet("NdFeB N52", 1.45, 1.05, 7500, "Br within 1.43 to 1.48 T from memory (c); recoil permeability and density, sourcemagnets.com sheet (a)"),
        Magnet("ferrite Y30", 0.385, 1.07, 4900, "from memory (c)"),
    ];

    private static readonly Dictionary<string, string> Aliases = new(StringComparer.OrdinalIgnoreCase)
    {
        ["aluminium"] = "aluminium 1050", ["annealed copper"] = "copper", ["CuZn37"] = "brass", ["soft steel"] = "mild steel",
        ["stainless steel"] = "stainless steel 304", ["stainless"] = "stainless steel 304", ["neodymium"] = "NdFeB N42", ["ferrite"] = "ferrite Y30", ["gallium-indium-tin"] = "galinstan",
        ["quicksilver"] = "mercury", ["vacuum"] = "air",
    };

    /// <summary>Other names that are understood, with the name each stands for.</summary>
    public static IReadOnlyDictionary<string, string> OtherNames => Aliases;

    /// <summary>The material of that name or other name, or null; case does not matter.</summary>
    /// <param name="name">The name.</param>
    public static Material? Find(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        string asked = name.Trim();
        if (Aliases.TryGetValue(asked, out string? other))
            asked = other;
        return All.FirstOrDefault(m => string.Equals(m.Name, asked, StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>The known name nearest to one that was not found, or null.</summary>
    /// <param name="name">The name.</param>
    public static string? Nearest(string name) => NearestWord.To(name, All.Select(m => m.Name).Concat(Aliases.Keys));

    private static Material Aluminium(string name, double conductivity, string source) => new(name)
    {
        Conductivity = conductivity,
        TemperatureCoefficient = 3.8e-3,
        Density = 2700,
        SpecificHeat = 897,
        ThermalConductivity = 220,
        MeltingPoint = 660 + PhysicalConstants.ZeroCelsius,
        SofteningPoint = 300 + PhysicalConstants.ZeroCelsius,
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
        // In steps of 2 kA/m up to 2.22 T, where B = μ₀H + 2.16 T takes over with a corner.
        const double Joint = 0.06 / PhysicalConstants.MagneticConstant;
        for (double strength = 11000; strength < Joint - 500; strength += 2000)
        {
            h.Add(strength);
            b.Add(PhysicalConstants.MagneticConstant * strength - 2.381e-10 * strength * strength + 2.327e-5 * strength + 1.590);
        }

        h.Add(Joint);
        b.Add(2.22);
        return BhCurve.Create("steel of TEAM 13", [.. h], [.. b]);
    }
}
