using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Discs;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route for a disc or flat ring anywhere in space over round coils, aside, tilted and let go: stream functions.</summary>
internal sealed class DiscRoute : IReleasingRoute
{
    /// <summary>Thickness over width beyond which currents across the thickness count for too much; their share goes with its square, which is in the bars.</summary>
    public const double MostThickness = 0.3;

    // The coils may change from one point to the next, and the disc its place; what is known of the disc itself is kept.
    private DiscOverCoils? kept;

    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <summary>Whether a part is a disc or ring that can be described so.</summary>
    public static bool Suits(Part part) => part is { Shape: DiscShape or RingShape, Magnetised: null } && part.Material.Curve is null && part.Material.RelativePermeability == 1
        && FieldModels.Conducts(part) && Flatness(part) <= MostThickness;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        bool serves = apparatus.Layout == Layout.Free && apparatus.Frequency > 0 && apparatus.Windings.Count > 0 && apparatus.Windings.All(w => w.Space is RoundSpace)
            && apparatus.Parts.Where(p => p.Shape is not ProbeShape).ToList() is [var disc] && Suits(disc);
        if (!serves)
            return Wanted.None;
        var wanted = Wanted.Forces | Wanted.Heat | Wanted.Impedance | Wanted.Space;
        if (OnAxisRoute.Round(apparatus) is not null && Floats.MassIsKnown(Flights.Body(apparatus)))
            wanted |= Wanted.Sideways;
        return wanted | (Flights.Suits(apparatus) ? Wanted.Flight : Wanted.None) | (Flights.LetsGo(apparatus) ? Wanted.Release : Wanted.None);
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var part = Flights.Body(apparatus);
        if (apparatus.Parts.Any(p => p.Shape is ProbeShape) && wanted.HasFlag(Wanted.Space))
            throw new RouteFailedException("The field beside a disc is not found by this route.");
        var coils = apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w)).ToList();
        Vector centre = FreeSpace.Centre(part), axis = FreeSpace.Axes(part.Attitude).Z;
        double tolerance = Math.Clamp(0.05 * relativeTarget, 1e-5, 1e-3), flat = Flatness(part), bar = tolerance + flat * flat;
        DiscOverCoils Over(Func<Winding, Complex> current)
        {
            var made = Disc(part, apparatus, coils, current);
            return kept = kept?.Body == made.Body ? kept.Over(made.Sources, made.Frequency) : made;
        }

        try
        {
            bool imposed = SupplyNetwork.IsImposed(apparatus);
            Complex[,]? z = null;
            if (!imposed || wanted.HasFlag(Wanted.Impedance))
                z = WithDisc(apparatus, coils, Over(_ => Complex.One), centre, axis, tolerance);

            var currents = imposed ? SupplyNetwork.ImposedCurrents(apparatus) : SupplyNetwork.Currents(apparatus, z!);
            double spread = imposed ? 0 : bar;
            var found = Over(w => currents[w.Name]).Evaluate(centre, axis, tolerance);
            double relative = flat * flat + 2 * spread, force = found.ForceError + relative * found.Force.Length;
            Dictionary<string, Estimate> One(double value, double half) => new(StringComparer.OrdinalIgnoreCase) { [part.Name] = new Estimate(value, half) };
            return new OperatingPoint
            {
                Currents = currents,
                CurrentRelativeBar = spread,
                ForceUp = One(found.Force.Z, force),
                ForceX = One(found.Force.X, force),
                Heat = One(found.Loss, found.LossError + relative * found.Loss),
                Strays = wanted.HasFlag(Wanted.Sideways) ? new(StringComparer.OrdinalIgnoreCase)
                {
                    [part.Name] = new(() => DiscStray.Of(part, apparatus, (currents, spread), tolerance)),
                } : new Dictionary<string, Lazy<DiscStray>>(),
                Loads = new Dictionary<string, SpaceLoad>(StringComparer.OrdinalIgnoreCase)
                {
                    [part.Name] = new(found.Force, found.Torque, force, found.TorqueError + relative * found.Torque.Length + 1e-3 * force * Body(part, apparatus.Ambient).OuterRadius),
                },
                Impedance = z,
                Inductance = z is null ? null : FieldModels.Inductances(z, apparatus.Frequency),
                ImpedanceRelativeBar = bar,
            };
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>The field around a disc over its coils.</summary>
    internal static Surroundings Around(Apparatus apparatus)
    {
        const double tolerance = 1e-3;
        var part = Flights.Body(apparatus);
        var coils = apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w)).ToList();
        Vector centre = FreeSpace.Centre(part), axis = FreeSpace.Axes(part.Attitude).Z;
        var currents = SupplyNetwork.IsImposed(apparatus) ? SupplyNetwork.ImposedCurrents(apparatus)
            : SupplyNetwork.Currents(apparatus, WithDisc(apparatus, coils, Disc(part, apparatus, coils, _ => Complex.One), centre, axis, tolerance));
        return new Surroundings(Disc(part, apparatus, coils, w => currents[w.Name]).Field(centre, axis).FluxDensity, currents);
    }

    // The coils' own impedances and what the disc reflects into them.
    private static Complex[,] WithDisc(Apparatus apparatus, List<ThickCoil> coils, DiscOverCoils disc, Vector centre, Vector axis, double tolerance)
    {
        var z = disc.ReflectedImpedance(centre, axis, tolerance);
        var bare = BallRoute.CoilsAlone(apparatus, coils);
        for (int i = 0; i < coils.Count; i++)
            for (int j = 0; j < coils.Count; j++)
                z[i, j] += bare[i, j];
        return z;
    }

    /// <inheritdoc/>
    public Flight Release(Apparatus apparatus, double time, double relativeTarget, CancellationToken cancellation) => Flights.Released(apparatus, time, cancellation);

    /// <summary>Shape and metal of a disc or ring.</summary>
    /// <exception cref="RouteFailedException">It is none, or too thick to be described so.</exception>
    internal static DiscBody Body(Part part, double temperature)
    {
        var (inner, outer, thickness) = Sizes(part) ?? throw new RouteFailedException($"'{part.Name}' is no disc or ring.");
        return Flatness(part) <= MostThickness ? new DiscBody(inner, outer, thickness, part.Material.ConductivityAt(temperature))
            : throw new RouteFailedException(FormattableString.Invariant($"'{part.Name}' is {Flatness(part):P0} as thick as it is wide: currents across the thickness count, which are left out here."));
    }

    /// <summary>It over its coils.</summary>
    /// <param name="part">The disc or ring.</param>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="coils">Its coils.</param>
    /// <param name="current">Peak current of each, A.</param>
    internal static DiscOverCoils Disc(Part part, Apparatus apparatus, IReadOnlyList<ThickCoil> coils, Func<Winding, Complex> current) =>
        new(Body(part, apparatus.Ambient), [.. apparatus.Windings.Select((w, i) => new CoilSource(coils[i], current(w)))], apparatus.Frequency);

    /// <summary>Thickness over width.</summary>
    internal static double Flatness(Part part) => Sizes(part) is var (inner, outer, thickness) ? thickness / (outer - inner) : double.PositiveInfinity;

    private static (double Inner, double Outer, double Thickness)? Sizes(Part part) => part.Shape switch
    {
        DiscShape d => (0, d.Radius, d.Thickness),
        RingShape r => (r.InnerRadius, r.OuterRadius, r.Height),
        _ => null,
    };
}
