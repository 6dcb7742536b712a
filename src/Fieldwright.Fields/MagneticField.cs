using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Forces;
using Fieldwright.Fields.Motion;
using Fieldwright.Geometry;

namespace Fieldwright.Fields;

/// <summary>A solved magnetic field: what static and harmonic fields have in common.</summary>
/// <remarks>Forces, losses and energies of a harmonic field are time means. Sums are over the whole turn of a round model and over the depth of a
/// long one. Immutable; threads may share it.</remarks>
public abstract class MagneticField
{
    private const int F = ElementTables.Functions;
    private protected MagneticField(MeshedModel meshed, Complex[] nodal, Complex[] windingCurrents, Complex[] conductorVoltages, bool netCurrentKnown = false)
    {
        Meshed = meshed;
        Nodal = nodal;
        WindingCurrents = windingCurrents;
        ConductorVoltages = conductorVoltages;
        Materials = new MaterialTable(meshed.Model, meshed.Space);
        if (meshed.Model is { Symmetry: Symmetry.Long, Edges: not { SignTurns: true } } && !netCurrentKnown) CheckNetCurrent();
    }

    /// <summary>The mesh and the model that were solved on it.</summary>
    public MeshedModel Meshed { get; }

    /// <summary>The model.</summary>
    public FieldModel Model => Meshed.Model;

    /// <summary>The mesh inside the rim.</summary>
    public Mesh Mesh => Meshed.Mesh;

    /// <summary>Number of unknowns of the field.</summary>
    public int UnknownCount => Meshed.UnknownCount;

    /// <summary>Whether no matter in it saturates, so that the field of other currents is a sum of what each gives.</summary>
    public bool IsLinear => Materials.IsLinear;

    /// <summary>Energy of the whole field, open space included, J: ∫∫H dB with zero where H is zero, so that a magnet counts ½μH².</summary>
    public double Energy => energy ??= SumEnergy();

    /// <summary>Ohmic heat in all solid conductors, W.</summary>
    public double SolidLoss => Loss([.. Model.Parts.Select(p => p.Region).Distinct()]);

    /// <summary>Ohmic heat in the wire of all windings, W.</summary>
    public double TotalWindingLoss => Model.Windings.Sum(w => WindingLoss(w.Name));

    internal Complex[] Nodal { get; }

    internal Complex[] WindingCurrents { get; }

    internal Complex[] ConductorVoltages { get; }

    internal MaterialTable Materials { get; }

    private double? energy;

    /// <summary>Force on a body by virtual work, N: time mean in a harmonic field. Round: X is zero, Y is along z.</summary>
    /// <param name="regions">The regions that make up the body.</param>
    /// <exception cref="ArgumentException">A region is not a part of the model.</exception>
    public PlaneVector Force(params IReadOnlyList<int> regions)
    {
        var f = StressIntegral.Evaluate(this, Displacement(regions), default);
        return new(Model.Symmetry == Symmetry.Round ? 0 : f.X, f.Y);
    }

    /// <summary>Force on a piece of a body that stays joined to the rest, N, by virtual work: the stress in the matter counts where they join, no crack is opened there. Time mean in a harmonic field. Round: X is zero, Y is along z.</summary>
    /// <param name="regions">The regions that make up the piece.</param>
    /// <exception cref="ArgumentException">A region is not a part of the model.</exception>
    public PlaneVector ForceOnPiece(params IReadOnlyList<int> regions)
    {
        var f = StressIntegral.Evaluate(this, Displacement(regions).Joined(), default);
        return new(Model.Symmetry == Symmetry.Round ? 0 : f.X, f.Y);
    }

    /// <summary>Torque on a body of a long model by virtual work, N·m, counter-clockwise: time mean in a harmonic field.</summary>
    /// <param name="about">The point it is taken about, m.</param>
    /// <param name="regions">The regions that make up the body.</param>
    /// <exception cref="ArgumentException">The model is round, or a region is not a part of it.</exception>
    public double Torque(PlaneVector about, params IReadOnlyList<int> regions)
    {
        if (Model.Symmetry == Symmetry.Round) throw new ArgumentException("Torque in the plane is asked of long models only.", nameof(about));
        return StressIntegral.Evaluate(this, Displacement(regions), about).Torque;
    }

