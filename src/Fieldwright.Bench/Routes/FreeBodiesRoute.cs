using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Currents;
using Fieldwright.Series.Magnets;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route for steady magnets and coils anywhere, with an iron plane or one permeable ball, and for alternating coils alone.</summary>
internal sealed class FreeBodiesRoute : IRoute
{
    /// <summary>What a reader must know about magnets here.</summary>
    internal const string MagnetRemark = "Magnets are taken as evenly polarised, along their recoil lines in the mean; half of what the recoil takes is in the bar.";

    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        if (apparatus.Layout == Layout.Long || apparatus.Windings.Any(w => w.Space is not (RoundSpace or FrameSpace)))
            return Wanted.None;
        var parts = apparatus.Parts;
        if (apparatus.Frequency > 0)
            return parts.All(p => p.Shape is ProbeShape || (!FieldModels.Conducts(p) && !IsMagnetic(p))) && apparatus.Windings.Count > 0 ? Wanted.Impedance | Wanted.Forces | Wanted.Space : Wanted.None;
        bool plane = parts.Any(p => p.Shape is IronPlaneShape);
        int balls = parts.Count(IsBall);
        bool serves = parts.Count(p => p.Shape is IronPlaneShape) + balls <= 1
            && parts.All(p => p.Shape is IronPlaneShape or ProbeShape || IsBall(p) || IsMagnet(p, apparatus.Layout) || !IsMagnetic(p)) && parts.All(p => p.Shape is not (FoilLoopShape or PumpChannelShape));
        if (!serves || (parts.All(p => p.Magnetised is null) && apparatus.Windings.Count == 0))
            return Wanted.None;
        var wanted = Wanted.Forces | Wanted.Space | Wanted.Rest;
        if (parts.Any(p => p.Magnetised is not null))
            wanted |= Wanted.Magnets;
        return apparatus.Windings.Count > 0 && !plane && balls == 0 && parts.All(p => p.Magnetised is null || p.Material.RelativePermeability == 1) ? wanted | Wanted.Impedance : wanted;
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        double tolerance = Math.Clamp(1e-3 * relativeTarget, 1e-6, 1e-4);
        try
        {
            return apparatus.Frequency > 0 ? Alternating(apparatus, wanted, tolerance) : Steady(apparatus, wanted, tolerance);
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>The field around magnets, coils and a permeable ball; that of the coils alone when they alternate.</summary>
    /// <exception cref="NotConvergedException">Two bodies come too near each other.</exception>
    internal static Surroundings Around(Apparatus apparatus)
    {
        const double tolerance = 1e-4;
        var currents = SupplyNetwork.Currents(apparatus, apparatus.Frequency > 0 ? Impedance(apparatus, Inductance(apparatus).Item1) : FieldModels.Resistances(apparatus));
        if (apparatus.Frequency > 0)
        {
            var coils = apparatus.Windings.Select(w => (Coil: FreeBodies.Coil(w), Current: currents[w.Name])).ToList();
            return new Surroundings(p => coils.Aggregate(default(ComplexVector), (s, c) => s + ComplexVector.Scaled(c.Current, c.Coil.FluxDensity(p))), currents);
        }

        var (bodies, ball) = Together(apparatus, w => currents[w.Name].Real, tolerance, [], null, false);
        return new Surroundings(p => ComplexVector.Scaled(1, bodies.Field(p) + (ball?.FluxDensity(p) ?? default)), currents);
    }

    /// <summary>Loads and fields of a steady apparatus.</summary>
    private static OperatingPoint Steady(Apparatus apparatus, Wanted wanted, double tolerance)
    {
        var currents = SupplyNetwork.Currents(apparatus, FieldModels.Resistances(apparatus));
        var (loads, probes, working) = Settled(apparatus, currents, wanted, tolerance);
        var (l, bar) = wanted.HasFlag(Wanted.Impedance) ? Inductance(apparatus) : (null, 0);
        var magnets = apparatus.Parts.Any(p => p.Magnetised is not null && p.Material.RelativePermeability > 1);
        return new OperatingPoint
        {
            Currents = currents,
            ForceUp = loads.ToDictionary(t => t.Key, t => t.Value.Along(2), StringComparer.OrdinalIgnoreCase),
            Loads = loads,
            Probes = probes,
            Working = working,
            Stiffnesses = wanted.HasFlag(Wanted.Rest) ? Stiffnesses(apparatus, currents, tolerance) : new Dictionary<string, IReadOnlyList<Estimate>>(),
            Impedance = l is null ? null : FieldModels.Resistances(apparatus),
            Inductance = l,
            ImpedanceRelativeBar = bar,
            Remark = magnets ? MagnetRemark : "",
        };
    }

    // Half of what each magnet's recoil does goes into the bars. A ball of steel on a curve is bracketed by the permeabilities it may have.
    private static (Dictionary<string, SpaceLoad> Loads, Dictionary<string, SpaceField> Probes, Dictionary<string, Estimate> Working) Settled(
        Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents, Wanted wanted, double tolerance)
    {
        double Current(Winding w) => currents[w.Name].Real;
        // Pairs act alike in every run; only their strengths differ.
        var known = new Dictionary<(string, string, bool), MagnetLoad>();
        var (loads, probes, working) = Once(apparatus, Current, wanted, tolerance, known);
        var others = apparatus.Parts.Where(p => p.Magnetised is not null && p.Material.RelativePermeability > 1).Select(p => Once(apparatus, Current, wanted, tolerance, known, p.Name)).ToList();
        if (apparatus.Parts.Any(p => IsBall(p) && p.Material.Curve is not null))
            others.Add(Once(apparatus, Current, wanted, tolerance, known, null, true));
        foreach (var (l, p, w) in others)
        {
            foreach (string name in loads.Keys.ToList())
                loads[name] = loads[name].Widened(l[name]);
            foreach (string name in probes.Keys.ToList())
                probes[name] = probes[name].Widened(p[name]);
            foreach (string name in working.Keys.ToList())
                working[name] = working[name] with { Bar = working[name].Bar + 0.5 * Math.Abs(working[name].Value - w[name].Value) };
        }

        return (loads, probes, working);
    }

    private static (Dictionary<string, SpaceLoad>, Dictionary<string, SpaceField>, Dictionary<string, Estimate>) Once(
        Apparatus apparatus, Func<Winding, double> current, Wanted wanted, double tolerance, Dictionary<(string, string, bool), MagnetLoad> known, string? unbent = null, bool hardest = false)
    {
        var (bodies, ball) = Together(apparatus, current, tolerance, known, unbent, hardest);
        var loads = new Dictionary<string, SpaceLoad>(StringComparer.OrdinalIgnoreCase);
        var probes = new Dictionary<string, SpaceField>(StringComparer.OrdinalIgnoreCase);
        if (wanted.HasFlag(Wanted.Forces) || wanted.HasFlag(Wanted.Space))
        {
            if (ball is not null)
                loads[apparatus.Parts.First(IsBall).Name] = new SpaceLoad(ball.Force, default, ball.ForceError, 0);
            foreach (var body in bodies.All)
            {
                var load = bodies.Load(body, tolerance);
                var back = ball is null ? default : Loads.Of(ball.FluxDensity, body.Unit, tolerance);
                loads[body.Name] = new SpaceLoad(load.Force + body.Strength * back.Force, load.Torque + body.Strength * back.Torque,
                    load.ForceError + Math.Abs(body.Strength) * back.ForceError, load.TorqueError + Math.Abs(body.Strength) * back.TorqueError);
            }

            // What is neither magnet nor steel feels nothing from steady fields.
            foreach (var inert in apparatus.Parts.Where(p => !IsMagnetic(p) && p.Shape is not ProbeShape))
                loads[inert.Name] = default;
            if (apparatus.Parts.FirstOrDefault(p => p.Shape is IronPlaneShape) is { } plane)
            {
                var sum = bodies.All.Aggregate(default(Vector), (s, b) => s + loads[b.Name].Force);
                loads[plane.Name] = new SpaceLoad(-sum, default, bodies.All.Sum(b => loads[b.Name].ForceBar.Length), 0);
            }
        }

        foreach (var probe in apparatus.Parts.Where(p => p.Shape is ProbeShape))
        {
            var at = FreeSpace.Centre(probe);
            var field = bodies.Field(at) + (ball is null ? default : ball.FluxDensity(at));
            probes[probe.Name] = new SpaceField(field, 1e-6 * field.Length);
        }

        var working = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase);
        if (wanted.HasFlag(Wanted.Magnets))
            foreach (var magnet in bodies.All.Where(b => b.Part is not null))
                working[magnet.Name] = bodies.Working(magnet, ball is null ? null : ball.FluxDensity);
        return (loads, probes, working);
    }

