namespace Fieldwright.Geometry;

/// <summary>Order along the Hilbert curve: neighbours in the order are neighbours in the plane.</summary>
internal static class Hilbert
{
    private const int Bits = 16;

    /// <summary>Indices of points, sorted along the curve; equal keys keep their order.</summary>
    /// <param name="xy">x₀ y₀ x₁ y₁ …</param>
    /// <param name="count">Number of points.</param>
    public static int[] Order(double[] xy, int count)
    {
        var box = Box.Empty;
        for (var i = 0; i < count; i++)
            box = box.With(new Point(xy[2 * i], xy[(2 * i) + 1]));
        var scale = ((1 << Bits) - 1) / Math.Max(Math.Max(box.Width, box.Height), double.Epsilon);
        if (!double.IsFinite(scale))
            scale = 0;
        var keys = new uint[count];
        var order = new int[count];
        for (var i = 0; i < count; i++)
        {
            keys[i] = Key((uint)((xy[2 * i] - box.Left) * scale), (uint)((xy[(2 * i) + 1] - box.Bottom) * scale));
            order[i] = i;
        }
        RadixSort(keys, order);
        return order;
    }

    private static uint Key(uint x, uint y)
    {
        uint key = 0;
        for (var s = 1u << (Bits - 1); s > 0; s >>= 1)
        {
            var rx = (x & s) != 0 ? 1u : 0u;
            var ry = (y & s) != 0 ? 1u : 0u;
            key = (key << 2) | ((3 * rx) ^ ry);
            if (ry == 0)
            {
                if (rx == 1)
                {
                    x = ~x;
                    y = ~y;
                }
                (x, y) = (y, x);
            }
        }
        return key;
    }

    private static void RadixSort(uint[] keys, int[] order)
    {
        var otherKeys = new uint[keys.Length];
        var otherOrder = new int[keys.Length];
        var starts = new int[2048];
        for (var shift = 0; shift < 32; shift += 11)
        {
            Array.Clear(starts);
            foreach (var key in keys)
                starts[(key >> shift) & 2047]++;
            var sum = 0;
            for (var b = 0; b < starts.Length; b++)
                (starts[b], sum) = (sum, sum + starts[b]);
            for (var i = 0; i < keys.Length; i++)
            {
                var to = starts[(keys[i] >> shift) & 2047]++;
                otherKeys[to] = keys[i];
                otherOrder[to] = order[i];
            }
            (keys, otherKeys) = (otherKeys, keys);
            (order, otherOrder) = (otherOrder, order);
        }
        // Three passes leave the result in the other array.
        otherOrder.AsSpan().Clear();
        order.CopyTo(otherOrder, 0);
    }
}
