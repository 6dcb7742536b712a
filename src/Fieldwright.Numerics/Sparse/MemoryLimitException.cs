using System.Globalization;

namespace Fieldwright.Numerics.Sparse;

/// <summary>A factorisation would take more memory than was allowed. It is thrown before any of it is taken.</summary>
public sealed class MemoryLimitException : Exception
{
    /// <summary>Says what is missing.</summary>
    /// <param name="needed">Bytes foretold.</param>
    /// <param name="allowed">Bytes allowed.</param>
    public MemoryLimitException(long needed, long allowed)
        : base(string.Create(CultureInfo.InvariantCulture, $"the factorisation needs {needed / 1e6:F1} MB, and {allowed / 1e6:F1} MB are allowed"))
    {
        Needed = needed;
        Allowed = allowed;
    }

    /// <summary>Bytes foretold for the factorisation at its peak, the factor included.</summary>
    public long Needed { get; }

    /// <summary>Bytes allowed.</summary>
    public long Allowed { get; }

    internal static void Check(long needed, long allowed)
    {
        if (needed > allowed)
            throw new MemoryLimitException(needed, allowed);
    }
}
