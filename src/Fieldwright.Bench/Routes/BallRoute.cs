using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route for a ball, solid or hollow, anywhere over round coils: solid harmonics about its centre.</summary>
internal sealed class BallRoute : IReleasingRoute
{
    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        bool serves = apparatus.Layout is Layout.Round or Layout.Free && apparatus.Frequency > 0 && apparatus.Windings.Count > 0
            && apparatus.Windings.All(w => w.Space is RoundSpace)
            && apparatus.Parts.Where(p => p.Shape is not ProbeShape).ToList() is [{ Shape: BallShape, Magnetised: null } ball] && ball.Material.Curve is null
            && (FieldModels.Conducts(ball) || ball.Material.RelativePermeability > 1);
        return serves ? Wanted.Forces | Wanted.Heat | Wanted.Impedance | Wanted.Sideways | Wanted.Space | Wanted.Rest | (Flights.Suits(apparatus) ? Wanted.Flight : Wanted.None) | (Flights.LetsGo(apparatus) ? Wanted.Release : Wanted.None) : Wanted.None;
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var part = apparatus.Parts.First(p => p.Shape is BallShape);
        var shape = (BallShape)part.Shape;
        var centre = new Vector(part.Place.X, part.Place.Y, part.Place.Z + shape.Radius);
        var coils = apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w)).ToList();
        double tolerance = Math.Clamp(1e-3 * relativeTarget, 1e-9, 1e-3);
        try
        {
            bool imposed = SupplyNetwork.IsImposed(apparatus);
            Complex[,]? z = imposed && !wanted.HasFlag(Wanted.Impedance) ? null : Impedance(apparatus, part, coils, centre, tolerance);
            var currents = z is null ? SupplyNetwork.ImposedCurrents(apparatus) : SupplyNetwork.Currents(apparatus, z);
            var ball = Ball(part, apparatus, coils, w => currents[w.Name]);
            var response = ball.Evaluate(centre, tolerance);
            Dictionary<string, Estimate> One(double value, double bar) => new(StringComparer.OrdinalIgnoreCase) { [part.Name] = new Estimate(value, bar) };
            return new OperatingPoint
            {
                Currents = currents,
                CurrentRelativeBar = imposed ? 0 : tolerance,
                ForceUp = One(response.Force.Z, response.ForceError),
                ForceX = One(response.Force.X, response.ForceError),
                Heat = One(response.Loss, response.LossError),
                Sideways = wanted.HasFlag(Wanted.Sideways) ? Softest(ball, centre, tolerance, part.Name) : new Dictionary<string, Estimate>(),
                Loads = new Dictionary<string, SpaceLoad>(StringComparer.OrdinalIgnoreCase)
                {
                    [part.Name] = new(response.Force, response.Torque, response.ForceError, response.Torque.Length * tolerance + response.ForceError * 1e-3 * shape.Radius),
                },
                Stiffnesses = wanted.HasFlag(Wanted.Rest) ? InAllDirections(ball, centre, tolerance, part.Name) : new Dictionary<string, IReadOnlyList<Estimate>>(),
                Probes = Probes(apparatus, ball, centre, tolerance),
                Impedance = z,
                Inductance = z is null ? null : FieldModels.Inductances(z, apparatus.Frequency),
                ImpedanceRelativeBar = tolerance,
                Remark = response.IsSlow ? "The ball nearly touches a winding, so the expansion converges slowly and the bar is wider." : "",
            };
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <inheritdoc/>
    public Flight Release(Apparatus apparatus, double time, double relativeTarget, CancellationToken cancellation) => Flights.Released(apparatus, time, cancellation);

    /// <summary>The field around a ball over coils, what it sends back included.</summary>
    /// <exception cref="NotConvergedException">The ball comes too near a winding.</exception>
    internal static Surroundings Around(Apparatus apparatus)
    {
        const double tolerance = 1e-4;
        var part = apparatus.Parts.First(p => p.Shape is BallShape);
        var coils = apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w)).ToList();
        var centre = FreeSpace.Centre(part);
        var currents = SupplyNetwork.IsImposed(apparatus) ? SupplyNetwork.ImposedCurrents(apparatus)
            : SupplyNetwork.Currents(apparatus, Impedance(apparatus, part, coils, centre, tolerance));
        return new Surroundings(Ball(part, apparatus, coils, w => currents[w.Name]).Field(centre, tolerance).FluxDensity, currents);
    }

    // The smaller eigenvalue of the even part of the horizontal stiffness: below zero, the ball runs away along its direction.
    private static Dictionary<string, Estimate> Softest(BallOverCoils ball, Vector centre, double tolerance, string name)
    {
        double[,] k = ball.Stiffness(centre, tolerance), rough = ball.Stiffness(centre, Math.Min(1e-2, 30 * tolerance));
        static double Least(double[,] k)
        {
            double mean = 0.5 * (k[0, 0] + k[1, 1]), half = 0.5 * (k[0, 0] - k[1, 1]), across = 0.5 * (k[0, 1] + k[1, 0]);
            return mean - double.Hypot(half, across);
        }

        double size = Math.Abs(k[0, 0]) + Math.Abs(k[1, 1]);
        return new(StringComparer.OrdinalIgnoreCase) { [name] = new Estimate(Least(k), Math.Abs(Least(k) - Least(rough)) + 10 * tolerance * size) };
    }

    private static Dictionary<string, IReadOnlyList<Estimate>> InAllDirections(BallOverCoils ball, Vector centre, double tolerance, string name)
    {
        double[,] k = ball.Stiffness(centre, tolerance), rough = ball.Stiffness(centre, Math.Min(1e-2, 30 * tolerance));
        double error = 0, size = 0;
        for (int i = 0; i < 3; i++)
            for (int j = 0; j < 3; j++)
                (error, size) = (Math.Max(error, Math.Abs(k[i, j] - rough[i, j])), Math.Max(size, Math.Abs(k[i, j])));
        return new(StringComparer.OrdinalIgnoreCase) { [name] = FreeBodiesRoute.Eigenvalues(k, 3 * error + 10 * tolerance * size) };
    }

    private static Dictionary<string, SpaceField> Probes(Apparatus apparatus, BallOverCoils ball, Vector centre, double tolerance)
    {
        var probes = new Dictionary<string, SpaceField>(StringComparer.OrdinalIgnoreCase);
        if (!apparatus.Parts.Any(p => p.Shape is ProbeShape))
            return probes;
        var field = ball.Field(centre, tolerance);
        foreach (var probe in apparatus.Parts.Where(p => p.Shape is ProbeShape))
        {
            var b = field.FluxDensity(FreeSpace.Centre(probe));
            var rms = Math.Sqrt(0.5) * new Vector(b.X.Magnitude, b.Y.Magnitude, b.Z.Magnitude);
            probes[probe.Name] = new SpaceField(rms, 10 * tolerance * rms.Length);
        }

        return probes;
    }

    private static Complex[,] Impedance(Apparatus apparatus, Part part, List<ThickCoil> coils, Vector centre, double tolerance) =>
        WithBall(CoilsAlone(apparatus, coils), Ball(part, apparatus, coils, _ => Complex.One), centre, tolerance);

    /// <summary>Impedance matrix of the coils with no ball near, ohm.</summary>
    internal static Complex[,] CoilsAlone(Apparatus apparatus, IReadOnlyList<ThickCoil> coils)
    {
        var z = FieldModels.Resistances(apparatus);
        double omega = 2 * Math.PI * apparatus.Frequency;
        for (int i = 0; i < coils.Count; i++)
            for (int j = 0; j < coils.Count; j++)
                z[i, j] += new Complex(0, omega * (i == j ? coils[i].SelfInductance() : ThickCoil.MutualInductance(coils[i], coils[j])));
        return z;
    }

    /// <summary>The same with the ball at a place.</summary>
    internal static Complex[,] WithBall(Complex[,] bare, BallOverCoils ball, Vector centre, double tolerance)
    {
        var z = ball.ReflectedImpedance(centre, tolerance);
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(1); j++)
                z[i, j] += bare[i, j];
        return z;
    }

    /// <summary>The ball of an apparatus over its coils.</summary>
    /// <param name="part">The ball.</param>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="coils">Its coils.</param>
    /// <param name="current">Peak current of each, A.</param>
    /// <param name="share">Conductivity of the ball over that at the temperature of the hall.</param>
    internal static BallOverCoils Ball(Part part, Apparatus apparatus, IReadOnlyList<ThickCoil> coils, Func<Winding, Complex> current, double share = 1)
    {
        var shape = (BallShape)part.Shape;
        double conductivity = FieldModels.Conducts(part) ? share * part.Material.ConductivityAt(apparatus.Ambient) : 0;
        var body = shape.Wall is { } wall
            ? SphereBody.Hollow(shape.Radius, wall, conductivity, part.Material.RelativePermeability)
            : SphereBody.Solid(shape.Radius, conductivity, part.Material.RelativePermeability);
        return new BallOverCoils(body, [.. apparatus.Windings.Select((w, i) => new CoilSource(coils[i], current(w)))], apparatus.Frequency);
    }
}
