namespace Fieldwright.Bench.Studies;

/// <summary>Numbers that look random and follow from a seed and a place in the run, whatever the number of threads.</summary>
/// <source key="Steele2014"/>
internal static class SeededNumbers
{
    /// <summary>A number in [0, 1), the same for the same seed, sample and column.</summary>
    public static double At(ulong seed, int sample, int column)
    {
        ulong z = Mixed(Mixed(seed + 0x9E3779B97F4A7C15UL) ^ ((ulong)(uint)sample << 32 | (uint)column));
        return (z >> 11) * (1.0 / (1UL << 53));
    }

    private static ulong Mixed(ulong z)
    {
        z += 0x9E3779B97F4A7C15UL;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