    // Magnets, coils and the ball among them: the ball lifts the magnets a little up their recoil lines, and they the ball.
    private static (FreeBodies Bodies, BallAmongMagnets? Ball) Together(
        Apparatus apparatus, Func<Winding, double> current, double tolerance, Dictionary<(string, string, bool), MagnetLoad> known, string? unbent, bool hardest)
    {
        var bodies = new FreeBodies(apparatus, current, null, known, unbent);
        if (apparatus.Parts.FirstOrDefault(IsBall) is not { } part)
            return (bodies, null);
        var ball = Ball(part, bodies, tolerance, hardest);
        if (apparatus.Parts.All(p => p.Magnetised is null))
            return (bodies, ball);
        bodies = new FreeBodies(apparatus, current, ball.FluxDensity, known, unbent);
        return (bodies, Ball(part, bodies, tolerance, hardest));
    }

    private static BallAmongMagnets Ball(Part part, FreeBodies bodies, double tolerance, bool hardest)
    {
        var shape = (BallShape)part.Shape;
        var centre = FreeSpace.Centre(part);
        double mu = part.Material.RelativePermeability;
        if (part.Material.Curve is { } curve)
        {
            // Inside a permeable ball B is three times the field it stands in. As a bracket: the strongest anywhere on its surface.
            double b = 3 * bodies.Field(centre).Length;
            if (hardest)
                for (int k = 0; k < 60; k++)
                {
                    // Points spread evenly over the sphere by the golden angle.
                    double z = 1 - (2 * k + 1) / 60.0, r = Math.Sqrt(1 - z * z), angle = k * Math.PI * (3 - Math.Sqrt(5));
                    b = Math.Max(b, 3 * bodies.Field(centre + shape.Radius * new Vector(r * Math.Cos(angle), r * Math.Sin(angle), z)).Length);
                }

            mu = Math.Max(1, b / (Matter.PhysicalConstants.MagneticConstant * Math.Max(curve.FieldStrength(Math.Max(b, 1e-3)), 1e-9)));
        }

        var body = shape.Wall is { } wall ? SphereBody.Hollow(shape.Radius, wall, 0, mu) : SphereBody.Solid(shape.Radius, 0, mu);
        return new BallAmongMagnets(body, centre, bodies.Field, Math.Max(tolerance, 1e-7));
    }

