using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.ErrorEstimates;
using Fieldwright.Fields.Forces;
using Fieldwright.Fields.Harmonic;

namespace Fieldwright.Fields;

/// <summary>A magnetic field alternating at one frequency, with eddy currents in solid conductors. Phasors are peak values, exp(+jωt).</summary>
/// <remarks>
/// Steel with a BH curve is taken by the effective reluctivity of its fundamental: H₁/B for a sinusoidal B of the local amplitude √(|B_x|² + |B_y|²).
/// That keeps amplitude and phase of the fundamental right within some per cent in moderate saturation, ignores harmonics, hysteresis and
/// excess loss, and overstates saturation where the flux rotates. Magnets count by their recoil permeability only.
/// </remarks>
public sealed class HarmonicField : MagneticField
{
    private const int MostSteps = 200;
    private const double Tolerance = 1e-7;
    private const double ResidualTolerance = 1e-4;
    private const double MostLogarithm = 2;
    private const int AndersonDepth = 6;
    private const int F = ElementTables.Functions;
    private readonly HarmonicSystem system;

    private HarmonicField(MeshedModel meshed, HarmonicSystem system, Complex[] field, Complex[] ports, IReadOnlyList<double> history)
        : base(meshed, field, ports[..meshed.Model.Windings.Count], ports[meshed.Model.Windings.Count..])
    {
        this.system = system;
        SaturationSteps = history;
    }

    /// <summary>Relative change of the field in each step of the iteration on saturation; empty for linear matter.</summary>
    public IReadOnlyList<double> SaturationSteps { get; }

    internal HarmonicSystem System => system;

    /// <summary>Solves the harmonic field of a model on its mesh; the model's frequency must be positive.</summary>
    /// <param name="meshed">The model on its mesh.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="FieldNotConvergedException">The iteration on saturation did not settle.</exception>
    /// <exception cref="NetCurrentException">A long model carries a net current.</exception>
    public static HarmonicField Solve(MeshedModel meshed, CancellationToken cancellation = default) => Solve(meshed, (HarmonicField?)null, cancellation);

