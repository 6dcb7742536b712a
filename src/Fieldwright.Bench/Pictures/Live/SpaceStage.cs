using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Series;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Pictures.Live;

/// <summary>A plane square to an axis through the space around free bodies.</summary>
/// <param name="Axis">0, 1, 2 for x, y, z: what the plane is square to.</param>
/// <param name="At">Where it crosses that axis, m.</param>
public readonly record struct SpacePlane(int Axis, double At)
{
    /// <summary>A point of the plane: the two other axes in the order x, y, z.</summary>
    public Vector Point(double u, double v) => Axis switch { 0 => new Vector(At, u, v), 1 => new Vector(u, At, v), _ => new Vector(u, v, At) };

    /// <summary>The components of a vector in the plane.</summary>
    public (Complex U, Complex V) Within(ComplexVector b) => Axis switch { 0 => (b.Y, b.Z), 1 => (b.X, b.Z), _ => (b.X, b.Y) };

    /// <summary>Sense in which the reader sees the plane when u is to the right and v up: −1 where its axis then points away.</summary>
    public double Sense => Axis == 1 ? -1 : 1;
}

/// <summary>The field over a plane, row by row from the lowest u and v.</summary>
/// <param name="Plane">The plane.</param>
/// <param name="FromU">Least u, m.</param>
/// <param name="ToU">Greatest u, m.</param>
/// <param name="FromV">Least v, m.</param>
/// <param name="ToV">Greatest v, m.</param>
/// <param name="Columns">Points along u.</param>
/// <param name="Rows">Points along v.</param>
/// <param name="FluxDensity">Six values a point, T: real and imaginary part of the x, y and z components, peak.</param>
public sealed record SpaceSlice(SpacePlane Plane, double FromU, double ToU, double FromV, double ToV, int Columns, int Rows, float[] FluxDensity);

/// <summary>Lines of the field at one instant.</summary>
/// <param name="Phase">ωt, rad.</param>
/// <param name="Lines">Four values a point: place in m, and flux density in T.</param>
public sealed record SpaceInstant(double Phase, IReadOnlyList<float[]> Lines);

/// <summary>Bodies that stand anywhere in space, with the field around them, made ready for a live stage. Immutable; threads may share it.</summary>
/// <remarks>First with the lines of one instant and at once, then <see cref="Refined"/> with those of a whole period and with the forces. Phasors are peak, exp(+jωt).</remarks>
public sealed class SpaceStage
{
    private const int Instants = 24, Columns = 44, Rows = 34;
    private readonly Surroundings around;
    private readonly IRoute route;
    private readonly Apparatus apparatus;

    private SpaceStage(Apparatus apparatus, Surroundings around, IRoute route, IReadOnlyList<SpaceSolid> solids, IReadOnlyList<SpaceInstant> lines, bool isRefined)
    {
        (this.apparatus, this.around, this.route, Solids, Lines, IsRefined) = (apparatus, around, route, solids, lines, isRefined);
        (Least, Most) = Extent(solids);
    }

    /// <summary>Parts, then windings.</summary>
    public IReadOnlyList<SpaceSolid> Solids { get; }

    /// <summary>Places of the probes of the file.</summary>
    public IReadOnlyList<(string Name, Vector At)> Probes => [.. apparatus.Parts.Where(p => p.Shape is ProbeShape).Select(p => (p.Name, FreeSpace.Centre(p)))];

    /// <summary>Lines of the field at one instant or more.</summary>
    public IReadOnlyList<SpaceInstant> Lines { get; }

    /// <summary>Whether the lines of the whole period and the forces are there.</summary>
    public bool IsRefined { get; }

    /// <summary>Frequency, Hz; 0 for a field that stands still.</summary>
    public double Frequency => apparatus.Frequency;

    /// <summary>Lowest corner of the box round all bodies, m.</summary>
    public Vector Least { get; }

