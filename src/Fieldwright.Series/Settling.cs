namespace Fieldwright.Series;

/// <summary>Sums refined until two in a row agree.</summary>
internal static class Settling
{
    /// <summary>Refines until the change is below the wanted share, or below the rounding of the sum of the sizes.</summary>
    /// <param name="sum">The sum at a refinement 0, 1, …, and the sum of the sizes of its terms.</param>
    /// <param name="steps">Refinements allowed.</param>
    /// <param name="what">The quantity, for the message.</param>
    public static Estimate<Vector> Of(Func<int, (Vector Sum, double Scale)> sum, int steps, string what)
    {
        var last = sum(0).Sum;
        for (var step = 1; ; step++)
        {
            var (next, scale) = sum(step);
            var change = (next - last).Length;
            // A sum that vanishes by symmetry can only be known to the rounding of its terms.
            if (change <= 1e-10 * next.Length || change <= 1e-13 * scale)
                return new(next, Math.Max(change, 1e-15 * scale));
            if (step == steps)
                return change <= 1e-6 * next.Length || change <= 1e-9 * scale ? new(next, change)
                    : throw new NotConvergedException(what, change / next.Length, step);
            last = next;
        }
    }
}
