using System.Numerics;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Series.Discs;

/// <summary>A disc or ring that is followed over its coils: described no more finely than its way needs, the coils' field kept in tables.</summary>
/// <remarks>What it says is smooth in place and tilt, since nothing changes in how it is found. Threads may share it.</remarks>
public sealed class DiscMotion
{
    // Distance of a table's points over the disc's radius: its error is 1e-9 of the field a few steps off the windings.
    private const double TableStep = 0.01;

    // Beyond so many it would be followed too slowly.
    private const int MostSteps = 4;

    private readonly DiscOverCoils disc;
    private readonly DiscOverCoils.Size size;
    private readonly CoilTable[] tables;

    /// <summary>Prepares a disc that is known: the tables of its coils are kept.</summary>
    /// <param name="known">The disc, to be followed otherwise.</param>
    /// <param name="currents">Peak currents of its coils, A.</param>
    /// <param name="places">Places of its centre, m, and directions of its axis, of any length.</param>
    /// <param name="tolerance">Relative error allowed there.</param>
    /// <exception cref="NotConvergedException">As for the other.</exception>
    public DiscMotion(DiscMotion known, IReadOnlyList<Complex> currents, IReadOnlyList<(Vector Centre, Vector Axis)> places, double tolerance) : this(known?.disc!, currents, places, tolerance, known?.tables)
    {
    }

    /// <summary>Prepares a disc.</summary>
    /// <param name="disc">The disc and its coils.</param>
    /// <param name="currents">Peak currents of its coils, A, such as it may meet.</param>
    /// <param name="places">Places of its centre, m, and directions of its axis, of any length, such as it may come to: force, torque and heat are to settle at all of them.</param>
    /// <param name="tolerance">Relative error allowed there, between 1e-7 and 0.1; torque counts over the radius.</param>
    /// <exception cref="ArgumentException">There is no place, or a number is out of range.</exception>
    /// <exception cref="NotConvergedException">They do not settle to 1 %.</exception>
    public DiscMotion(DiscOverCoils disc, IReadOnlyList<Complex> currents, IReadOnlyList<(Vector Centre, Vector Axis)> places, double tolerance) : this(disc, currents, places, tolerance, null)
    {
    }

    private DiscMotion(DiscOverCoils disc, IReadOnlyList<Complex> currents, IReadOnlyList<(Vector Centre, Vector Axis)> places, double tolerance, CoilTable[]? tables)
    {
        ArgumentNullException.ThrowIfNull(disc);
        ArgumentNullException.ThrowIfNull(currents);
        ArgumentNullException.ThrowIfNull(places);
        Guard.InRange(tolerance, 1e-7, 0.1);
        if (places.Count == 0)
            throw new ArgumentException("At least one place is needed.", nameof(places));
        this.disc = disc;
        var radius = disc.Body.OuterRadius;
        this.tables = tables ?? [.. disc.Sources.Select(s => new CoilTable(s.Coil, TableStep * radius, 2 * radius))];
        size = disc.First();
        var last = Loads(size, currents, places);
        for (var step = 1; ; step++)
        {
            var finer = size.Raised();
            var next = Loads(finer, currents, places);
            RelativeError = last.Zip(next, (a, b) => Off(a, b, radius)).Max();
            if (RelativeError <= tolerance)
                return;
            (size, last) = (finer, next);
            if (step == MostSteps)
            {
                if (RelativeError > 0.01)
                    throw new NotConvergedException("The currents of the disc", RelativeError, step);
                return;
            }
        }
    }

    /// <summary>Relative error of force, torque over radius, and heat at the worst of the places.</summary>
    public double RelativeError { get; }

    /// <summary>How the disc hangs together with its coils at a place.</summary>
    /// <param name="centre">Centre of the disc, m.</param>
    /// <param name="axis">Direction of its axis, of any length.</param>
    /// <returns>What the coils send through the modes of its currents there, and the slopes of that.</returns>
    /// <exception cref="ArgumentException">The place or direction is not finite or zero.</exception>
    public DiscCoupling At(Vector centre, Vector axis) => disc.Couple(size, centre, axis, tables);

    private DiscInMotion[] Loads(DiscOverCoils.Size at, IReadOnlyList<Complex> currents, IReadOnlyList<(Vector Centre, Vector Axis)> places) =>
        [.. places.Select(p => disc.Couple(at, p.Centre, p.Axis, tables).At(currents))];

    private static double Off(in DiscInMotion a, in DiscInMotion b, double radius)
    {
        double scale = double.Hypot(b.Force.Length, b.Torque.Length / radius), off = double.Hypot((a.Force - b.Force).Length, (a.Torque - b.Torque).Length / radius);
        return Math.Max(scale > 0 ? off / scale : 0, b.Heat > 0 ? Math.Abs(a.Heat - b.Heat) / b.Heat : 0);
    }
}
