using System.Collections.Concurrent;
using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Discs;

/// <summary>What acts on a disc in the mean over a cycle.</summary>
/// <param name="Force">Mean force, N, in the axes of space.</param>
/// <param name="Torque">Mean torque about the disc's centre, N·m.</param>
/// <param name="Loss">Mean heat in the disc, W.</param>
/// <param name="ForceError">Error of the force, N: the change when functions and turns round are fewer.</param>
/// <param name="TorqueError">Error of the torque, N·m, found likewise.</param>
/// <param name="LossError">Error of the heat, W, found likewise.</param>
public sealed record DiscResponse(Vector Force, Vector Torque, double Loss, double ForceError, double TorqueError, double LossError);

/// <summary>A flat round disc or ring of metal anywhere over round coils with alternating currents of one frequency, displaced and tilted as one likes.</summary>
/// <remarks>
/// The induced current is a sum of stream functions (<see cref="DiscModes"/>), so many times round, so many across, so many through the thickness, driven by the field of the coils through it; force, torque
/// and heat follow from how that changes as it moves (<see cref="DiscCoupling"/>). Currents are given: the coils do not feel the disc. Left out are currents across the thickness: good where it is small
/// beside radius or width. Phasors are peak values, exp(+jωt). Threads may share it.
/// </remarks>
public sealed class DiscOverCoils
{
    // Error of a slope by the step it is taken over, as a share.
    private const double StepError = 5e-4;

    private const int MostFunctions = 24, MostDepths = 12, MostTurns = 24;
    private readonly CoilSource[] sources;
    private readonly ConcurrentDictionary<(int Order, Size Size), DiscModes> modes;
    private readonly ConcurrentDictionary<Size, DiscGrid> grids;
    private readonly ThickCoil[] coils;
    private readonly Complex[] currents;
    private readonly ConcurrentDictionary<int, DiscInductances> inductances;

    /// <summary>Sets up the disc and its coils.</summary>
    /// <param name="body">The disc.</param>
    /// <param name="sources">The coils with their peak currents; at least one.</param>
    /// <param name="frequency">Frequency, Hz; positive.</param>
    /// <exception cref="ArgumentException">There is no coil, a current is not finite or the frequency is out of range.</exception>
    public DiscOverCoils(DiscBody body, IReadOnlyList<CoilSource> sources, double frequency)
        : this(body, sources, frequency, new(), new(), new())
    {
    }

    private DiscOverCoils(DiscBody body, IReadOnlyList<CoilSource> sources, double frequency,
        ConcurrentDictionary<(int, Size), DiscModes> modes, ConcurrentDictionary<Size, DiscGrid> grids, ConcurrentDictionary<int, DiscInductances> inductances)
    {
        ArgumentNullException.ThrowIfNull(body);
        Body = body;
        this.sources = CoilSource.Checked(sources);
        (coils, currents) = (Array.ConvertAll(this.sources, c => c.Coil), Array.ConvertAll(this.sources, c => c.PeakCurrent));
        Frequency = Guard.Positive(frequency);
        (this.modes, this.grids, this.inductances) = (modes, grids, inductances);
    }

    /// <summary>The same disc over other coils, in other currents or of another frequency; what is known of the disc is kept.</summary>
    /// <param name="others">The coils with their peak currents; at least one.</param>
    /// <param name="frequency">Frequency, Hz; positive.</param>
    /// <returns>The disc over them, sharing what is known of it.</returns>
    /// <exception cref="ArgumentException">There is no coil, a current is not finite or the frequency is out of range.</exception>
    public DiscOverCoils Over(IReadOnlyList<CoilSource> others, double frequency) => new(Body, others, frequency, modes, grids, inductances);

    /// <summary>The disc.</summary>
    public DiscBody Body { get; }

    /// <summary>Frequency, Hz.</summary>
    public double Frequency { get; }

    /// <summary>The coils and their peak currents.</summary>
    public IReadOnlyList<CoilSource> Sources => sources;

    private double AngularFrequency => 2 * Math.PI * Frequency;

    private double SkinDepth => Math.Sqrt(2 / (AngularFrequency * PhysicalConstants.MagneticConstant * Body.Conductivity));