    /// <summary>Force on the currents of a body as ∫J×B dV, N: the force on the body if nothing in it is magnetic. A check of <see cref="Force"/>, less accurate.</summary>
    /// <param name="regions">The regions that make up the body.</param>
    public PlaneVector CurrentForce(params IReadOnlyList<int> regions)
    {
        double fx = 0, fy = 0;
        var sign = StressIntegral.CurrentSense(Model.Symmetry);
        EachPoint(regions, (e, q, values) =>
        {
            var b = FluxDensityAt(e, q, values);
            var j = CurrentDensityAt(e, q, values);
            fx -= sign * values.Weight[q] * MeanProduct(j, b.Y);
            fy += sign * values.Weight[q] * MeanProduct(j, b.X);
        });
        return new(Model.Symmetry == Symmetry.Round ? 0 : fx, fy);
    }

    /// <summary>Ohmic heat of the currents in solid conducting regions, W.</summary>
    /// <param name="regions">The regions summed.</param>
    public double Loss(params IReadOnlyList<int> regions)
    {
        var sum = 0.0;
        EachPoint(regions, (e, q, values) =>
        {
            var sigma = Materials.Conductivity(e);
            if (sigma == 0) return;
            var j = SolidCurrentDensity(e, q, values);
            sum += values.Weight[q] * MeanProduct(j, j) / sigma;
        });
        return sum;
    }

    /// <summary>Ohmic heat of the currents in solid conducting regions where it is made: one point a triangle, in the middle of its heat.</summary>
    /// <param name="regions">The regions.</param>
    public IReadOnlyList<PointHeat> LossPoints(params IReadOnlyList<int> regions)
    {
        var points = new List<PointHeat>();
        var (last, watts, x, y) = (-1, 0.0, 0.0, 0.0);
        void Close()
        {
            if (watts > 0) points.Add(new(x / watts, y / watts, watts));
            (watts, x, y) = (0, 0, 0);
        }

        EachPoint(regions, (e, q, values) =>
        {
            if (e != last) Close();
            last = e;
            var sigma = Materials.Conductivity(e);
            if (sigma == 0) return;
            var j = SolidCurrentDensity(e, q, values);
            var p = values.Weight[q] * MeanProduct(j, j) / sigma;
            (watts, x, y) = (watts + p, x + (p * values.X[q]), y + (p * values.Y[q]));
        });
        Close();
        return points;
    }

    /// <summary>Ohmic heat in the wire of a winding, W, from its resistance.</summary>
    /// <param name="winding">Name of the winding.</param>
    public double WindingLoss(string winding)
    {
        var w = WindingIndex(winding);
        return MeanProduct(WindingCurrents[w], WindingCurrents[w]) * Model.Windings[w].Resistance;
    }

    /// <summary>Volume of a region, m³.</summary>
    /// <param name="region">The region.</param>
    public double Volume(int region)
    {
        var sum = 0.0;
        EachPoint([region], (_, q, values) => sum += values.Weight[q]);
        return sum;
    }

    /// <summary>Largest flux density at any quadrature point of a region, T: at its peak in time in a harmonic field.</summary>
    /// <param name="region">The region.</param>
    public double PeakFluxDensity(int region)
    {
        var peak = 0.0;
        EachPoint([region], (e, q, values) =>
        {
            peak = Math.Max(peak, FluxDensityAt(e, q, values).Peak);
        });
        return peak;
    }

    /// <summary>Flux function at each node of <see cref="Mesh"/>, Wb, whose lines of equal value are lines of flux: 2πr·A_φ when round, depth·A when long.</summary>
    public Complex[] NodalFluxFunction()
    {
        var result = new Complex[Mesh.NodeCount];
        for (var n = 0; n < result.Length; n++)
        {
            var r = Meshed.Space.Coordinates[2 * n];
            result[n] = Nodal[n] * (Model.Symmetry == Symmetry.Round ? 2 * Math.PI * r * r : Model.Depth);
        }
        return result;
    }

