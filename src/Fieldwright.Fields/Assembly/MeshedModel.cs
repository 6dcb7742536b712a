using Fieldwright.Fields.Elements;
using Fieldwright.Geometry;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields;

/// <summary>A field model on one mesh, with everything that does not change when a dial is turned: element matrices, sparsity pattern and
/// the analysis of the factorisation.</summary>
/// <remarks>
/// Made by <see cref="Create(FieldModel, double, CancellationToken)"/> or found inside a <see cref="AdaptiveResult"/>. <see cref="With"/> gives the same mesh with other
/// matter, drives, turns or frequency at the cost of a few vectors; solving again then costs assembly, factorisation and solution only.
/// <see cref="TryMove"/> slides a body a little by stretching the air round it. Immutable: threads may share it.
/// </remarks>
public sealed partial class MeshedModel
{
    private readonly Topology topology;

    private MeshedModel(FieldModel model, FieldSpace space, Topology topology, Assembly.ElementMatrices matrices, Assembly.PortLoads? ports = null)
    {
        Model = model;
        Space = space;
        this.topology = topology;
        Matrices = matrices;
        Ports = ports ?? new Assembly.PortLoads(this);
    }

    /// <summary>What is being solved.</summary>
    public FieldModel Model { get; }

    /// <summary>The mesh inside the rim; the space beyond is mapped and has triangles of its own, which are not listed here.</summary>
    public Mesh Mesh => Space.Mesh;

    /// <summary>Nodes of <see cref="Mesh"/> where they stand now, x₀ y₀ x₁ y₁ …, m: they differ from those of the mesh after a move.</summary>
    public ReadOnlySpan<double> Coordinates => Space.Coordinates.AsSpan(0, 2 * Mesh.NodeCount);

    /// <summary>Number of unknowns of the field, those of the mapped outside included.</summary>
    public int UnknownCount => topology.Pattern.Order;

    internal FieldSpace Space { get; }

    internal Assembly.ElementMatrices Matrices { get; }

    internal Assembly.PortLoads Ports { get; }

    internal SparseAnalysis Analysis => topology.Analysis;

    internal SymmetricPattern Pattern => topology.Pattern;

    /// <summary>Unknown of each node, or −1 for the node at infinity of a long model.</summary>
    internal int[] DegreeOfFreedom => topology.DegreeOfFreedom;

    /// <summary>Value of each node over that of its unknown, ±1; null when all are 1.</summary>
    internal double[]? Signs => topology.Signs;

    /// <summary>Where entry k of an element's lower triangle goes in the values of the matrix; −1 nowhere.</summary>
    internal int[] Scatter => topology.Scatter;

    /// <summary>Adds a multiple of the lower triangle of an element's matrix to the values of the matrix.</summary>
    internal void Add(double[] values, int e, ReadOnlySpan<double> lower, double times = 1)
    {
        var scatter = Scatter.AsSpan(e * Assembly.ElementMatrices.Entries, Assembly.ElementMatrices.Entries);
        if (Signs is null)
        {
            for (var k = 0; k < scatter.Length; k++)
                if (scatter[k] >= 0) values[scatter[k]] += times * lower[k];
            return;
        }
        var nodes = Space.Triangles.AsSpan(6 * e, 6);
        var n = 0;
        for (var i = 0; i < 6; i++)
            for (var j = 0; j <= i; j++, n++)
                if (scatter[n] >= 0) values[scatter[n]] += times * Signs[nodes[i]] * Signs[nodes[j]] * lower[n];
    }

    internal ElementLocator Inside => field ??= new ElementLocator(Space, 0, Space.InsideCount);

    internal ElementLocator Outside => field ??= new ElementLocator(Space, Space.InsideCount, Space.ElementCount - Space.InsideCount);

    internal SurplusSpace Surplus => field ??= new SurplusSpace(Space);

    /// <summary>Meshes a model by its own judgement of sizes: bodies, gaps between them and skin depths are resolved coarsely.</summary>
    /// <param name="model">The model; it is checked first.</param>
    /// <param name="fineness">1 for the coarse mesh that an adaptive solution starts from; 2 halves every size.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The model is out of range.</exception>
    /// <exception cref="TooThinForTrianglesException">A part is so thin for its length that more than 300,000 triangles are to be expected.</exception>
    public static MeshedModel Create(FieldModel model, double fineness = 1, CancellationToken cancellation = default)
    {
        Numerics.Guard.Positive(fineness, nameof(fineness));
        return Create(model, fineness, Math.Clamp(30 / fineness, 1, 30), cancellation);
    }

