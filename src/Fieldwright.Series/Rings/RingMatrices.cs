namespace Fieldwright.Series.Rings;

/// <summary>The ring–ring matrices of all bodies in one relative position, factored at one frequency, with the nested coarser ones.</summary>
internal sealed class RingMatrices
{
    private readonly double[] relativeLifts;
    private readonly double[][] own;

    private RingMatrices(SectionBasis[] bases, double[] relativeLifts, double[][] own, double omega)
    {
        Bases = bases;
        this.relativeLifts = relativeLifts;
        this.own = own;
        CoarseBases = new SectionBasis[bases.Length];
        Starts = new int[bases.Length + 1];
        List<int> coarse = [];
        for (var b = 0; b < bases.Length; b++)
        {
            var nz = bases[b].Axial.Count;
            var size = bases[b].Size.Lowered();
            CoarseBases[b] = new SectionBasis(bases[b].Section, bases[b].Conductivity, size);
            for (var i = 0; i < size.Radial; i++)
                for (var j = 0; j < size.Axial; j++)
                    coarse.Add(Starts[b] + i * nz + j);
            Starts[b + 1] = Starts[b] + bases[b].Count;
        }
        CoarseIndices = [.. coarse];
        var n = Starts[^1];
        Inductance = new double[n * n];
        BodyGradients = new double[bases.Length, bases.Length][];
        for (var b = 0; b < bases.Length; b++)
        {
            Place(own[b], Starts[b], Starts[b], bases[b].Count);
            for (var o = 0; o < b; o++)
            {
                var rise = relativeLifts[o] - relativeLifts[b];
                Place(bases[b].MutualWith(bases[o], rise, gradient: false), Starts[b], Starts[o], bases[o].Count);
                BodyGradients[b, o] = bases[b].MutualWith(bases[o], rise, gradient: true);
            }
        }
        Factor = SymmetricFactor.Create(n, Inductance, omega);
        var m = CoarseIndices.Length;
        var picked = new double[m * m];
        for (var i = 0; i < m; i++)
            for (var j = 0; j <= i; j++)
                picked[i * m + j] = Inductance[CoarseIndices[i] * n + CoarseIndices[j]];
        CoarseFactor = SymmetricFactor.Create(m, picked, omega);
    }

    public SectionBasis[] Bases { get; }

    /// <summary>The coarser bases: the same leading polynomials, on a coarser rule of their own, so that the error of the rule shows too.</summary>
    public SectionBasis[] CoarseBases { get; }

    /// <summary>First unknown of each body, and the number of all.</summary>
    public int[] Starts { get; }

    /// <summary>Unknowns of the coarser bases one after another, by their place among all.</summary>
    public int[] CoarseIndices { get; }

    /// <summary>Row by row; only the lower triangle is filled.</summary>
    public double[] Inductance { get; }

    /// <summary>[b, o], o below b: change of the coupling of the two as o rises, [a·count of o + c].</summary>
    public double[,][] BodyGradients { get; }

    public SymmetricFactor Factor { get; }

    public SymmetricFactor CoarseFactor { get; }

    public static RingMatrices Create(IReadOnlyList<RingBody> bodies, BasisSize[] sizes, double[] lifts, double omega, RingMatrices? earlier)
    {
        var bases = new SectionBasis[bodies.Count];
        var own = new double[bodies.Count][];
        for (var b = 0; b < bases.Length; b++)
            if (earlier is not null && earlier.Bases[b].Size == sizes[b])
                (bases[b], own[b]) = (earlier.Bases[b], earlier.own[b]);
            else
            {
                bases[b] = new SectionBasis(bodies[b].Section, bodies[b].Conductivity, sizes[b]);
                own[b] = bases[b].SelfInductance();
            }
        return new RingMatrices(bases, Relative(lifts), own, omega);
    }

    /// <summary>Whether these matrices serve for the given degrees and lifts: only the bodies' places against one another matter.</summary>
    public bool Suits(BasisSize[] sizes, double[] lifts)
    {
        var relative = Relative(lifts);
        for (var b = 0; b < Bases.Length; b++)
            if (Bases[b].Size != sizes[b] || Math.Abs(relative[b] - relativeLifts[b]) > 1e-14)
                return false;
        return true;
    }

    private static double[] Relative(double[] lifts) => Array.ConvertAll(lifts, x => x - lifts[0]);

    private void Place(double[] block, int row, int column, int columns)
    {
        var n = Starts[^1];
        for (var i = 0; i * columns < block.Length; i++)
            block.AsSpan(i * columns, columns).CopyTo(Inductance.AsSpan((row + i) * n + column, columns));
    }
}
