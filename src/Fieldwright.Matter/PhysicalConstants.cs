namespace Fieldwright.Matter;

/// <summary>Constants of nature and of convention, SI, with the year of their adjustment.</summary>
public static class PhysicalConstants
{
    /// <summary>Magnetic constant μ₀, H/m; relative uncertainty 1.6e-10, no longer exact.</summary>
    /// <source key="CODATA2022"/>
    public const double MagneticConstant = 1.25663706127e-6;

    /// <summary>Standard acceleration of free fall, m/s², exact by convention (3rd CGPM, 1901).</summary>
    /// <source key="CODATA2022"/>
    public const double StandardGravity = 9.80665;

    /// <summary>0 °C in K, exact by convention.</summary>
    public const double ZeroCelsius = 273.15;

    /// <summary>Stefan–Boltzmann constant, W/(m² K⁴), exact since 2019.</summary>
    /// <source key="CODATA2022"/>
    public const double StefanBoltzmann = 5.670374419e-8;
}
