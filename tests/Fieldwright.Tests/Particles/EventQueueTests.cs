using Fieldwright.Particles;
using Xunit;

namespace Fieldwright.Tests.Particles;

public class EventQueueTests
{
    /// <summary>The first event is the least of all keys at every step, while events come a thousand times more often at one time than at another and some items have none.</summary>
    [Theory]
    [InlineData(1, 1)]
    [InlineData(37, 2)]
    [InlineData(400, 3)]
    public void First_WhateverTheKeys_IsTheLeast(int count, int seed)
    {
        var random = new Random(seed);
        var queue = new EventQueue(count);
        double[] keys = new double[count];
        Array.Fill(keys, double.PositiveInfinity);
        Assert.Equal(double.PositiveInfinity, queue.First().Key);
        double now = 0;
        for (int step = 0; step < 20_000; step++)
        {
            double pace = step / 3000 % 2 == 0 ? 1 : 1e-3;
            for (int changes = random.Next(1, 4); changes > 0; changes--)
            {
                int item = random.Next(count);
                keys[item] = random.Next(20) switch { 0 => double.PositiveInfinity, 1 => now, 2 => now + 1e4 * pace, _ => now - pace * Math.Log(1 - random.NextDouble()) };
                queue.Set(item, keys[item]);
            }

            var (first, key) = queue.First();
            Assert.Equal(keys.Min(), key);
            if (double.IsInfinity(key))
                continue;
            Assert.Equal(key, keys[first]);
            // Only looked at: what is set next may come before it.
            if (random.Next(4) == 0)
                continue;
            now = key;
            keys[first] = now + pace * random.NextDouble();
            queue.Set(first, keys[first]);
        }
    }

    [Fact]
    public void First_AllAtOnceAndLate_StillFindsEveryOne()
    {
        var queue = new EventQueue(50);
        for (int i = 0; i < 50; i++)
            queue.Set(i, 1e9);
        var seen = new HashSet<int>();
        while (queue.First() is { Key: < double.PositiveInfinity } first)
        {
            Assert.True(seen.Add(first.Item));
            queue.Set(first.Item, double.PositiveInfinity);
        }

        Assert.Equal(50, seen.Count);
    }
}
