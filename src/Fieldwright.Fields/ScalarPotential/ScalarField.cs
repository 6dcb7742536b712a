using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Static;

namespace Fieldwright.Fields.ScalarPotential;

/// <summary>A static magnetic field by its scalar potential: H = T − ∇φ with curl T = J, on the mesh and with the matter of a vector-potential model.</summary>
/// <remarks>
/// The twin of <see cref="StaticField"/>. There B has no sources exactly and curl H = J in the mean over functions of the mesh; here it is the other way round. Both
/// minimise: the vector potential finds the coenergy from below, the scalar potential from above (see <see cref="ErrorEstimates.Complementary"/>).
/// φ jumps by the ampere-turns across a cut that T carries, so it is no field of its own and is not handed out. Immutable; threads may share it.
/// <source key="Penman1982" />
/// </remarks>
public sealed class ScalarField
{
    private readonly double[] potential;
    private readonly SourceField source;

    private ScalarField(MeshedModel meshed, ScalarSystem system, double[] potential, SourceField source)
    {
        Meshed = meshed;
        System = system;
        this.potential = potential;
        this.source = source;
        Coenergy = system.Coenergy(potential, source, true);
    }

    /// <summary>The model on its mesh.</summary>
    public MeshedModel Meshed { get; }

    /// <summary>∫B·dH over all space, J, magnets counting ½μH² + Remanence·H: never below the coenergy of the model on its mesh's geometry.</summary>
    public double Coenergy { get; }

    /// <summary>Relative length of each Newton step, in the energy norm; empty for a linear model.</summary>
    public IReadOnlyList<double> NewtonSteps => System.History;

    internal ScalarSystem System { get; }

    /// <summary>Solves the static field of a model on its mesh.</summary>
    /// <param name="meshed">The model on its mesh; its frequency must be zero and nothing conducting may move.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The model has a frequency, or a conductor that moves: its current is not known beforehand.</exception>
    /// <exception cref="FieldNotConvergedException">Newton's method did not settle.</exception>
    /// <exception cref="NetCurrentException">A long model carries a net current.</exception>
    // steel starts as it stands near its knee, where Newton's method can go either way
    public static ScalarField Solve(MeshedModel meshed, CancellationToken cancellation = default) => Solve(meshed, (law, _, _) => law.Permeability(500), cancellation);

    /// <summary>The same, steel starting with given permeabilities.</summary>
    internal static ScalarField Solve(MeshedModel meshed, Func<PermeabilityLaw, int, int, double> first, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(meshed);
        if (meshed.Model.Frequency != 0) throw new ArgumentException("A static field is asked of a model with a frequency.", nameof(meshed));
        if (Motion.MotionTerm.Of(meshed) is not null) throw new ArgumentException("The scalar potential needs its currents beforehand; those of a moving conductor are not known.", nameof(meshed));
        var system = new ScalarSystem(meshed);
        var source = new SourceTree(meshed).Carry(CurrentDensities(meshed));
        return new(meshed, system, system.Solve(source, true, (e, q) => first(system.Law(e), e, q), cancellation), source);
    }

    /// <summary>Field strength, A/m.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    /// <exception cref="ArgumentException">The point lies beyond the rim of the mesh, where only energies are summed.</exception>
    public PlaneVector FieldStrength(double x, double y)
    {
        if (!Meshed.Inside.TryLocate(x, y, out var e, out var xi, out var eta)) throw new ArgumentException($"({x:G6}, {y:G6}) lies beyond the rim of the mesh.", nameof(x));
        var values = new ElementValues();
        values.EvaluateAt(Meshed.Space, e, xi, eta);
        var (hx, hy) = At(e, 0, values, xi, eta);
        return new(hx, hy);
    }

    /// <summary>H at point q of triangle e, whose local coordinates are handed along.</summary>
    internal (double X, double Y) At(int e, int q, ElementValues values, double xi, double eta) => System.FieldStrength(e, q, values, xi, eta, potential, source);

    /// <summary>Current density of each region of the mesh, A/m²: windings and driven conductors.</summary>
    internal static double[] CurrentDensities(MeshedModel meshed)
    {
        var space = meshed.Space;
        var result = new double[space.Regions.Length];
        for (var w = 0; w < meshed.Model.Windings.Count; w++)
        {
            var current = StaticSystem.DirectCurrent(meshed.Model.Windings[w]);
            for (var r = 0; r < result.Length; r++) result[r] += current * meshed.Ports.TurnDensityOf(w, r);
        }
        for (var p = 0; p < meshed.Ports.Conductors.Count; p++)
        {
            var voltage = StaticSystem.DirectVoltage(meshed.Ports.Conductors[p], meshed.Ports.Conductance[p]);
            foreach (var region in meshed.Ports.Conductors[p].Regions)
                result[Array.IndexOf(space.Regions, region)] += voltage / meshed.Model.Depth * meshed.Model.MatterOf(region).Conductivity;
        }
        return result;
    }
}
