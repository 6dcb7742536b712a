using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Forces;
using Fieldwright.Geometry;

namespace Fieldwright.Fields.Transient;

/// <summary>One mesh of a transient. Bodies carry their triangles with them and the air round them is stretched; the potential at the nodes of moving matter is
/// that seen by the matter, so that no current is lost by interpolation and no velocity term is needed.</summary>
/// <remarks>When the air has been stretched too far all is meshed anew, and ∫σA·A_i over the new functions takes over from the old field: net currents of
/// long conductors are kept exactly, the rest to the third power of the size. A body that a stop brings against other matter shares no triangle with it: nearer than a
/// fiftieth of its own size the mesh leaves that much air (<see cref="Clearance"/>).</remarks>
internal sealed class TransientMesh
{
    private readonly TransientModel model;
    private readonly double[] made;
    private readonly Clearance clearance;
    private readonly VirtualDisplacement[] moves;
    private readonly int[] stretched;
    private double[]? tangent;

    public TransientMesh(TransientModel model, double[] displacements, double fineness, CancellationToken cancellation)
    {
        this.model = model;
        clearance = new(model);
        made = clearance.Of(displacements);
        var there = Clearance.Moved(model, made);
        var sizes = new InitialSizes(there with { Frequency = model.ResolvedFrequency }, fineness);
        sizes.Check();
        Base = MeshedModel.Create(there, sizes.At, Math.Clamp(15 / fineness, 1, 30), cancellation);
        moves = [.. model.Bodies.Select(b => VirtualDisplacement.Of(Base, b.Regions))];
        stretched = [.. moves.SelectMany(m => m.Elements).Distinct().Order()];
        Placed = Base;
        Operator = new Stiffness(Base);
        Mass = MassValues();
        Magnets = NodeVectors.ToUnknowns(Base, MagnetLoad.Of(Base));
        Ports = new TransientPorts(model, Base);
    }

    /// <summary>The mesh as it was made.</summary>
    public MeshedModel Base { get; }

    /// <summary>The mesh with the bodies where they are now.</summary>
    public MeshedModel Placed { get; private set; }

    public Stiffness Operator { get; private set; }

    /// <summary>∫σA_i·A_j in the order of the pattern.</summary>
    public double[] Mass { get; }

    /// <summary>Load of the magnets over the unknowns.</summary>
    public double[] Magnets { get; }

    public TransientPorts Ports { get; }

    /// <summary>Counts the places the mesh has been in, so that a factor knows whether it still serves.</summary>
    public int Version { get; private set; }

    /// <summary>Directions of motion.</summary>
    public PlaneVector Direction(int body) => model.Field.Symmetry == Symmetry.Round ? new(0, 1) : model.Bodies[body].Direction;

    /// <summary>Stretches the air for bodies displaced since t = 0; false if a triangle would become too flat.</summary>
    public bool TryPlace(double[] displacements)
    {
        if (moves.Length == 0) return true;
        var moved = (double[])Base.Space.Coordinates.Clone();
        var clear = clearance.Of(displacements);
        for (var b = 0; b < moves.Length; b++)
        {
            var by = clear[b] - made[b];
            var direction = Direction(b);
            var weight = moves[b].NodeWeights;
            for (var n = 0; n < weight.Length; n++)
            {
                moved[2 * n] += weight[n] * by * direction.X;
                moved[(2 * n) + 1] += weight[n] * by * direction.Y;
            }
        }
        if (!Flatness.Allows(Base.Space, moved)) return false;
        Placed = Base.Stretched(moved, stretched);
        Operator = new Stiffness(Placed);
        tangent = null;
        Version++;
        return true;
    }

    /// <summary>Values of ∂K(a)a/∂a; kept while the matter is linear and nothing moves.</summary>
    public double[] Tangent(double[] nodes) => Operator.IsLinear ? tangent ??= Operator.Tangent(nodes) : Operator.Tangent(nodes);

    public double Force(TransientField field, int body) => field.ForceAlong(moves[body], Direction(body));

    /// <summary>Product of a symmetric matrix over the pattern and a vector over the unknowns.</summary>
    public double[] Times(double[] values, double[] x)
    {
        var y = new double[x.Length];
        var pattern = Base.Pattern;
        for (var j = 0; j < x.Length; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                var i = pattern.RowIndices[p];
                y[i] += values[p] * x[j];
                if (i != j) y[j] += values[p] * x[i];
            }
        return y;
    }

    /// <summary>∫σA·A_i over the unknowns of this mesh for the field of another, bodies in the same places.</summary>
    public double[] Project(MeshedModel from, double[] nodes)
    {
        var (space, other) = (Base.Space, from.Space);
        var load = new double[space.NodeCount];
        var materials = new MaterialTable(Base.Model, space);
        var values = new ElementValues();
        Span<double> shape = stackalloc double[ElementTables.Functions], gx = stackalloc double[ElementTables.Functions], gy = stackalloc double[ElementTables.Functions];
        for (var e = 0; e < space.InsideCount; e++)
        {
            var sigma = materials.Conductivity(e);
            if (sigma == 0) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                if (!from.Inside.TryLocate(values.X[q], values.Y[q], out var there, out var xi, out var eta))
                    throw new InvalidOperationException("A point of a conductor lies in no triangle of the mesh before.");
                ElementTables.Evaluate(xi, eta, shape, gx, gy);
                var a = 0.0;
                for (var i = 0; i < 6; i++) a += nodes[other.Triangles[(6 * there) + i]] * shape[i];
                if (space.Symmetry == Symmetry.Round) a *= values.X[q];
                for (var i = 0; i < 6; i++) load[space.Triangles[(6 * e) + i]] += values.Weight[q] * sigma * a * values.A[(q * ElementTables.Functions) + i];
            }
        }
        return NodeVectors.ToUnknowns(Base, load);
    }

    private double[] MassValues()
    {
        var result = new double[Base.Pattern.RowIndices.Length];
        var materials = new MaterialTable(Base.Model, Base.Space);
        for (var e = 0; e < Base.Space.InsideCount; e++)
        {
            var sigma = materials.Conductivity(e);
            if (sigma == 0) continue;
            Base.Add(result, e, Base.Matrices.Mass.AsSpan(e * ElementMatrices.Entries, ElementMatrices.Entries), sigma);
        }
        return result;
    }
}
