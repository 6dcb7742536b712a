using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>How finely a section's currents are described: polynomials in each direction, Gauss points for their coupling with coils, and the order of the coils' own panels.</summary>
internal readonly record struct BasisSize(int Radial, int Axial, int RadialNodes, int AxialNodes, int CoilOrder)
{
    /// <summary>A third more of everything.</summary>
    public BasisSize Raised() => new(Up(Radial), Up(Axial), Up(RadialNodes), Up(AxialNodes), CoilOrder + 1);

    /// <summary>A fifth less of everything.</summary>
    public BasisSize Lowered() => new(Down(Radial), Down(Axial), Down(RadialNodes), Down(AxialNodes), CoilOrder - 2);

    private static int Up(int n) => n + Math.Max(1, (int)Math.Round(0.35 * n));

    private static int Down(int n) => n - Math.Max(1, n / 5);
}

/// <summary>The current densities a body's section may carry, J = Σ c φ, chosen so that its resistance matrix is the identity.</summary>
/// <remarks>
/// φ_ij(r, z) = p_i(r) q_j(z) with ∫(2πr/σ) φ_a φ_b dr dz = δ_ab, so the loss is ½Σ|c|² for peak phasors and the eigenvalues of the
/// inductance matrix are the body's time constants. Index a = i·AxialCount + j. Lower degrees form a nested coarser basis.
/// </remarks>
internal sealed class SectionBasis
{
    public SectionBasis(in Section section, double conductivity, BasisSize size)
    {
        Section = section;
        Conductivity = conductivity;
        Size = size;
        // On the axis the current density of a solid body is zero.
        Radial = new OrthonormalPolynomials(size.Radial, section.InnerRadius, section.OuterRadius, r => 2 * Math.PI * r / conductivity,
            vanishing: section.InnerRadius == 0);
        // Heights are measured from the middle: a body that moves keeps its basis.
        Axial = new OrthonormalPolynomials(size.Axial, -0.5 * section.Height, 0.5 * section.Height, _ => 1, vanishing: false);
        GaussRule across = GaussRule.WithNodes(size.RadialNodes), along = GaussRule.WithNodes(size.AxialNodes);
        NodeRadii = Array.ConvertAll(across.Nodes, x => Section.InnerRadius + Section.Build * x);
        NodeHeights = Array.ConvertAll(along.Nodes, x => Section.Height * (x - 0.5));
        RadialValues = Values(Radial, NodeRadii, across.Weights, section.Build);
        AxialValues = Values(Axial, NodeHeights, along.Weights, section.Height);
    }

    public Section Section { get; }

    public double Conductivity { get; }

    public BasisSize Size { get; }

    public OrthonormalPolynomials Radial { get; }

    public OrthonormalPolynomials Axial { get; }

    public int Count => Radial.Count * Axial.Count;

    /// <summary>Gauss points across the section.</summary>
    public double[] NodeRadii { get; }

    /// <summary>Gauss points along the axis, from the section's middle.</summary>
    public double[] NodeHeights { get; }

    /// <summary>p_i at node n times the node's weight, [n·count + i].</summary>
    public double[] RadialValues { get; }

    /// <summary>q_j at node n times the node's weight, [n·count + j].</summary>
    public double[] AxialValues { get; }

    public double Middle => 0.5 * (Section.ZFrom + Section.ZTo);

    /// <summary>Flux per ampere of a coil that each basis current encircles, and its change as the body rises.</summary>
    public void MutualInto(in Section coil, double turns, double lift, Span<double> mutual, Span<double> gradient)
    {
        int nr = Radial.Count, nz = Axial.Count;
        Span<double> m = stackalloc double[nz], g = stackalloc double[nz];
        mutual.Clear();
        gradient.Clear();
        for (var a = 0; a < NodeRadii.Length; a++)
        {
            m.Clear();
            g.Clear();
            for (var b = 0; b < NodeHeights.Length; b++)
            {
                var (potential, radial) = SectionField.PotentialAndRadial(coil, NodeRadii[a], Middle + lift + NodeHeights[b], Size.CoilOrder);
                for (var j = 0; j < nz; j++)
                {
                    m[j] += AxialValues[b * nz + j] * potential;
                    g[j] -= AxialValues[b * nz + j] * radial;
                }
            }
            var ring = 2 * Math.PI * NodeRadii[a] * turns;
            for (var i = 0; i < nr; i++)
                for (var j = 0; j < nz; j++)
                {
                    mutual[i * nz + j] += RadialValues[a * nr + i] * ring * m[j];
                    gradient[i * nz + j] += RadialValues[a * nr + i] * ring * g[j];
                }
        }
    }

    /// <summary>Inductance matrix of the body's basis currents, row by row: with unit resistances, in s.</summary>
    public double[] SelfInductance()
    {
        var nodes = DifferencePlane.Quadrant(Section, 7, 1.2 * Radial.Count / Section.Build, 1.2 * Axial.Count / Section.Height);
        return Couple(this, this, nodes, 0, gradient: false, symmetric: true);
    }