    /// <summary>Force, torque and heat at one place and tilt.</summary>
    /// <param name="centre">Centre of the disc, m.</param>
    /// <param name="axis">Direction of its axis, of any length.</param>
    /// <param name="tolerance">Relative error allowed in force and heat, between 1e-8 and 0.1.</param>
    /// <returns>The answer with its errors.</returns>
    /// <exception cref="ArgumentException">The place or direction is not finite or zero.</exception>
    /// <exception cref="NotConvergedException">The disc is so near a winding or so much thicker than its skin depth that the sums do not settle to 1 %.</exception>
    public DiscResponse Evaluate(Vector centre, Vector axis, double tolerance = 1e-4)
    {
        Guard.InRange(tolerance, 1e-8, 0.1);
        var size = First();
        var last = Sum(size, centre, axis);
        for (var step = 1; ; step++)
        {
            size = size.Raised();
            var next = Sum(size, centre, axis);
            double force = (next.Force - last.Force).Length, loss = Math.Abs(next.Loss - last.Loss), scale = Scale(next);
            var settled = new DiscResponse(next.Force, next.Torque, next.Loss, force, (next.Torque - last.Torque).Length, loss);
            if (force <= tolerance * scale && loss <= tolerance * next.Loss || next.Loss == 0)
                return settled;
            if (size.IsLast || step == 6)
                return force <= 0.01 * scale ? settled : throw new NotConvergedException("The currents of the disc", force / scale, step);
            last = next;
        }
    }

    /// <summary>How the disc hangs together with its coils at one place, described as at first: to a hundredth or so.</summary>
    /// <param name="centre">Centre of the disc, m.</param>
    /// <param name="axis">Direction of its axis, of any length.</param>
    /// <returns>What the coils send through the modes of its currents there, and the slopes of that.</returns>
    /// <exception cref="ArgumentException">The place or direction is not finite or zero.</exception>
    public DiscCoupling Couple(Vector centre, Vector axis) => Couple(First(), centre, axis);

    /// <summary>The field of coils and disc together, to be drawn.</summary>
    /// <param name="centre">Centre of the disc, m.</param>
    /// <param name="axis">Direction of its axis, of any length.</param>
    /// <returns>The field, T, at any point.</returns>
    /// <exception cref="ArgumentException">The place or direction is not finite or zero.</exception>
    public DiscField Field(Vector centre, Vector axis)
    {
        const int round = 96;
        var size = First().Raised().Raised();
        var (places, elements) = Couple(size, centre, axis).Elements(currents, round);
        var softness = Math.Max(0.5 * Body.Thickness, Math.Min(Math.PI / round * Body.OuterRadius, 0.5 * (Body.OuterRadius - Body.InnerRadius) / size.Radii));
        return new DiscField(sources, places, elements, softness);
    }

    /// <summary>Impedance the disc adds to the coils: U_i = Σ_j ΔZ_ij I_j on top of what the coils have alone.</summary>
    /// <param name="centre">Centre of the disc, m.</param>
    /// <param name="axis">Direction of its axis, of any length.</param>
    /// <param name="tolerance">Relative error allowed, between 1e-8 and 0.1.</param>
    /// <returns>Symmetric matrix, Ω, coils in the order given; the real part is loss, the imaginary part of a disc is negative.</returns>
    /// <exception cref="ArgumentException">The place or direction is not finite or zero.</exception>
    /// <exception cref="NotConvergedException">As for <see cref="Evaluate"/>.</exception>
    /// <source key="Saslow1992" at="stream functions of thin sheets"/>
    public Complex[,] ReflectedImpedance(Vector centre, Vector axis, double tolerance = 1e-4)
    {
        Guard.InRange(tolerance, 1e-8, 0.1);
        var size = First();
        var last = Reflected(size, centre, axis);
        for (var step = 1; ; step++)
        {
            size = size.Raised();
            var next = Reflected(size, centre, axis);
            double change = 0, scale = 0;
            for (var i = 0; i < sources.Length; i++)
                (change, scale) = (Math.Max(change, (next[i, i] - last[i, i]).Magnitude), Math.Max(scale, next[i, i].Magnitude));
            if (change <= tolerance * scale)
                return next;
            if (size.IsLast || step == 6)
                return change <= 0.01 * scale ? next : throw new NotConvergedException("What the disc reflects into the coils", change / scale, step);
            last = next;
        }
    }