    /// <summary>The same, its iteration on saturation started from a field near by: one on a coarser mesh, or of other drives.</summary>
    /// <param name="meshed">The model on its mesh.</param>
    /// <param name="near">A field near the answer; where it knows nothing of a place, half a tesla is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static HarmonicField Solve(MeshedModel meshed, HarmonicField? near, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(meshed);
        if (!(meshed.Model.Frequency > 0)) throw new ArgumentException("A harmonic field is asked of a model without a frequency.", nameof(meshed));
        var materials = new MaterialTable(meshed.Model, meshed.Space);
        if (materials.IsLinear)
        {
            var system = new HarmonicSystem(meshed, []);
            var (field, ports) = system.SolveDriven();
            return new(meshed, system, field, ports, []);
        }
        return Saturate(meshed, materials, null, near, cancellation);
    }

    /// <summary>Solves the harmonic field together with a network outside it, of whatever kind, that sets the currents of the windings.</summary>
    /// <param name="meshed">The model on its mesh; its windings carry imposed currents, near the answer if they can be.</param>
    /// <param name="network">Peak phasor of each winding's current, A, for a field at the currents found so far, of which it may ask the <see cref="ImpedanceMatrix"/>.</param>
    /// <param name="near">A field near the answer from which the iteration starts; null for none.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The field, its windings driven by the currents found. Saturated steel and network are settled in one iteration.</returns>
    /// <exception cref="FieldNotConvergedException">The iteration on saturation did not settle.</exception>
    /// <exception cref="NetCurrentException">A long model carries a net current.</exception>
    public static HarmonicField Solve(MeshedModel meshed, Func<HarmonicField, IReadOnlyList<Complex>> network, HarmonicField? near = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(meshed);
        ArgumentNullException.ThrowIfNull(network);
        if (!(meshed.Model.Frequency > 0)) throw new ArgumentException("A harmonic field is asked of a model without a frequency.", nameof(meshed));
        return Saturate(meshed, new MaterialTable(meshed.Model, meshed.Space), network, near, cancellation);
    }

    /// <summary>Current of a winding, peak phasor, A.</summary>
    /// <param name="winding">Name of the winding.</param>
    public Complex Current(string winding) => WindingCurrents[WindingIndex(winding)];

    /// <summary>Flux linkage of a winding, peak phasor, Wb.</summary>
    /// <param name="winding">Name of the winding.</param>
    public Complex FluxLinkage(string winding) => LinkageOf(WindingIndex(winding));

    /// <summary>Voltage at the terminals of a winding, R·I + jωλ, peak phasor, V.</summary>
    /// <param name="winding">Name of the winding.</param>
    public Complex Voltage(string winding)
    {
        var w = WindingIndex(winding);
        return (Model.Windings[w].Resistance * WindingCurrents[w]) + (new Complex(0, Model.AngularFrequency) * LinkageOf(w));
    }

    /// <summary>Impedances between the windings with all eddy currents flowing, Ω, in the order of the model's windings: U = Z·I with peak phasors.
    /// Symmetric; the resistance of each wire is on the diagonal. For saturated steel: at the saturation of this solution.</summary>
    /// <param name="corrected">With what functions of order three add, if the model is linear and at rest and its currents imposed; as the field stands otherwise.</param>
    public Complex[,] ImpedanceMatrix(bool corrected = false)
    {
        var z = system.Impedances();
        if (!corrected || !Model.IsLinearAtRest || !Model.HasImposedCurrents) return z;
        var added = ErrorEstimate.LinkagesAdded(this);
        for (var i = 0; i < z.GetLength(0); i++)
            for (var j = 0; j < z.GetLength(1); j++) z[i, j] += new Complex(0, Model.AngularFrequency) * added[i, j];
        return z;
    }

    /// <summary>Net current of a solid conductor of a long model, or round about the axis in solid regions of a round one; peak phasor, A.</summary>
    /// <param name="regions">The regions summed.</param>
    public Complex NetCurrent(params IReadOnlyList<int> regions) => NetCurrentOf(regions);

    /// <summary>End-to-end voltage of the solid conductor a region belongs to, peak phasor, V, over the depth of a long model.</summary>
    /// <param name="region">A region of the conductor.</param>
    public Complex ConductorVoltage(int region) => Array.IndexOf(Meshed.Space.Region, region) is >= 0 and var e && Meshed.Ports.ConductorOf(e) is >= 0 and var p
        ? ConductorVoltages[p]
        : throw new ArgumentException($"Region {region} is not a solid conductor of a long model.", nameof(region));

    /// <summary>The part of the force on a body at twice the frequency, peak phasor, exp(+j2ωt), N.</summary>
    /// <param name="regions">The regions that make up the body.</param>
    public PlanePhasor DoubleFrequencyForce(params IReadOnlyList<int> regions)
    {
        var f = StressIntegral.Evaluate(this, Displacement(regions), default);
        return new(Model.Symmetry == Symmetry.Round ? 0 : f.DoubleX, f.DoubleY);
    }

    /// <summary>Mean power that the field carries into a body through the air round it, W, by Poynting's vector. It is the loss of a body at rest, and loss and mechanical power of one that moves:
    /// a check of both that shares no integral with them.</summary>
    /// <param name="regions">The regions that make up the body; it must not touch a winding or another conductor.</param>
    public double PowerInto(params IReadOnlyList<int> regions) => PoyntingIntegral.Evaluate(this, Displacement(regions));

    /// <summary>Vector potential A_φ or A_z, peak phasor, Wb/m.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public Complex VectorPotential(double x, double y) => At(x, y).A;

    /// <summary>Flux function, peak phasor, Wb: 2πr·A_φ when round, depth·A when long.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public Complex FluxFunction(double x, double y) => At(x, y).A * (Model.Symmetry == Symmetry.Round ? 2 * Math.PI * x : Model.Depth);

    /// <summary>Flux density, peak phasor, T.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public PlanePhasor FluxDensity(double x, double y) => At(x, y).B;

    /// <summary>Current density along φ or z, peak phasor, A/m², turns times current in a winding.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public Complex CurrentDensity(double x, double y) => CurrentDensityNear(x, y);

    /// <summary>Density of ohmic heat in a solid conductor, time mean, W/m³; zero elsewhere.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public double LossDensity(double x, double y)
    {
        if (!Meshed.Inside.TryLocate(x, y, out var e, out _, out _)) return 0;
        var sigma = Materials.Conductivity(e);
        var j = CurrentDensityNear(x, y);
        return sigma == 0 ? 0 : MeanProduct(j, j) / sigma;
    }

    /// <summary>Flux density averaged over the volume of a region, peak phasor, T.</summary>
    /// <param name="region">The region.</param>
    public PlanePhasor MeanFluxDensity(int region) => MeanFluxDensityOf(region);

    /// <summary>Flux through the surface swept by the straight line between two points, peak phasor, Wb, positive to the left of the way (upwards for
    /// a line going outwards from the axis).</summary>
    /// <param name="from">First point, m.</param>
    /// <param name="to">Second point, m.</param>
    public Complex Flux(PlaneVector from, PlaneVector to) => FluxBetween(from, to);

    /// <summary>The field of the same mesh, matter and frequency for other imposed currents, by superposition: no new factorisation.</summary>
    /// <param name="currents">Peak phasor of each winding, A, in the order of the model's windings; every drive of the result is an imposed current.</param>
    /// <exception cref="ArgumentException">The number of currents is wrong, or the matter saturates.</exception>
    public HarmonicField WithCurrents(IReadOnlyList<Complex> currents)
    {
        ArgumentNullException.ThrowIfNull(currents);
        if (currents.Count != Model.Windings.Count) throw new ArgumentException($"{Model.Windings.Count} currents are needed, {currents.Count} were given.", nameof(currents));
        if (!Materials.IsLinear) throw new ArgumentException("Fields in steel that saturates cannot be superposed.", nameof(currents));
        var meshed = Meshed.With(Imposed(Model, currents));
        var again = system.Redriven(meshed);
        var (field, ports) = again.SolveDriven();
        return new(meshed, again, field, ports, []);
    }

    internal override double MeanProduct(Complex a, Complex b) => 0.5 * ((a.Real * b.Real) + (a.Imaginary * b.Imaginary));

    internal override Complex Rate(Complex vectorPotential) => new Complex(0, Model.AngularFrequency) * vectorPotential;

    private protected override double MeanEnergyDensity(ReluctivityLaw law, double b) => 0.25 * law.Reluctivity(b) * b * b;

    /// <summary>Successive substitution on the logarithms of the effective reluctivities, accelerated; with a network, its currents follow from the impedances in every round.</summary>
    private static HarmonicField Saturate(MeshedModel meshed, MaterialTable materials, Func<HarmonicField, IReadOnlyList<Complex>>? network, HarmonicField? near, CancellationToken cancellation)
    {
        var space = meshed.Space;
        var values = new ElementValues();
        var nu = FirstReluctivities(space, materials, near, values);
        var history = new List<double>();
        var anderson = new Anderson(AndersonDepth);
        Complex[]? previous = null;
        double lastResidual = double.PositiveInfinity, share = 1;
        for (var step = 0; step < MostSteps; step++)
        {
            cancellation.ThrowIfCancellationRequested();
            var system = new HarmonicSystem(meshed, nu);
            if (network is not null)
            {
                var (trial, trialPorts) = system.SolveDriven();
                meshed = meshed.With(Imposed(meshed.Model, network(new(meshed, system, trial, trialPorts, history))));
                system = system.Redriven(meshed);
            }
            var (field, ports) = system.SolveDriven();
            var (points, logarithms, residual) = LawAgainst(meshed, materials, field, nu, values);
            var size = Math.Sqrt(residual.Sum(r => r * r) / Math.Max(1, residual.Length));
            if (previous is not null)
            {
                var change = RelativeChange(field, previous);
                history.Add(change);
                if (change < Tolerance && size < ResidualTolerance) return new(meshed, system, field, ports, history);
                if (!double.IsFinite(change)) break;
            }
            previous = field;
            if (size > 2 * lastResidual)
            {
                anderson.Restart();
                share = Math.Max(0.1, 0.5 * share);
            }
            lastResidual = size;
            var next = anderson.Next(logarithms, [.. residual.Select(r => share * r)]);
            for (var p = 0; p < points.Count; p++) nu[points[p]] = Math.Exp(logarithms[p] + Math.Clamp(next[p] - logarithms[p], -MostLogarithm, MostLogarithm));
        }
        throw new FieldNotConvergedException($"The effective reluctivities of saturated steel did not settle in {MostSteps} steps.", history);
    }

    private static double[] FirstReluctivities(FieldSpace space, MaterialTable materials, HarmonicField? near, ElementValues values)
    {
        var nu = new double[space.ElementCount * MaterialTable.PointsStored];
        for (var e = 0; e < space.InsideCount; e++)
        {
            var law = materials.Law(e);
            if (law.IsLinear) continue;
            Array.Fill(nu, law.Reluctivity(0.5), e * MaterialTable.PointsStored, MaterialTable.PointsStored);
            if (near is null) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
                if (near.Near(values.X[q], values.Y[q]) is { } b) nu[(e * MaterialTable.PointsStored) + q] = law.Reluctivity(b.Magnitude);
        }
        return nu;
    }

    /// <summary>Where nonlinear points are stored, the logarithm of the reluctivity each has, and what its law at the field found would add.</summary>
    private static (List<int> Points, double[] Logarithms, double[] Residual) LawAgainst(MeshedModel meshed, MaterialTable materials, Complex[] field, double[] nu, ElementValues values)
    {
        var space = meshed.Space;
        var points = new List<int>();
        List<double> logarithms = [], residual = [];
        for (var e = 0; e < space.InsideCount; e++)
        {
            var law = materials.Law(e);
            if (law.IsLinear) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                Complex bx = 0, by = 0;
                for (var i = 0; i < 6; i++)
                {
                    bx += field[space.Triangles[(6 * e) + i]] * values.Bx[(q * F) + i];
                    by += field[space.Triangles[(6 * e) + i]] * values.By[(q * F) + i];
                }
                var place = (e * MaterialTable.PointsStored) + q;
                points.Add(place);
                logarithms.Add(Math.Log(nu[place]));
                residual.Add(Math.Log(law.Reluctivity(new PlanePhasor(bx, by).Magnitude)) - logarithms[^1]);
            }
        }
        return (points, [.. logarithms], [.. residual]);
    }

    private static double RelativeChange(Complex[] field, Complex[] previous)
    {
        double difference = 0, size = 0;
        for (var n = 0; n < field.Length; n++)
        {
            difference += Square(field[n] - previous[n]);
            size += Square(field[n]);
        }
        return size > 0 ? Math.Sqrt(difference / size) : 0;

        static double Square(Complex z) => (z.Real * z.Real) + (z.Imaginary * z.Imaginary);
    }

    private static FieldModel Imposed(FieldModel model, IReadOnlyList<Complex> currents) =>
        model with { Windings = [.. model.Windings.Select((w, i) => w with { Drive = new ImposedCurrent(currents[i]) })] };
}