    /// <summary>What was solved for at each node of <see cref="Mesh"/>, Wb/m² or Wb/m: A_φ/r when round, which is half the flux density on the axis, A_z when long; peak phasors, real where the field stands still.</summary>
    public ReadOnlySpan<Complex> NodalUnknown => Nodal.AsSpan(0, Mesh.NodeCount);

    /// <summary>Visits the middle of every triangle of <see cref="Mesh"/>, in their order.</summary>
    /// <param name="visit">Takes the triangle's number, A_φ or A_z in Wb/m, the flux density in T and the current density in A/m², turns times current in a winding; peak phasors, real where the field stands still.</param>
    public void EachMiddle(Action<int, Complex, PlanePhasor, Complex> visit)
    {
        ArgumentNullException.ThrowIfNull(visit);
        var values = new ElementValues();
        for (var e = 0; e < Meshed.Space.InsideCount; e++)
        {
            values.EvaluateAt(Meshed.Space, e, 1.0 / 3, 1.0 / 3);
            visit(e, Potential(e, 0, values), FluxDensityAt(e, 0, values), CurrentDensityAt(e, 0, values));
        }
    }

    /// <summary>Mean over time of the product of two quantities of this field.</summary>
    internal abstract double MeanProduct(Complex a, Complex b);

    /// <summary>Time derivative of the vector potential.</summary>
    internal abstract Complex Rate(Complex vectorPotential);

    /// <summary>Time derivative of the vector potential that moves with the matter, at quadrature point q of triangle e.</summary>
    private protected virtual Complex RateAt(int e, int q, ElementValues values) => Rate(Potential(e, q, values));

    /// <summary>Mean energy density at a point for a given flux density and law.</summary>
    private protected abstract double MeanEnergyDensity(ReluctivityLaw law, double b);

    internal VirtualDisplacement Displacement(IReadOnlyList<int> regions)
    {
        ArgumentNullException.ThrowIfNull(regions);
        var key = string.Join(',', regions.Order());
        return Meshed.Space.Displacements.GetOrAdd(key, _ => VirtualDisplacement.Of(Meshed, regions));
    }

    /// <summary>Everything about the field at quadrature point q of triangle e.</summary>
    internal LocalField Local(int e, int q, ElementValues values)
    {
        var (bx, by) = FluxDensityAt(e, q, values);
        var law = Materials.Law(e);
        var magnitude = new PlanePhasor(bx, by).Magnitude;
        var nu = law.Reluctivity(magnitude);
        Complex hx = nu * bx, hy = nu * by;
        double density;
        if (Materials.Matter(e) is { IsMagnet: true } magnet)
        {
            hx -= nu * magnet.Remanence.X;
            hy -= nu * magnet.Remanence.Y;
            density = MeanEnergyDensity(law, new PlanePhasor(hx, hy).Magnitude / nu);
        }
        else
        {
            density = MeanEnergyDensity(law, magnitude);
        }
        return new(bx, by, hx, hy, density);
    }

    internal Complex Potential(int e, int q, ElementValues values)
    {
        Complex a = 0;
        var nodes = Meshed.Space.Triangles.AsSpan(6 * e, 6);
        for (var i = 0; i < 6; i++) a += Nodal[nodes[i]] * values.A[(q * F) + i];
        return a;
    }

    internal PlanePhasor FluxDensityAt(int e, int q, ElementValues values)
    {
        Complex bx = 0, by = 0;
        var nodes = Meshed.Space.Triangles.AsSpan(6 * e, 6);
        for (var i = 0; i < 6; i++)
        {
            bx += Nodal[nodes[i]] * values.Bx[(q * F) + i];
            by += Nodal[nodes[i]] * values.By[(q * F) + i];
        }
        return new(bx, by);
    }

