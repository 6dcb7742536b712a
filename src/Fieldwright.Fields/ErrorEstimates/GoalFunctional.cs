using System.Numerics;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Forces;
using Fieldwright.Fields.Motion;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>Factors of A and of B at a single point.</summary>
internal readonly record struct PointLoad(int Element, double Xi, double Eta, Complex A, Complex Bx, Complex By)
{
    /// <summary>The load on function i, its values there being at hand.</summary>
    public Complex On(ElementValues values, int i) => (A * values.A[i]) + (Bx * values.Bx[i]) + (By * values.By[i]);
}

/// <summary>Derivative of a goal at a solved field: J'(v) = Σ weight·(Jx·B_x(v) + Jy·B_y(v) + Ja·A(v)) + points + ports, bilinear in phasors.</summary>
internal abstract class GoalFunctional(MagneticField field)
{
    protected MagneticField Field { get; } = field;

    /// <summary>The goal's value.</summary>
    public abstract double Value { get; }

    /// <summary>The value with its phase, where it has one.</summary>
    public virtual Complex Phasor => Value;

    /// <summary>True if the value is the real part of J, false if it is the size of a complex J.</summary>
    public virtual bool IsReal => true;

    /// <summary>True if the goal has a part quadratic in a change of the field.</summary>
    public virtual bool IsQuadratic => false;

    /// <summary>Derivative with respect to winding currents and conductor voltages at held field; null if none.</summary>
    public virtual Complex[]? Ports => null;

    /// <summary>What the goal takes from single points.</summary>
    public virtual IReadOnlyList<PointLoad> Points => [];

    /// <summary>Factor of the field's conjugate in the rim term of the mapped outside, over its reluctivity: zero unless the goal takes in all space.</summary>
    public virtual double Rim => 0;

    /// <summary>Whether the densities of a triangle may differ from zero.</summary>
    public abstract bool Touches(int element);

    public abstract (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values);

    /// <summary>Density of the part of the goal that is quadratic in a small change of the field (bx, by, a); zero for linear goals.</summary>
    public virtual double Quadratic(int element, int q, ElementValues values, Complex bx, Complex by, Complex a) => 0;

    /// <summary>Factor m with mean product = Re(m·a*·b).</summary>
    protected double Mean => Field is HarmonicField ? 0.5 : 1;

    protected double Reluctivity(int element, int q, ElementValues values)
    {
        var law = Field.Materials.Law(element);
        if (law.IsLinear) return law.Reluctivity(0);
        var p = Field.Local(element, q, values);
        return law.Reluctivity(new PlanePhasor(p.Bx, p.By).Magnitude);
    }

    public static GoalFunctional Of(MagneticField field, Goal goal) => goal switch
    {
        ForceGoal g => new ForceFunctional(field, g),
        LossGoal g => new LossFunctional(field, g),
        EnergyGoal => new EnergyFunctional(field),
        FluxLinkageGoal g => new LinkageFunctional(field, field.WindingIndex(g.Winding)),
        CurrentGoal g => new CurrentFunctional(field, field.WindingIndex(g.Winding)),
        MeanFluxDensityGoal g => new MeanFluxDensityFunctional(field, g),
        FluxGoal g => new FluxFunctional(field, g),
        _ => throw new ArgumentException($"No field answers goals of the kind {goal.GetType().Name}.", nameof(goal)),
    };

    protected PlaneVector Velocity(int element, int q, ElementValues values) => Field.Materials.Motion(element)?.At(values.X[q], values.Y[q]) ?? default;

    /// <summary>Signed in a static field, size in a harmonic one.</summary>
    protected double Read(Complex value) => Field is HarmonicField ? Complex.Abs(value) : value.Real;
}

internal sealed class ForceFunctional : GoalFunctional
{
    private readonly ForceGoal goal;
    private readonly VirtualDisplacement displacement;
    private readonly HashSet<int> stretched;
    private readonly List<PointLoad> faces = [];
    private readonly Complex[] ports;
    private readonly double sense;

