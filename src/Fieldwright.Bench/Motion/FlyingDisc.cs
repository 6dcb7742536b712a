using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Discs;
using Fieldwright.Series.Jets;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Motion;

/// <summary>A disc or flat ring: what coils on their true supplies do to it wherever it is, however it leans, moves and turns, and whatever its temperature.</summary>
internal sealed class FlyingDisc : FlyingBody
{
    // A step errs by less than a share of the radius, a force by so many times that share of itself; places further out than it starts at are tried, so that they settle there too.
    private const double Looser = 100, Aside = 0.25, Leaning = 0.05;

    // Points round a rim at which it may meet a winding; share of the thickness it may come near one from above, where it rests.
    private const int Round = 32;
    private const double Touch = 1e-3;

    private readonly Apparatus apparatus;
    private readonly Complex[]? given;
    private readonly Complex[,]? bare;
    private readonly DiscMotion motion;
    private readonly DiscBody shape;
    private readonly double cold;
    private readonly List<ThickCoil> coils;

    /// <summary>Prepares the disc.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="part">The disc or ring.</param>
    /// <param name="tolerance">Relative error of the steps it is followed with.</param>
    /// <exception cref="RouteFailedException">It is too thick, or its sums do not settle.</exception>
    public FlyingDisc(Apparatus apparatus, Part part, double tolerance) : this(apparatus, part, tolerance, null)
    {
    }

    private FlyingDisc(Apparatus apparatus, Part part, double tolerance, DiscMotion? known) : base(apparatus, part)
    {
        this.apparatus = apparatus;
        coils = [.. apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w))];
        shape = DiscRoute.Body(part, apparatus.Ambient);
        cold = part.Material.ConductivityAt(apparatus.Ambient);
        Axis = FreeSpace.Axes(part.Attitude).Z;
        double squares = shape.InnerRadius * shape.InnerRadius + shape.OuterRadius * shape.OuterRadius;
        Inertia = (Mass * (squares / 4 + shape.Thickness * shape.Thickness / 12), Mass * squares / 2);
        if (SupplyNetwork.IsImposed(apparatus))
            given = InOrder(SupplyNetwork.ImposedCurrents(apparatus));
        else
            bare = BallRoute.CoilsAlone(apparatus, coils);
        var centre = FreeSpace.Centre(part);
        double aside = Aside * Radius;
        (Vector Centre, Vector Axis)[] places = [(centre, Axis), (centre + new Vector(aside, 0, 0), Axis + new Vector(0, Leaning, 0)), (centre - new Vector(0, aside, 0), Axis)];
        places = [.. places.Where((p, i) => i == 0 || Clearance(p.Centre, p.Axis) > 0)];
        try
        {
            var disc = known is null ? DiscRoute.Disc(part, apparatus, coils, _ => Complex.One) : null;
            var currents = given ?? Currents(disc?.Couple(centre, Axis) ?? known!.At(centre, Axis));
            motion = disc is null ? new DiscMotion(known!, currents, places, Looser * tolerance) : new DiscMotion(disc, currents, places, Looser * tolerance);
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <inheritdoc/>
    public override FlyingBody Within(double tolerance) => new FlyingDisc(apparatus, Part, tolerance, motion);

    /// <inheritdoc/>
    public override double Radius => shape.OuterRadius;

    /// <inheritdoc/>
    public override double Half => 0.5 * shape.Thickness;

    /// <inheritdoc/>
    public override Vector Axis { get; }

    /// <inheritdoc/>
    public override (double Across, double About) Inertia { get; }

    /// <inheritdoc/>
    public override double Spinning(Vector axis, Vector spin) => Vector.Dot(axis, spin);

    /// <inheritdoc/>
    public override Vector Lowest(Vector axis)
    {
        // Level it comes down on its whole face.
        double flat = double.Hypot(axis.X, axis.Y), face = axis.Z < 0 ? Half : -Half;
        var down = flat < 1e-2 * Half / Radius ? default : Radius / flat * new Vector(axis.Z * axis.X, axis.Z * axis.Y, -flat * flat);
        return Vector.Dot(down, Vector.AlongZ) > 0 ? face * axis - down : face * axis + down;
    }

    /// <inheritdoc/>
    public override double Clearance(Vector place, Vector axis)
    {
        double nearest = double.PositiveInfinity;
        var (x, y) = Across(axis);
        for (int k = 0; k < Round; k++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * k / Round);
            var outward = cos * x + sin * y;
            foreach (double r in shape.InnerRadius > 0 ? [shape.OuterRadius, shape.InnerRadius] : (ReadOnlySpan<double>)[shape.OuterRadius])
                foreach (double side in (ReadOnlySpan<double>)[-Half, Half])
                    foreach (var coil in coils)
                        nearest = Math.Min(nearest, coil.Distance(place + r * outward + side * axis));
        }

        return nearest + Touch * shape.Thickness;
    }

    /// <inheritdoc/>
    public override (Vector Drag, Vector Brake) InAir(Vector axis, Vector velocity, Vector spin)
    {
        double flat = Vector.Dot(velocity, axis), about = Vector.Dot(spin, axis), area = Math.PI * (Radius * Radius - shape.InnerRadius * shape.InnerRadius);
        Vector edgeways = velocity - flat * axis, across = spin - about * axis;
        double flatDrag = flat == 0 ? 0 : -0.5 * Density * MovingDisc.DragCoefficient(2 * Radius * Math.Abs(flat) / Viscosity) * area * Math.Abs(flat) * flat;
        double aboutBrake = about == 0 ? 0 : -0.5 * Density * MovingDisc.TorqueCoefficient(Math.Abs(about) * Radius * Radius / Viscosity) * Math.Pow(Radius, 5) * Math.Abs(about) * about;
        // Edge on it has the drag of a blunt bar of its section, about one.
        return (flatDrag * axis - 0.5 * Density * 2 * Radius * shape.Thickness * edgeways.Length * edgeways,
            aboutBrake * axis - 0.5 * Density * MovingDisc.TurningCoefficient * Math.Pow(Radius, 5) * across.Length * across);
    }

    /// <inheritdoc/>
    public override FieldLoad At(Vector place, Vector axis, Vector velocity, Vector spin, double temperature, double tolerance)
    {
        var coupling = motion.At(place, axis);
        double conductivity = Part.Material.ConductivityAt(temperature) / cold;
        var found = coupling.At(given ?? Currents(coupling, conductivity), velocity, spin, conductivity);
        return new FieldLoad(found.Force, found.Torque, found.Heat);
    }

    private Complex[] Currents(DiscCoupling coupling, double conductivity = 1)
    {
        var z = coupling.ReflectedImpedance(conductivity);
        for (int i = 0; i < coils.Count; i++)
            for (int j = 0; j < coils.Count; j++)
                z[i, j] += bare![i, j];
        return InOrder(SupplyNetwork.Currents(apparatus, z));
    }

    private Complex[] InOrder(IReadOnlyDictionary<string, Complex> currents) => [.. apparatus.Windings.Select(w => currents[w.Name])];

    private static (Vector X, Vector Y) Across(Vector axis)
    {
        var x = Vector.Cross(Math.Abs(axis.Z) > 0.5 ? new Vector(0, 1, 0) : Vector.AlongZ, axis).Unit();
        return (x, Vector.Cross(axis, x));
    }
}
