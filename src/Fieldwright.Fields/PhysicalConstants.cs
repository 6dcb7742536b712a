namespace Fieldwright.Matter;

/// <summary>Stands in until the room of matter has its constants.</summary>
internal static class PhysicalConstants
{
    /// <summary>Magnetic constant μ0, CODATA 2022, N/A².</summary>
    public const double MagneticConstant = 1.25663706127e-6;
}