    internal Complex SolidCurrentDensity(int e, int q, ElementValues values)
    {
        var sigma = Materials.Conductivity(e);
        if (sigma == 0) return 0;
        var voltage = Meshed.Ports.ConductorOf(e) is >= 0 and var p ? ConductorVoltages[p] / Model.Depth : 0;
        var electric = voltage - RateAt(e, q, values);
        if (Materials.Motion(e) is { } motion)
        {
            var b = FluxDensityAt(e, q, values);
            electric += MotionTerm.Electromotive(Model.Symmetry, motion.At(values.X[q], values.Y[q]), b.X, b.Y);
        }
        return sigma * electric;
    }

    internal int WindingIndex(string name)
    {
        for (var w = 0; w < Model.Windings.Count; w++)
            if (Model.Windings[w].Name == name) return w;
        throw new ArgumentException($"There is no winding called {name}; there are: {string.Join(", ", Model.Windings.Select(w => w.Name))}.", nameof(name));
    }

    internal Complex LinkageOf(int w) => NodeVectors.Dot(Meshed.Ports.Windings[w], Nodal);

    /// <summary>Potential and flux density anywhere, outside the rim too, and the triangle the point was found in.</summary>
    private protected (Complex A, PlanePhasor B, int Element) At(double x, double y)
    {
        Numerics.Guard.Finite(x, nameof(x));
        Numerics.Guard.Finite(y, nameof(y));
        if (Model.Symmetry == Symmetry.Round) Numerics.Guard.NotNegative(x, nameof(x));
        var values = new ElementValues();
        var space = Meshed.Space;
        double dx = x - space.Centre.X, dy = y - space.Centre.Y;
        var square = (dx * dx) + (dy * dy);
        var outside = square > space.Radius * space.Radius;
        var scale = outside ? space.Radius * space.Radius / square : 1;
        var locator = outside ? Meshed.Outside : Meshed.Inside;
        if (!locator.TryLocate(space.Centre.X + (scale * dx), space.Centre.Y + (scale * dy), out var e, out var xi, out var eta))
            throw new InvalidOperationException($"No triangle was found for a point inside the rim.");
        values.EvaluateAt(space, e, xi, eta);
        Complex u = 0, ux = 0, uy = 0;
        Span<double> shape = stackalloc double[F], gx = stackalloc double[F], gy = stackalloc double[F];
        ElementTables.Evaluate(xi, eta, shape, gx, gy);
        for (var i = 0; i < 6; i++)
        {
            var value = Nodal[space.Triangles[(6 * e) + i]];
            u += value * shape[i];
            ux += value * values.Nx[i];
            uy += value * values.Ny[i];
        }
        if (outside)
        {
            // gradient carried through x' = R²x/ρ²: scale·(I − 2 d dᵀ/ρ²), and for round the factor (R/ρ)³
            var along = ((dx * ux) + (dy * uy)) * 2 / square;
            (ux, uy) = (scale * (ux - (along * dx)), scale * (uy - (along * dy)));
            if (Model.Symmetry == Symmetry.Round)
            {
                var factor = Math.Pow(scale, 1.5);
                ux = factor * (ux - (3 * dx / square * u));
                uy = factor * (uy - (3 * dy / square * u));
                u *= factor;
            }
        }
        return Model.Symmetry == Symmetry.Round
            ? (x * u, new(-x * uy, (2 * u) + (x * ux)), e)
            : (u, new(uy, -ux), e);
    }

    /// <summary>Flux density at a point inside the rim; null if no triangle is there.</summary>
    internal PlanePhasor? Near(double x, double y)
    {
        if (!Meshed.Inside.TryLocate(x, y, out var e, out var xi, out var eta)) return null;
        var values = new ElementValues();
        values.EvaluateAt(Meshed.Space, e, xi, eta);
        return FluxDensityAt(e, 0, values);
    }

    private protected Complex CurrentDensityNear(double x, double y)
    {
        var space = Meshed.Space;
        if (double.Hypot(x - space.Centre.X, y - space.Centre.Y) > space.Radius) return 0;
        if (!Meshed.Inside.TryLocate(x, y, out var e, out var xi, out var eta)) return 0;
        var values = new ElementValues();
        values.EvaluateAt(space, e, xi, eta);
        return CurrentDensityAt(e, 0, values);
    }