    public ForceFunctional(MagneticField field, ForceGoal goal)
        : base(field)
    {
        if (field.Model.Symmetry == Symmetry.Round && goal.Component != ForceComponent.Y)
            throw new ArgumentException($"Goal {goal.Name}: a round model has a net force along z only.", nameof(goal));
        this.goal = goal;
        displacement = field.Displacement(goal.Regions);
        stretched = [.. displacement.Elements];
        var force = StressIntegral.Evaluate(field, displacement, goal.About);
        Value = goal.Component switch { ForceComponent.X => force.X, ForceComponent.Y => force.Y, _ => force.Torque };
        sense = StressIntegral.CurrentSense(field.Model.Symmetry);
        var values = new ElementValues();
        foreach (var face in ContactFaces.Points(field, displacement))
        {
            values.EvaluateAt(field.Meshed.Space, face.Element, face.Xi, face.Eta);
            var (ex, ey) = Direction(0, values);
            var (x, y) = ContactFaces.Slope(face, field.Local(face.Element, 0, values), Reluctivity(face.Element, 0, values));
            var factor = Mean * face.Area * ((face.Nx * ex) + (face.Ny * ey));
            faces.Add(new(face.Element, face.Xi, face.Eta, 0, factor * x, factor * y));
        }
        ports = new Complex[field.WindingCurrents.Length + field.ConductorVoltages.Length];
        foreach (var e in displacement.Elements)
            if (field.Meshed.Space.Region[e] != 0) AddPorts(e, values);
    }

    public override Complex[]? Ports => ports;

    public override IReadOnlyList<PointLoad> Points => faces;

    public override double Value { get; }

    public override bool IsQuadratic => true;

    public override bool Touches(int element) => stretched.Contains(element);

    public override (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values)
    {
        var p = Field.Local(element, q, values);
        var (g, gx, gy) = StressIntegral.Weight(Field.Meshed.Space, element, q, values, displacement.NodeWeights);
        var (ex, ey) = Direction(q, values);
        var nu = Reluctivity(element, q, values);
        var along = (ex * gx) + (ey * gy);
        var s = Complex.Conjugate((p.Hx * gy) - (p.Hy * gx));
        var across = Complex.Conjugate((ex * p.By) - (ey * p.Bx)) * nu;
        // −γ·e·(J×B) of other matter that is touched, J too being a function of the field
        var j = sense * g * Complex.Conjugate(Field.CurrentDensityAt(element, q, values));
        var carried = CarriedForce(element, g, p, ex, ey);
        var v = Velocity(element, q, values);
        return (
            -Mean * ((Complex.Conjugate(p.Hx) * along) - (ey * s) + (across * gy) + (ey * j) + (carried * MotionTerm.Electromotive(Field.Model.Symmetry, v, 1.0, 0.0))),
            -Mean * ((Complex.Conjugate(p.Hy) * along) + (ex * s) - (across * gx) - (ex * j) + (carried * MotionTerm.Electromotive(Field.Model.Symmetry, v, 0.0, 1.0))),
            Mean * carried * Field.Rate(Complex.One));
    }

    public override double Quadratic(int element, int q, ElementValues values, Complex bx, Complex by, Complex a)
    {
        var (g, gx, gy) = StressIntegral.Weight(Field.Meshed.Space, element, q, values, displacement.NodeWeights);
        var (ex, ey) = Direction(q, values);
        var magnitude = new PlanePhasor(bx, by).Magnitude;
        var current = sense * g * Field.Materials.Conductivity(element) * (MotionTerm.Electromotive(Field.Model.Symmetry, Velocity(element, q, values), bx, by) - Field.Rate(a));
        return -(Reluctivity(element, q, values) * ((0.5 * Mean * magnitude * magnitude * ((ex * gx) + (ey * gy)))
            + Field.MeanProduct((ex * by) - (ey * bx), (bx * gy) - (by * gx)))) - Field.MeanProduct(current, (ey * bx) - (ex * by));
    }

