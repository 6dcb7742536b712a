using System.Numerics;

namespace Fieldwright.Geometry;

/// <summary>Triangles waiting to be refined, the most urgent class first and, within a class, first come first served.</summary>
internal sealed class WorkList
{
    public const int Classes = 32;

    private readonly int[][] rings = new int[Classes][];
    private readonly int[] heads = new int[Classes];
    private readonly int[] counts = new int[Classes];
    private uint occupied;

    /// <param name="urgency">0 … 31; the highest is served first.</param>
    /// <param name="triangle">The triangle.</param>
    public void Add(int urgency, int triangle)
    {
        var ring = rings[urgency] ??= new int[64];
        var count = counts[urgency];
        if (count == ring.Length)
            ring = Widen(urgency);
        ring[(heads[urgency] + count) & (ring.Length - 1)] = triangle;
        counts[urgency] = count + 1;
        occupied |= 1u << urgency;
    }

    public bool IsEmpty => occupied == 0;

    public bool TryTake(out int triangle)
    {
        if (occupied == 0)
        {
            triangle = -1;
            return false;
        }
        var urgency = BitOperations.Log2(occupied);
        var ring = rings[urgency];
        triangle = ring[heads[urgency]];
        heads[urgency] = (heads[urgency] + 1) & (ring.Length - 1);
        if (--counts[urgency] == 0)
            occupied &= ~(1u << urgency);
        return true;
    }

    private int[] Widen(int urgency)
    {
        var old = rings[urgency];
        var ring = new int[2 * old.Length];
        for (var i = 0; i < old.Length; i++)
            ring[i] = old[(heads[urgency] + i) & (old.Length - 1)];
        heads[urgency] = 0;
        return rings[urgency] = ring;
    }
}