    // Eigenvalues of −∂F/∂x of every part that may move freely, by central differences of the force.
    private static Dictionary<string, IReadOnlyList<Estimate>> Stiffnesses(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents, double tolerance)
    {
        var found = new Dictionary<string, IReadOnlyList<Estimate>>(StringComparer.OrdinalIgnoreCase);
        foreach (var part in apparatus.Parts.Where(p => p.Freedom == Freedom.Freely && (IsMagnetic(p) && p.Shape is not IronPlaneShape)))
        {
            double size = part.Shape switch { BallShape b => b.Radius, DiscShape d => d.Radius, RingShape r => r.OuterRadius, BlockShape b => b.Length, _ => 0.01 };
            double[,] coarse, fine;
            try
            {
                coarse = Slopes(2e-3 * size);
                fine = Slopes(1e-3 * size);
            }
            catch (NotConvergedException)
            {
                // So near to another body its forces are known, their slopes are not.
                continue;
            }

            double error = 0;
            for (int i = 0; i < 3; i++)
                for (int j = 0; j < 3; j++)
                    error = Math.Max(error, Math.Abs(fine[i, j] - coarse[i, j]) / 3);
            found[part.Name] = Eigenvalues(fine, 3 * error);

            double[,] Slopes(double h)
            {
                var k = new double[3, 3];
                for (int j = 0; j < 3; j++)
                {
                    Vector At(double by) => Once(Moved(apparatus, part, j, by), w => currents[w.Name].Real, Wanted.Forces, 0.01 * tolerance, []).Item1[part.Name].Force;
                    var slope = -0.5 / h * (At(h) - At(-h));
                    (k[0, j], k[1, j], k[2, j]) = (slope.X, slope.Y, slope.Z);
                }

                return k;
            }
        }

        return found;
    }

    /// <summary>The three eigenvalues of a stiffness matrix, least real part first, with one bar for each.</summary>
    internal static IReadOnlyList<Estimate> Eigenvalues(double[,] k, double bar)
    {
        var values = MathNet.Numerics.LinearAlgebra.Double.Matrix.Build.DenseOfArray(k).Evd().EigenValues;
        return [.. values.Select(v => v.Real).Order().Select(v => new Estimate(v, bar))];
    }

    private static Apparatus Moved(Apparatus apparatus, Part part, int axis, double by)
    {
        var place = axis switch { 0 => part.Place with { X = part.Place.X + by }, 1 => part.Place with { Y = part.Place.Y + by }, _ => part.Place with { Z = part.Place.Z + by } };
        return apparatus with { Parts = [.. apparatus.Parts.Select(p => ReferenceEquals(p, part) ? p with { Place = place } : p)] };
    }