    /// <summary>Derivative of e·(γ·J×B) with respect to the electric field that drives J, over m, phasors conjugate.</summary>
    private Complex CarriedForce(int element, double g, in LocalField p, double ex, double ey) =>
        sense * g * Field.Materials.Conductivity(element) * Complex.Conjugate((ey * p.Bx) - (ex * p.By));

    private void AddPorts(int e, ElementValues values)
    {
        var (meshed, windings) = (Field.Meshed, Field.WindingCurrents.Length);
        values.Evaluate(meshed.Space, e, meshed.Space.TablesFor(e, true, false));
        for (var q = 0; q < values.Points; q++)
        {
            var p = Field.Local(e, q, values);
            var (g, _, _) = StressIntegral.Weight(meshed.Space, e, q, values, displacement.NodeWeights);
            var (ex, ey) = Direction(q, values);
            var each = -Mean * values.Weight[q];
            for (var w = 0; w < windings; w++) ports[w] += each * meshed.Ports.TurnDensity(w, e) * sense * g * Complex.Conjugate((ey * p.Bx) - (ex * p.By));
            if (meshed.Ports.ConductorOf(e) is >= 0 and var c) ports[windings + c] += each / Field.Model.Depth * CarriedForce(e, g, p, ex, ey);
        }
    }

    private (double X, double Y) Direction(int q, ElementValues values) => goal.Component switch
    {
        ForceComponent.X => (1, 0),
        ForceComponent.Y => (0, 1),
        _ => (-(values.Y[q] - goal.About.Y), values.X[q] - goal.About.X),
    };
}

internal sealed class LossFunctional : GoalFunctional
{
    private readonly HashSet<int> regions;
    private readonly Complex[] ports;

    public LossFunctional(MagneticField field, LossGoal goal)
        : base(field)
    {
        regions = [.. goal.Regions];
        Value = field.Loss(goal.Regions);
        ports = new Complex[field.WindingCurrents.Length + field.ConductorVoltages.Length];
        field.EachPoint(goal.Regions, (e, q, values) =>
        {
            var p = field.Meshed.Ports.ConductorOf(e);
            if (p < 0) return;
            ports[field.WindingCurrents.Length + p] += values.Weight[q] * 2 * Mean / field.Model.Depth * Complex.Conjugate(field.SolidCurrentDensity(e, q, values));
        });
    }

    public override double Value { get; }

    public override bool IsQuadratic => true;

    public override Complex[]? Ports => ports;

    public override bool Touches(int element) => regions.Contains(Field.Meshed.Space.Region[element]) && Field.Materials.Conductivity(element) > 0;

    public override (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values)
    {
        var j = 2 * Mean * Complex.Conjugate(Field.SolidCurrentDensity(element, q, values));
        var v = Velocity(element, q, values);
        var symmetry = Field.Model.Symmetry;
        return (j * MotionTerm.Electromotive(symmetry, v, 1.0, 0.0), j * MotionTerm.Electromotive(symmetry, v, 0.0, 1.0), -Field.Rate(Complex.One) * j);
    }

    public override double Quadratic(int element, int q, ElementValues values, Complex bx, Complex by, Complex a)
    {
        var electric = MotionTerm.Electromotive(Field.Model.Symmetry, Velocity(element, q, values), bx, by) - Field.Rate(a);
        return Field.Materials.Conductivity(element) * Field.MeanProduct(electric, electric);
    }

}

internal sealed class EnergyFunctional(MagneticField field) : GoalFunctional(field)
{
    public override double Value => Field.Energy;

    public override bool IsQuadratic => true;

    public override double Rim => Mean;

    public override bool Touches(int element) => true;

    public override (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values)
    {
        var p = Field.Local(element, q, values);
        // in a harmonic field a quarter of ν(|B|)·|B|² is counted, ν itself falling or rising with the field
        var law = Field.Materials.Law(element);
        var share = Field is HarmonicField && !law.IsLinear ? 0.5 * (1 + (law.DifferentialReluctivity(new PlanePhasor(p.Bx, p.By).Magnitude) / Reluctivity(element, q, values))) : 1;
        return (share * Mean * Complex.Conjugate(p.Hx), share * Mean * Complex.Conjugate(p.Hy), 0);
    }