    private protected PlanePhasor MeanFluxDensityOf(int region)
    {
        Complex x = 0, y = 0;
        var volume = 0.0;
        EachPoint([region], (e, q, values) =>
        {
            var b = FluxDensityAt(e, q, values);
            var w = values.Weight[q];
            x += w * b.X;
            y += w * b.Y;
            volume += w;
        });
        return new(x / volume, y / volume);
    }

    private protected Complex FluxBetween(PlaneVector from, PlaneVector to)
    {
        var start = At(from.X, from.Y).A;
        var end = At(to.X, to.Y).A;
        return Model.Symmetry == Symmetry.Round ? 2 * Math.PI * ((to.X * end) - (from.X * start)) : Model.Depth * (start - end);
    }

    private protected Complex NetCurrentOf(IReadOnlyList<int> regions)
    {
        Complex sum = 0;
        var around = Model.Symmetry == Symmetry.Round;
        EachPoint(regions, (e, q, values) => sum += SolidCurrentDensity(e, q, values) * (values.Weight[q] / (around ? 2 * Math.PI * values.X[q] : Model.Depth)));
        return sum;
    }

    internal void EachPoint(IReadOnlyList<int> regions, Action<int, int, ElementValues> visit)
    {
        ArgumentNullException.ThrowIfNull(regions);
        var space = Meshed.Space;
        var wanted = regions.ToHashSet();
        foreach (var region in wanted)
            if (!Meshed.Ports.RegionArea.ContainsKey(region)) throw new ArgumentException($"Region {region} is not a part of the model.", nameof(regions));
        var values = new ElementValues();
        for (var e = 0; e < space.InsideCount; e++)
        {
            if (!wanted.Contains(space.Region[e])) continue;
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++) visit(e, q, values);
        }
    }

    internal Complex CurrentDensityAt(int e, int q, ElementValues values)
    {
        var j = SolidCurrentDensity(e, q, values);
        for (var w = 0; w < WindingCurrents.Length; w++) j += Meshed.Ports.TurnDensity(w, e) * WindingCurrents[w];
        return j;
    }

    private double SumEnergy()
    {
        var space = Meshed.Space;
        var sum = 0.0;
        var values = new ElementValues();
        for (var e = 0; e < space.ElementCount; e++)
        {
            var law = Materials.Law(e);
            if (law.IsLinear && !Materials.Matter(e).IsMagnet)
            {
                var nodes = space.Triangles.AsSpan(6 * e, 6);
                var k = Meshed.Matrices.Stiffness.AsSpan(e * ElementMatrices.Entries, ElementMatrices.Entries);
                var quadratic = 0.0;
                var n = 0;
                for (var i = 0; i < 6; i++)
                    for (var j = 0; j <= i; j++)
                        quadratic += k[n++] * MeanProduct(Nodal[nodes[i]], Nodal[nodes[j]]) * (i == j ? 1 : 2);
                sum += 0.5 * law.Reluctivity(0) * quadratic;
                continue;
            }
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++) sum += values.Weight[q] * Local(e, q, values).EnergyDensity;
        }
        return sum;
    }

    private void CheckNetCurrent()
    {
        Complex net = 0;
        double gross = 0;
        for (var w = 0; w < WindingCurrents.Length; w++)
            foreach (var side in Model.Windings[w].Sides) Count(side.Turns * WindingCurrents[w]);
        for (var p = 0; p < Meshed.Ports.Conductors.Count; p++)
            if (Meshed.Ports.Conductors[p].Drive is not OpenCircuit) Count(NetCurrentOf(Meshed.Ports.Conductors[p].Regions));
        if (Complex.Abs(net) > 1e-6 * gross) throw new NetCurrentException(Complex.Abs(net));

        void Count(Complex current)
        {
            net += current;
            gross += Complex.Abs(current);
        }
    }
}

/// <summary>Field at one quadrature point; the energy density is a time mean, J/m³.</summary>
internal readonly record struct LocalField(Complex Bx, Complex By, Complex Hx, Complex Hy, double EnergyDensity);
