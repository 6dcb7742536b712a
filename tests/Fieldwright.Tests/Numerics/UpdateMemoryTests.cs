using Fieldwright.Numerics.Sparse;
using Xunit;

namespace Fieldwright.Tests.Numerics;

public unsafe class UpdateMemoryTests
{
    [Theory]
    [InlineData(40, 1)]
    [InlineData(2000, 2)]
    [InlineData(100_000, 3)]
    public void TakeAndGive_AtRandom_NoTwoOverlap(long capacity, int seed)
    {
        const int fronts = 60;
        var random = new Random(seed);
        var memory = new UpdateMemory(fronts, capacity);
        var length = new long[fronts];
        for (var step = 0; step < 3000; step++)
        {
            var front = random.Next(fronts);
            if (length[front] > 0)
            {
                // What was written when it was taken still stands.
                for (var i = 0; i < length[front]; i++)
                    Assert.Equal(front, memory[front][i]);
                memory.Give(front, length[front]);
                Assert.True(memory[front] == null);
                length[front] = 0;
                continue;
            }
            length[front] = 16 * random.Next(1, 12);
            memory.Take(front, length[front]);
            new Span<double>(memory[front], (int)length[front]).Fill(front);
        }
    }

    [Fact]
    public void Give_NeighboursInAnyOrder_GrowIntoOneGap()
    {
        int[][] orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [2, 1, 0]];
        foreach (var order in orders)
        {
            var memory = new UpdateMemory(4, 48);
            for (var f = 0; f < 3; f++)
                memory.Take(f, 16);
            double* start = memory[0];
            Assert.True(memory[1] == start + 16 && memory[2] == start + 32);
            foreach (var f in order)
                memory.Give(f, 16);
            memory.Take(3, 48);
            Assert.True(memory[3] == start);
        }
    }

    [Fact]
    public void Clear_AfterFailure_AllIsFreeAgain()
    {
        var memory = new UpdateMemory(3, 32);
        memory.Take(0, 32);
        double* start = memory[0];
        memory.Take(1, 64); // beyond what is shared
        memory.Clear();
        Assert.True(memory[0] == null && memory[1] == null);
        memory.Take(2, 32);
        Assert.True(memory[2] == start);
    }
}
