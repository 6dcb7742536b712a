using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Fieldwright.Numerics.Sparse;

/// <summary>One front while it is worked on: where its panel and its update matrix lie. Complex ones have the imaginary parts a whole plane further on.</summary>
internal unsafe readonly ref struct Front
{
    public double* Panel { get; init; }

    public nint PanelPlane { get; init; }

    public int LeadingDimension { get; init; }

    public int Pivots { get; init; }

    public double* Update { get; init; }

    public nint UpdatePlane { get; init; }

    public int UpdateRows { get; init; }
}

/// <summary>The dense arithmetic of one kind of number.</summary>
internal unsafe interface IFrontKernel
{
    /// <summary>1 for real, 2 for real and imaginary planes.</summary>
    static abstract int Planes { get; }

    /// <summary>Factorises the pivot columns in place.</summary>
    /// <returns>−1, or the column whose pivot is not above its tolerance.</returns>
    static abstract int Factor(Front front, double* tolerance, Workspace work, Splitter splitter);

    /// <summary>Writes what the pivots contribute to the update matrix, whose memory may hold anything: its lower triangle is overwritten.</summary>
    static abstract void Update(Front front, Workspace work, Splitter splitter);
}

/// <summary>Memory of one thread for packed operands. It grows and is kept; freed with the thread's last reference.</summary>
internal sealed unsafe class Workspace
{
    private const int SmallLength = 256;

    [ThreadStatic]
    private static Workspace? _ofThread;

    private NativeBlock _a = new(12 * 128 * 2 + SmallLength);
    private NativeBlock _b = new(0);
    private NativeBlock _scratch = new(0);
    private NativeBlock _indices = new(0);

    /// <summary>A strip of the left operand.</summary>
    public double* A => _a.Pointer + SmallLength;

    /// <summary>Some numbers for any purpose.</summary>
    public double* Small => _a.Pointer;

    /// <summary>The right operand, packed.</summary>
    public double* B => _b.Pointer;

    /// <summary>Stands in for the columns a narrow group lacks.</summary>
    public double* Scratch => _scratch.Pointer;

    /// <summary>Room for a list of so many places.</summary>
    public int* Indices(int count)
    {
        if (_indices.Length < (count + 1) / 2)
            _indices = new NativeBlock(count);
        return (int*)_indices.Pointer;
    }

    public static Workspace OfThread() => _ofThread ??= new Workspace();

    /// <summary>Makes room for operands of a front.</summary>
    public void Reserve(long b, long scratch)
    {
        if (_b.Length < b)
            _b = new NativeBlock(b);
        if (_scratch.Length < scratch)
        {
            _scratch = new NativeBlock(scratch);
            _scratch.Clear(scratch);
        }
    }
}

/// <summary>Memory outside the collected heap, aligned to cache lines; freed when no longer referenced.</summary>
internal sealed unsafe class NativeBlock
{
    private const int Slack = 64; // vectors may read past the last entry
    private double* _pointer;

    public NativeBlock(long length)
    {
        Length = length;
        var bytes = checked((nuint)(length + Slack) * sizeof(double));
        _pointer = (double*)NativeMemory.AlignedAlloc(bytes, 64);
        GC.AddMemoryPressure((long)bytes);
        new Span<double>(_pointer + length, Slack).Clear();
    }

    ~NativeBlock() => Free();

    public long Length { get; }

    public double* Pointer => _pointer;

    public void Clear(long count) => NativeMemory.Clear(_pointer, (nuint)count * sizeof(double));

    /// <summary>Gives the memory back at once; until then its owner keeps it alive.</summary>
    public void Free()
    {
        if (_pointer == null)
            return;
        NativeMemory.AlignedFree(_pointer);
        _pointer = null;
        GC.RemoveMemoryPressure((Length + Slack) * sizeof(double));
    }
}

/// <summary>Arithmetic that the portable vectors lack.</summary>
internal static class Lanes
{
    /// <summary>c − a·b, rounded once where the processor can.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> SubtractProduct(Vector256<double> a, Vector256<double> b, Vector256<double> c) =>
        Fma.IsSupported ? Fma.MultiplyAddNegated(a, b, c) : c - a * b;

    /// <summary>Asks for so many numbers, or for the first of them, to be brought near while other work is done.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static unsafe void Prefetch(double* from, long count)
    {
        if (!Sse.IsSupported)
            return;
        double* end = from + Math.Min(count, 4096);
        for (; from < end; from += 8)
            Sse.Prefetch0(from);
    }
}

/// <summary>Runs the parts of one large step on several threads, or knows that there is only one.</summary>
internal sealed class Splitter(int threads)
{
    private readonly ParallelOptions _options = new() { MaxDegreeOfParallelism = threads };

    public bool IsWorthSplitting(long operations) => threads > 1 && operations > 2_000_000;

    /// <summary>Does parts 0 … count − 1, in any order.</summary>
    public void Run(int count, Action<int> part)
    {
        var next = -1;
        Parallel.For(0, Math.Min(threads, count), _options, _ =>
        {
            // Whoever is free takes the next: the caller alone finishes all if no other thread turns up.
            for (var k = Interlocked.Increment(ref next); k < count; k = Interlocked.Increment(ref next))
                part(k);
        });
    }
}