    /// <summary>Mutual inductances of two bodies' basis currents, [a·other.Count + b], or their change as the other body rises.</summary>
    /// <param name="other">The other body.</param>
    /// <param name="rise">How much the other body has risen against this one, m.</param>
    /// <param name="gradient">Whether to give the change with the rise.</param>
    public double[] MutualWith(SectionBasis other, double rise, bool gradient)
    {
        var moved = other.Section with { ZFrom = other.Section.ZFrom + rise, ZTo = other.Section.ZTo + rise };
        var nodes = DifferencePlane.Rule(Section, moved, 7,
            1.2 * Math.Max(Radial.Count / Section.Build, other.Radial.Count / other.Section.Build),
            1.2 * Math.Max(Axial.Count / Section.Height, other.Axial.Count / other.Section.Height));
        return Couple(this, other, nodes, other.Middle + rise - Middle, gradient, symmetric: false);
    }

    // ΣΣ weight · [∫p_i(r)p′_k(r+u) M dr] · [∫q_j(z)q′_l(z+w) dz]. For a body with itself only u, w > 0 is sampled and both brackets are
    // made symmetric, which adds the other three quarters.
    private static double[] Couple(SectionBasis p, SectionBasis q, List<DifferenceNode> nodes, double offset, bool gradient, bool symmetric)
    {
        int nr = p.Radial.Count, nz = p.Axial.Count, mr = q.Radial.Count, mz = q.Axial.Count;
        var across = GaussRule.WithNodes(Math.Max(nr, mr) + 8);
        var along = GaussRule.WithNodes((nz + mz) / 2 + 1);
        double[] radial = new double[nr * mr], axial = new double[nz * mz], total = new double[nr * mr * nz * mz];
        double[] pr = new double[nr], qr = new double[mr], pz = new double[nz], qz = new double[mz];
        foreach (var node in nodes)
        {
            // r = ρ² keeps the inner integrand smooth where a section reaches the axis.
            var from = Math.Sqrt(Math.Max(p.Section.InnerRadius, q.Section.InnerRadius - node.U));
            var to = Math.Sqrt(Math.Max(0, Math.Min(p.Section.OuterRadius, q.Section.OuterRadius - node.U)));
            // Heights here are from each body's own middle.
            var bottom = Math.Max(p.Axial.From, q.Axial.From - node.W + offset);
            var top = Math.Min(p.Axial.To, q.Axial.To - node.W + offset);
            if (to <= from || top <= bottom)
                continue;
            Array.Clear(radial);
            for (var n = 0; n < across.Nodes.Length; n++)
            {
                var root = from + (to - from) * across.Nodes[n];
                var r = root * root;
                var m = gradient ? Filament.MutualGradient(r, r + node.U, node.W) : Filament.Mutual(r, r + node.U, node.W);
                p.Radial.EvaluateInto(r, pr);
                q.Radial.EvaluateInto(r + node.U, qr);
                AddOuter(radial, pr, qr, 2 * root * (to - from) * across.Weights[n] * m);
            }
            Array.Clear(axial);
            for (var n = 0; n < along.Nodes.Length; n++)
            {
                var z = bottom + (top - bottom) * along.Nodes[n];
                p.Axial.EvaluateInto(z, pz);
                q.Axial.EvaluateInto(z + node.W - offset, qz);
                AddOuter(axial, pz, qz, (top - bottom) * along.Weights[n] * node.Weight);
            }
            if (symmetric)
            {
                AddTranspose(radial, nr);
                AddTranspose(axial, nz);
            }
            AddOuter(total, axial, radial, 1);
        }
        // From [(j, l)][(i, k)] to [(i, j)][(k, l)].
        var matrix = new double[total.Length];
        for (var j = 0; j < nz; j++)
            for (var l = 0; l < mz; l++)
                for (var i = 0; i < nr; i++)
                    for (var k = 0; k < mr; k++)
                        matrix[(i * nz + j) * (mr * mz) + k * mz + l] = total[(j * mz + l) * radial.Length + i * mr + k];
        return matrix;
    }

    private static void AddOuter(double[] matrix, double[] left, double[] right, double factor)
    {
        var width = System.Numerics.Vector<double>.Count;
        for (var i = 0; i < left.Length; i++)
        {
            var f = factor * left[i];
            var row = matrix.AsSpan(i * right.Length, right.Length);
            var k = 0;
            for (; k + width <= row.Length; k += width)
                (new System.Numerics.Vector<double>(row[k..]) + f * new System.Numerics.Vector<double>(right, k)).CopyTo(row[k..]);
            for (; k < row.Length; k++)
                row[k] += f * right[k];
        }
    }

    private static void AddTranspose(double[] square, int n)
    {
        for (var i = 0; i < n; i++)
            for (var k = 0; k <= i; k++)
                square[i * n + k] = square[k * n + i] = square[i * n + k] + square[k * n + i];
    }

    private static double[] Values(OrthonormalPolynomials polynomials, double[] nodes, double[] weights, double length)
    {
        var values = new double[nodes.Length * polynomials.Count];
        for (var n = 0; n < nodes.Length; n++)
        {
            var row = values.AsSpan(n * polynomials.Count, polynomials.Count);
            polynomials.EvaluateInto(nodes[n], row);
            for (var k = 0; k < row.Length; k++)
                row[k] *= weights[n] * length;
        }
        return values;
    }
}