    public override double Quadratic(int element, int q, ElementValues values, Complex bx, Complex by, Complex a)
    {
        var magnitude = new PlanePhasor(bx, by).Magnitude;
        return 0.5 * Mean * Reluctivity(element, q, values) * magnitude * magnitude;
    }
}

internal sealed class LinkageFunctional(MagneticField field, int winding) : GoalFunctional(field)
{
    public override double Value => Read(Phasor);

    public override Complex Phasor => Field.LinkageOf(winding);

    public override bool IsReal => Field is StaticField;

    public override bool Touches(int element) => element < Field.Meshed.Space.InsideCount && Field.Meshed.Ports.TurnDensity(winding, element) != 0;

    public override (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values) => (0, 0, Field.Meshed.Ports.TurnDensity(winding, element));
}

internal sealed class CurrentFunctional(MagneticField field, int winding) : GoalFunctional(field)
{
    public override double Value => Read(Phasor);

    public override Complex Phasor => Field.WindingCurrents[winding];

    public override bool IsReal => Field is StaticField;

    public override Complex[]? Ports
    {
        get
        {
            var ports = new Complex[Field.WindingCurrents.Length + Field.ConductorVoltages.Length];
            ports[winding] = 1;
            return ports;
        }
    }

    public override bool Touches(int element) => false;

    public override (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values) => default;
}

internal sealed class MeanFluxDensityFunctional : GoalFunctional
{
    private readonly MeanFluxDensityGoal goal;
    private readonly double volume;

    public MeanFluxDensityFunctional(MagneticField field, MeanFluxDensityGoal goal)
        : base(field)
    {
        if (goal.Component == ForceComponent.Torque) throw new ArgumentException($"Goal {goal.Name}: a flux density has components X and Y.", nameof(goal));
        this.goal = goal;
        volume = field.Volume(goal.Region);
        Complex sum = 0;
        field.EachPoint([goal.Region], (e, q, values) =>
        {
            var p = field.Local(e, q, values);
            sum += values.Weight[q] * (goal.Component == ForceComponent.X ? p.Bx : p.By);
        });
        Phasor = sum / volume;
    }

    public override double Value => Read(Phasor);

    public override Complex Phasor { get; }

    public override bool IsReal => Field is StaticField;

    public override bool Touches(int element) => Field.Meshed.Space.Region[element] == goal.Region;

    public override (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values) =>
        goal.Component == ForceComponent.X ? (1 / volume, 0, 0) : (0, 1 / volume, 0);
}

internal sealed class FluxFunctional : GoalFunctional
{
    private readonly List<PointLoad> points = [];

    public FluxFunctional(MagneticField field, FluxGoal goal)
        : base(field)
    {
        var round = field.Model.Symmetry == Symmetry.Round;
        Complex sum = 0;
        Add(goal.From, round ? -2 * Math.PI * goal.From.X : field.Model.Depth);
        Add(goal.To, round ? 2 * Math.PI * goal.To.X : -field.Model.Depth);
        Phasor = sum;

        void Add(PlaneVector place, double factor)
        {
            if (!field.Meshed.Inside.TryLocate(place.X, place.Y, out var e, out var xi, out var eta))
                throw new ArgumentException($"Goal {goal.Name}: the ends of the line must lie inside the rim of the mesh.", nameof(goal));
            points.Add(new(e, xi, eta, factor, 0, 0));
            var values = new ElementValues();
            values.EvaluateAt(field.Meshed.Space, e, xi, eta);
            sum += factor * field.Potential(e, 0, values);
        }
    }

    public override double Value => Read(Phasor);

    public override Complex Phasor { get; }

    public override bool IsReal => Field is StaticField;

    public override IReadOnlyList<PointLoad> Points => points;

    public override bool Touches(int element) => false;

    public override (Complex Jx, Complex Jy, Complex Ja) Density(int element, int q, ElementValues values) => default;
}