    internal static MeshedModel Create(FieldModel model, double fineness, double arcDegrees, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(model);
        model.Check();
        var sizes = new InitialSizes(model, fineness);
        sizes.Check();
        return Create(model, sizes.At, arcDegrees, cancellation);
    }

    internal static MeshedModel Create(FieldModel model, Func<double, double, double> sizeAt, double arcDegrees, CancellationToken cancellation) =>
        On(model, OpenSpace.Mesh(model, sizeAt, arcDegrees, cancellation));

    internal static MeshedModel On(FieldModel model, FieldSpace space)
    {
        return new MeshedModel(model, space, Topology.Of(space), Assembly.ElementMatrices.Build(space));
    }

    /// <summary>The same mesh for a model that differs in matter, windings, drives, conductors or frequency only.</summary>
    /// <param name="changed">The changed model; its parts, symmetry and depth must be those of <see cref="Model"/>.</param>
    /// <exception cref="ArgumentException">The geometry differs, or the model is out of range.</exception>
    public MeshedModel With(FieldModel changed)
    {
        ArgumentNullException.ThrowIfNull(changed);
        changed.Check();
        if (changed.Symmetry != Model.Symmetry || changed.Depth != Model.Depth || !(ReferenceEquals(changed.Parts, Model.Parts) || changed.Parts.SequenceEqual(Model.Parts)))
            throw new ArgumentException("Symmetry, depth and parts must be those the mesh was made for.", nameof(changed));
        return new MeshedModel(changed, Space, topology, Matrices);
    }

    /// <summary>Slides a body by stretching the air round it, if the triangles allow it.</summary>
    /// <param name="regions">The regions that move together as one body.</param>
    /// <param name="by">Displacement, m; along z only when round.</param>
    /// <returns>The moved model on a mesh of the same topology, or null if a triangle would become too flat: mesh anew then.
    /// <see cref="Model"/> of the result keeps the outlines of the place the mesh was made for.</returns>
    public MeshedModel? TryMove(IReadOnlyList<int> regions, PlaneVector by)
    {
        if (Model.Symmetry == Symmetry.Round && by.X != 0) throw new ArgumentException("A body of a round model moves along z only.", nameof(by));
        var weight = Forces.VirtualDisplacement.Of(this, regions).NodeWeights;
        var moved = (double[])Space.Coordinates.Clone();
        for (var n = 0; n < weight.Length; n++)
        {
            moved[2 * n] += weight[n] * by.X;
            moved[(2 * n) + 1] += weight[n] * by.Y;
        }
        if (!Forces.Flatness.Allows(Space, moved)) return null;
        var space = Space.WithCoordinates(moved);
        return new MeshedModel(Model, space, topology, Assembly.ElementMatrices.Build(space));
    }

    /// <summary>The same triangles with their nodes elsewhere, all matter having moved rigidly: only the stretched triangles of air are integrated anew.</summary>
    internal MeshedModel Stretched(double[] coordinates, IReadOnlyList<int> stretched)
    {
        var space = Space.WithCoordinates(coordinates);
        return new MeshedModel(Model, space, topology, Matrices.With(space, stretched), Ports);
    }

    /// <summary>Numbering, pattern and analysis: they survive every dial and every move.</summary>
    private sealed record Topology(int[] DegreeOfFreedom, double[]? Signs, SymmetricPattern Pattern, int[] Scatter, SparseAnalysis Analysis)
    {
        public static Topology Of(FieldSpace space)
        {
            var constrained = space.Symmetry == Symmetry.Long ? space.InfinityNode : -1;
            var dof = new int[space.NodeCount];
            var order = 0;
            double[]? signs = null;
            for (var n = 0; n < dof.Length; n++) dof[n] = n == constrained || space.Tied?.Zero.Contains(n) == true || space.Tied?.Master.ContainsKey(n) == true ? -1 : order++;
            if (space.Tied is { } tied)
            {
                signs = new double[dof.Length];
                Array.Fill(signs, 1);
                foreach (var (node, master) in tied.Master) (dof[node], signs[node]) = (dof[master], tied.Sign);
            }
            var elementDofs = new int[space.Triangles.Length];
            for (var k = 0; k < elementDofs.Length; k++) elementDofs[k] = dof[space.Triangles[k]];
            var places = new double[2 * order];
            for (var n = 0; n < dof.Length; n++)
                if (dof[n] >= 0 && space.Tied?.Master.ContainsKey(n) != true) (places[2 * dof[n]], places[(2 * dof[n]) + 1]) = (space.Coordinates[2 * n], space.Coordinates[(2 * n) + 1]);
            var pattern = SymmetricPattern.FromElements(order, elementDofs, 6, out var scatter);
            return new(dof, signs, pattern, scatter, SparseAnalysis.Create(pattern, places));
        }
    }
}
