using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.ErrorEstimates;
using Fieldwright.Fields.Motion;
using Fieldwright.Fields.Static;

namespace Fieldwright.Fields;

/// <summary>A static magnetic field: direct currents, magnets, nonlinear steel.</summary>
/// <remarks>Conducting regions carry current where a <see cref="SolidConductor"/> drives them or where they move through the field
/// (<see cref="FieldModel.Motion"/>; linear matter then).</remarks>
public sealed class StaticField : MagneticField
{
    private readonly StaticSolution system;

    private StaticField(MeshedModel meshed, StaticSolution system)
        : base(meshed, [.. system.Field.Select(v => new Complex(v, 0))], [.. system.WindingCurrents.Select(v => new Complex(v, 0))], [.. system.ConductorVoltages.Select(v => new Complex(v, 0))]) =>
        this.system = system;

    /// <summary>Relative length of each Newton step, in the energy norm; empty for a linear model.</summary>
    public IReadOnlyList<double> NewtonSteps => system.History;

    /// <summary>Coenergy of the whole field, J: Σ I·λ less <see cref="MagneticField.Energy"/>. Its slope against a displacement at held currents is the force.</summary>
    public double Coenergy => Model.Windings.Select((_, w) => WindingCurrents[w].Real * LinkageOf(w).Real).Sum() + ConductorLinkage() - Energy;

    internal StaticSolution System => system;

    /// <summary>Solves the static field of a model on its mesh; the model's frequency must be zero.</summary>
    /// <param name="meshed">The model on its mesh.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="FieldNotConvergedException">Newton's method did not settle.</exception>
    /// <exception cref="NetCurrentException">A long model carries a net current.</exception>
    public static StaticField Solve(MeshedModel meshed, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(meshed);
        if (meshed.Model.Frequency != 0) throw new ArgumentException("A static field is asked of a model with a frequency.", nameof(meshed));
        return new(meshed, MotionTerm.Of(meshed) is null ? new StaticSystem(meshed, cancellation) : new MovingStaticSystem(meshed));
    }

    /// <summary>Current of a winding, A.</summary>
    /// <param name="winding">Name of the winding.</param>
    public double Current(string winding) => WindingCurrents[WindingIndex(winding)].Real;

    /// <summary>Flux linkage of a winding, Wb, positive along its positive sense.</summary>
    /// <param name="winding">Name of the winding.</param>
    public double FluxLinkage(string winding) => LinkageOf(WindingIndex(winding)).Real;

    /// <summary>Incremental inductances ∂λ_i/∂I_j at this working point, H, in the order of the model's windings; symmetric.
    /// For linear matter these are the inductances.</summary>
    /// <param name="corrected">With what functions of order three add, if the model is linear and its currents imposed; as the field stands otherwise.</param>
    public double[,] InductanceMatrix(bool corrected = false)
    {
        var n = Model.Windings.Count;
        var result = new double[n, n];
        for (var j = 0; j < n; j++)
        {
            var response = system.SolveTangent(Meshed.Ports.Windings[j]);
            for (var i = 0; i < n; i++) result[i, j] = NodeVectors.Dot(Meshed.Ports.Windings[i], response);
        }
        if (!corrected || !Model.IsLinearAtRest || !Model.HasImposedCurrents) return result;
        var added = ErrorEstimate.LinkagesAdded(this);
        for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++) result[i, j] += added[i, j].Real;
        return result;
    }

    /// <summary>Vector potential A_φ or A_z, Wb/m.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public double VectorPotential(double x, double y) => At(x, y).A.Real;

    /// <summary>Flux function, Wb: 2πr·A_φ when round, depth·A when long.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public double FluxFunction(double x, double y) => At(x, y).A.Real * (Model.Symmetry == Symmetry.Round ? 2 * Math.PI * x : Model.Depth);

    /// <summary>Flux density, T.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public PlaneVector FluxDensity(double x, double y)
    {
        var b = At(x, y).B;
        return new(b.X.Real, b.Y.Real);
    }

    /// <summary>Current density along φ or z, A/m², turns times current in a winding.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public double CurrentDensity(double x, double y) => CurrentDensityNear(x, y).Real;

    /// <summary>Flux density averaged over the volume of a region, T.</summary>
    /// <param name="region">The region.</param>
    public PlaneVector MeanFluxDensity(int region)
    {
        var b = MeanFluxDensityOf(region);
        return new(b.X.Real, b.Y.Real);
    }

    /// <summary>Flux through the surface swept by the straight line between two points, Wb, positive to the left of the way (upwards for a
    /// line going outwards from the axis).</summary>
    /// <param name="from">First point, m.</param>
    /// <param name="to">Second point, m.</param>
    public double Flux(PlaneVector from, PlaneVector to) => FluxBetween(from, to).Real;

    /// <summary>Least field strength along the remanence in each magnet with a known knee, against that knee: regions where it is crossed.</summary>
    /// <returns>Region, lowest field strength along the remanence in A/m, share of the magnet's volume that lies beyond its knee.</returns>
    public IReadOnlyList<(int Region, double LeastFieldStrength, double ShareBeyondKnee)> MagnetsBeyondKnee()
    {
        var result = new List<(int, double, double)>();
        foreach (var region in Model.Parts.Select(p => p.Region).Distinct())
        {
            var matter = Model.MatterOf(region);
            if (!matter.IsMagnet || matter.KneeFieldStrength is not { } knee) continue;
            double least = double.PositiveInfinity, volume = 0, beyond = 0;
            EachPoint([region], (e, q, values) =>
            {
                var p = Local(e, q, values);
                var along = ((p.Hx.Real * matter.Remanence.X) + (p.Hy.Real * matter.Remanence.Y)) / matter.Remanence.Magnitude;
                least = Math.Min(least, along);
                volume += values.Weight[q];
                if (along < knee) beyond += values.Weight[q];
            });
            if (beyond > 0) result.Add((region, least, beyond / volume));
        }
        return result;
    }

    internal override double MeanProduct(Complex a, Complex b) => a.Real * b.Real;

    internal override Complex Rate(Complex vectorPotential) => 0;

    private protected override double MeanEnergyDensity(ReluctivityLaw law, double b) => law.EnergyDensity(b);

    private double ConductorLinkage()
    {
        var sum = 0.0;
        for (var p = 0; p < ConductorVoltages.Length; p++)
            if (ConductorVoltages[p] != 0) sum += ConductorVoltages[p].Real * NodeVectors.Dot(Meshed.Ports.ConductorLoads[p], Nodal).Real;
        return sum;
    }
}