    /// <summary>Highest corner of the box round all bodies, m.</summary>
    public Vector Most { get; }

    /// <summary>Finds the field and its lines at the instant when the currents are strongest.</summary>
    /// <param name="apparatus">A free apparatus with every setting applied.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <param name="phase">Another instant, ωt in rad; null for that one.</param>
    /// <exception cref="RouteFailedException">No route knows the field around such bodies.</exception>
    public static SpaceStage Quick(Apparatus apparatus, CancellationToken cancellation, double? phase = null)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        var (around, route) = Surroundings.Of(apparatus, cancellation);
        var coils = apparatus.Windings.Select(w => SpaceSolids.Of(w) with { Current = Parts(around.Currents[w.Name]), Details = [.. Details(w, around.Currents[w.Name], apparatus.Frequency)] });
        var (least, most) = Extent([.. apparatus.Parts.Where(p => p.Shape is not IronPlaneShape).Select(p => SpaceSolids.Of(p, around.Foil, 0)).OfType<SpaceSolid>(), .. apparatus.Windings.Select(SpaceSolids.Of)]);
        var parts = apparatus.Parts.Select(p => SpaceSolids.Of(p, around.Foil, 0.8 * (most - least).Length) is { } s
            ? s with
            {
                Details = [.. Details(p)],
                Current = p.Shape is FoilLoopShape f ? (f.Carries, 0) : default,
                Weight = p.Freedom != Freedom.Fixed && Floats.MassIsKnown(p) ? Floats.Weight(p, apparatus.Depth) : null,
            }
            : null).OfType<SpaceSolid>();
        var solids = (IReadOnlyList<SpaceSolid>)[.. parts, .. coils];
        double strongest = apparatus.Frequency > 0 ? phase ?? Strongest(around.Currents.Values) : 0;
        return new SpaceStage(apparatus, around, route, solids, [new SpaceInstant(strongest, SpaceLines.Trace(around.FluxDensity, strongest, apparatus, least, most, cancellation))], false);
    }

    /// <summary>The same with the lines of a whole period, where they change their shape, and with the forces on what may move.</summary>
    /// <exception cref="RouteFailedException">The forces could not be found.</exception>
    public SpaceStage Refined(CancellationToken cancellation)
    {
        // Forces are dear between coils, and only what may move shows its own.
        bool Moves(SpaceSolid s) => apparatus.Parts.Any(p => Apparatus.Same(p.Name, s.Name) && p.Freedom != Freedom.Fixed);
        var loads = Solids.Any(Moves) ? route.Solve(apparatus, Wanted.Forces, 0.02, cancellation) : null;
        var solids = Solids.Select(s => loads is not null && Moves(s) && (loads.Loads.TryGetValue(s.Name, out var load) || loads.FoilLoads.TryGetValue(s.Name, out load))
            ? s with { Force = load.Force, Details = [.. s.Details, $"pushed with {Bodies.Label(load.Force.Length, load.ForceBar.Length, "N")}"] } : s);
        var lines = Lines;
        if (Frequency > 0 && !SharesOnePhase())
        {
            var (least, most) = Extent([.. Solids.Where(s => !IsPlane(s))]);
            var all = new SpaceInstant[Instants];
            Parallel.For(0, Instants, new ParallelOptions { CancellationToken = cancellation }, k =>
                all[k] = new SpaceInstant(2 * Math.PI * k / Instants, SpaceLines.Trace(around.FluxDensity, 2 * Math.PI * k / Instants, apparatus, least, most, cancellation)));
            lines = all;
        }

        return new SpaceStage(apparatus, around, route, [.. solids], lines, true);
    }

    /// <summary>Flux density at a point, T, peak phasors.</summary>
    public ComplexVector FluxDensity(Vector point) => around.FluxDensity(point);

    /// <summary>The field over a plane.</summary>
    public SpaceSlice Slice(SpacePlane plane)
    {
        var (least, most) = Extent([.. Solids.Where(s => !IsPlane(s))]);
        var middle = 0.5 * (least + most);
        double half = 0.75 * Math.Max(most.X - least.X, Math.Max(most.Y - least.Y, most.Z - least.Z));
        var (u, v) = plane.Axis switch { 0 => (middle.Y, middle.Z), 1 => (middle.X, middle.Z), _ => (middle.X, middle.Y) };
        double halfV = half * Rows / Columns;
        float[] values = new float[6 * Columns * Rows];
        Parallel.For(0, Rows, j =>
        {
            for (int i = 0; i < Columns; i++)
            {
                var b = FluxDensity(plane.Point(u - half + 2 * half * i / (Columns - 1), v - halfV + 2 * halfV * j / (Rows - 1)));
                int at = 6 * (j * Columns + i);
                (values[at], values[at + 1], values[at + 2], values[at + 3], values[at + 4], values[at + 5]) =
                    ((float)b.X.Real, (float)b.X.Imaginary, (float)b.Y.Real, (float)b.Y.Imaginary, (float)b.Z.Real, (float)b.Z.Imaginary);
            }
        });
        return new SpaceSlice(plane, u - half, u + half, v - halfV, v + halfV, Columns, Rows, values);
    }

    /// <summary>The plane that shows most at first: upright through the middle.</summary>
    public SpacePlane FirstPlane
    {
        get
        {
            var (least, most) = Extent([.. Solids.Where(s => !IsPlane(s))]);
            return new SpacePlane(1, 0.5 * (least.Y + most.Y));
        }
    }

    // Lines keep their shape over the period when all currents swing together and nothing answers with a lag.
    private bool SharesOnePhase() => apparatus.Parts.All(p => !FieldModels.Conducts(p) || p.Shape is ProbeShape)
        && around.Currents.Values.Where(c => c != 0).ToList() is var on && on.All(c => Math.Abs((c * Complex.Conjugate(on[0])).Imaginary) < 1e-3 * c.Magnitude * on[0].Magnitude);

    /// <summary>Whether it is an iron plane, which reaches beyond everything.</summary>
    internal static bool IsPlane(SpaceSolid solid) => solid.Matter == StageMatter.Magnetic && solid.Points.Count > 0 && solid.Points.All(p => p.Z == solid.Points[0].Z);

    private static double Strongest(IEnumerable<Complex> currents)
    {
        // Largest sum of squares of the instantaneous currents, Re(I e^jωt).
        var sum = currents.Aggregate(Complex.Zero, (s, c) => s + c * c);
        return sum == 0 ? 0 : -0.5 * sum.Phase;
    }

    private static (double, double) Parts(Complex value) => (value.Real, value.Imaginary);

    private static IEnumerable<string> Details(Part part)
    {
        if (!Apparatus.Same(part.Material.Name, part.Name))
            yield return part.Material.Name;
        if (part.Shape is FoilLoopShape f)
            yield return $"{Shown.Digits(f.Carries, 3)} A";
    }

    private static IEnumerable<string> Details(Winding winding, Complex current, double frequency)
    {
        yield return FormattableString.Invariant($"{winding.Turns:0.##} turns, {winding.Wire.Text}");
        yield return current == 0 ? "no current" : frequency == 0 ? $"{Shown.Digits(current.Real, 3)} A" : Bodies.Alternating(current);
    }

    private static (Vector Least, Vector Most) Extent(IReadOnlyList<SpaceSolid> solids)
    {
        var all = solids.SelectMany(s => s.Points).ToList();
        return all.Count == 0 ? (new Vector(-0.1, -0.1, -0.1), new Vector(0.1, 0.1, 0.1))
            : (new Vector(all.Min(p => p.X), all.Min(p => p.Y), all.Min(p => p.Z)), new Vector(all.Max(p => p.X), all.Max(p => p.Y), all.Max(p => p.Z)));
    }
}