    // Coils alone: impedances, and the mean force of one on the other.
    private static Complex[,] Impedance(Apparatus apparatus, double[,] inductance)
    {
        var z = FieldModels.Resistances(apparatus);
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(0); j++)
                z[i, j] += new Complex(0, 2 * Math.PI * apparatus.Frequency * inductance[i, j]);
        return z;
    }

    private static OperatingPoint Alternating(Apparatus apparatus, Wanted wanted, double tolerance)
    {
        var (l, bar) = Inductance(apparatus);
        var z = Impedance(apparatus, l);
        var currents = SupplyNetwork.Currents(apparatus, z);
        double spread = SupplyNetwork.IsImposed(apparatus) ? 0 : bar;
        var coils = apparatus.Windings.Select(w => (w.Name, Coil: FreeBodies.Coil(w), Current: currents[w.Name])).ToList();
        var loads = new Dictionary<string, SpaceLoad>(StringComparer.OrdinalIgnoreCase);
        if (wanted.HasFlag(Wanted.Forces) || wanted.HasFlag(Wanted.Space))
            foreach (var coil in coils)
            {
                var sum = default(SpaceLoad);
                foreach (var other in coils.Where(o => o.Name != coil.Name))
                {
                    double product = 0.5 * (coil.Current * Complex.Conjugate(other.Current)).Real;
                    var load = Loads.Between(other.Coil, coil.Coil, tolerance);
                    sum = new SpaceLoad(sum.Force + product * load.Force, sum.Torque + product * load.Torque,
                        sum.ForceBar.X + Math.Abs(product) * (load.ForceError + 2 * spread * load.Force.Length), sum.TorqueBar.X + Math.Abs(product) * (load.TorqueError + 2 * spread * load.Torque.Length));
                }

                loads[coil.Name] = sum;
            }

        var probes = new Dictionary<string, SpaceField>(StringComparer.OrdinalIgnoreCase);
        foreach (var probe in apparatus.Parts.Where(p => p.Shape is ProbeShape))
        {
            var at = FreeSpace.Centre(probe);
            var field = coils.Aggregate(default(ComplexVector), (s, c) => s + ComplexVector.Scaled(c.Current, c.Coil.FluxDensity(at)));
            // Rms of each component.
            var rms = Math.Sqrt(0.5) * new Vector(field.X.Magnitude, field.Y.Magnitude, field.Z.Magnitude);
            probes[probe.Name] = new SpaceField(rms, (1e-6 + spread) * rms.Length);
        }

        return new OperatingPoint { Currents = currents, CurrentRelativeBar = spread, Impedance = z, Inductance = l, ImpedanceRelativeBar = bar, Loads = loads, Probes = probes };
    }

    /// <summary>Inductances of the windings alone, and their error over √(LᵢLⱼ).</summary>
    internal static (double[,] Inductance, double RelativeBar) Inductance(Apparatus apparatus)
    {
        var coils = apparatus.Windings.Select(FreeBodies.Coil).ToList();
        var l = new double[coils.Count, coils.Count];
        double bar = 1e-9;
        for (int i = 0; i < coils.Count; i++)
        {
            var self = coils[i] switch { ThickCoil t => new Estimate<double>(t.SelfInductance(), 0), RacetrackCoil r => r.SelfInductance(), _ => throw new RouteFailedException("No inductance of such a coil is known.") };
            l[i, i] = self.Value;
            bar = Math.Max(bar, self.Error / self.Value);
        }

        for (int i = 0; i < coils.Count; i++)
            for (int j = 0; j < i; j++)
            {
                var mutual = coils[i] is ThickCoil a && coils[j] is ThickCoil b ? new Estimate<double>(ThickCoil.MutualInductance(a, b), 0) : new CoilPair(coils[i], coils[j]).MutualInductance();
                l[i, j] = l[j, i] = mutual.Value;
                bar = Math.Max(bar, mutual.Error / Math.Sqrt(l[i, i] * l[j, j]));
            }

        return (l, bar);
    }

    private static bool IsBall(Part part) => part is { Shape: BallShape, Magnetised: null } && IsMagnetic(part);

    private static bool IsMagnetic(Part part) => part.Magnetised is not null || part.Shape is IronPlaneShape || part.Material.Curve is not null || part.Material.RelativePermeability > 1;

    private static bool IsMagnet(Part part, Layout layout) => part.Magnetised is { } degrees
        && (part.Shape is DiscShape or RingShape && Math.Abs(Math.Abs(degrees) - 90) < 1e-9 || part.Shape is BlockShape && layout == Layout.Free);
}