    /// <summary>Stiffnesses of a disc that lies level and centred over coaxial coils about z, the currents held.</summary>
    /// <param name="height">Height of the disc's middle plane, m.</param>
    /// <param name="tolerance">Relative error allowed in the forces they are the slopes of.</param>
    /// <returns>The four stiffnesses.</returns>
    /// <exception cref="ArgumentException">A coil is not about z.</exception>
    /// <exception cref="NotConvergedException">As for <see cref="Evaluate"/>.</exception>
    public DiscStiffness Stiffness(double height, double tolerance = 1e-4)
    {
        foreach (var source in sources)
            if (!source.Coil.IsAboutZ)
                throw new ArgumentException("The stiffness about the axis needs every coil about the z axis.");
        // To first order a shift or a tilt changes what goes once round only; twice is kept for the steps' own size.
        var size = First() with { Turns = 2 };
        var last = Slopes(size, height);
        for (var step = 1; ; step++)
        {
            size = size.Raised() with { Turns = 2 };
            var next = Slopes(size, height);
            double[] was = [last.Sideways, last.SidewaysByTilt / Body.OuterRadius, last.TiltBySideways / Body.OuterRadius, last.Tilting / (Body.OuterRadius * Body.OuterRadius)];
            double[] now = [next.Sideways, next.SidewaysByTilt / Body.OuterRadius, next.TiltBySideways / Body.OuterRadius, next.Tilting / (Body.OuterRadius * Body.OuterRadius)];
            var scale = now.Max(Math.Abs);
            var error = scale == 0 ? 0 : now.Zip(was, (a, b) => Math.Abs(a - b)).Max() / scale + next.RelativeError;
            if (error <= tolerance + StepError)
                return next with { RelativeError = error };
            if (size.IsLast || step == 6)
                return error <= 0.05 ? next with { RelativeError = error } : throw new NotConvergedException("The stiffness of the disc", error, step);
            last = next;
        }
    }

    // By symmetry the force along x and the torque about y are odd: one small step to one side tells the slope, but for the square of the step.
    private DiscStiffness Slopes(Size size, double height)
    {
        const double angle = 0.005;
        var step = angle * Body.OuterRadius;
        var aside = Sum(size, new Vector(step, 0, height), Vector.AlongZ);
        var tilted = Sum(size, new Vector(0, 0, height), new Vector(Math.Sin(angle), 0, Math.Cos(angle)));
        // What the lag does is linear in the speeds, which may be any.
        var level = Couple(size, new Vector(0, 0, height), Vector.AlongZ);
        DiscInMotion sliding = level.At(currents, new Vector(1, 0, 0)), tilting = level.At(currents, default, new Vector(0, 1, 0));
        return new(-aside.Force.X / step, -tilted.Force.X / angle, -aside.Torque.Y / step, -tilted.Torque.Y / angle, StepError)
        {
            Lag = (-sliding.Force.X, -tilting.Force.X, -sliding.Torque.Y, -tilting.Torque.Y),
        };
    }

    private Complex[,] Reflected(Size size, Vector centre, Vector axis) => Couple(size, centre, axis).ReflectedImpedance();

    /// <summary>How the disc hangs together with its coils at one place, described so finely.</summary>
    internal DiscCoupling Couple(Size size, Vector centre, Vector axis, CoilTable[]? tables = null)
    {
        var grid = grids.GetOrAdd(size with { Turns = 0 }, key => new DiscGrid(Body, key));
        return new DiscCoupling(grid, size.Turns, m => Mode(m, size, grid), coils, tables is null ? (c, r, z) => coils[c].Field(r, z) : (c, r, z) => tables[c].Field(r, z), AngularFrequency, centre, axis);
    }

    // What a force is small beside: itself, what torque and heat would make it. In an even field there is none.
    private double Scale((Vector Force, Vector Torque, double Loss) of) =>
        Math.Max(of.Force.Length, 0.01 * Math.Max(of.Torque.Length, of.Loss / AngularFrequency) / Body.OuterRadius);

    internal Size First()
    {
        var depths = 2 + (int)Math.Min(6, Body.Thickness / SkinDepth);
        var width = Body.OuterRadius - Body.InnerRadius;
        return new Size(5 + (int)Math.Min(8, 0.5 * width / SkinDepth), depths, 3);
    }

    private DiscModes Mode(int order, Size size, DiscGrid grid) =>
        modes.GetOrAdd((order, size with { Turns = 0 }), key => new DiscModes(Body, order, size.Functions, size.Depths, grid, Inductances(order, size)));

    // Found for the size after the one asked, which is all but sure to be asked next.
    private DiscInductances Inductances(int order, Size size)
    {
        var raised = size.Raised();
        return inductances.AddOrUpdate(order, _ => new DiscInductances(Body, order, raised.Functions, raised.Depths),
            (_, known) => known.Functions >= size.Functions && known.Depths >= size.Depths ? known : new DiscInductances(Body, order, raised.Functions, raised.Depths));
    }

    private (Vector Force, Vector Torque, double Loss) Sum(Size size, Vector centre, Vector axis)
    {
        var (force, torque, heat, _) = Couple(size, centre, axis).At(currents);
        return (force, torque, heat);
    }

    /// <summary>How finely the currents are described: radial functions, polynomials through the thickness, and the most times they go round.</summary>
    internal readonly record struct Size(int Functions, int Depths, int Turns)
    {
        public bool IsLast => Functions >= MostFunctions || Depths >= MostDepths;

        /// <summary>Radii at which the field is taken.</summary>
        public int Radii => Functions + 9;

        public Size Raised() => new(Functions + 3, Depths + 1, Math.Min(MostTurns, Turns + 2));
    }
}
