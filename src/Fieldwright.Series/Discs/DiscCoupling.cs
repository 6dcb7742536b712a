using System.Numerics;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Discs;

/// <summary>What alternating coils do to a disc that moves, spins and is warm. Means over a period.</summary>
/// <param name="Force">Mean force, N, in the axes of space, with that by the lag of its currents behind its motion.</param>
/// <param name="Torque">Mean torque about its centre, N·m.</param>
/// <param name="Heat">Mean heat in it, W.</param>
/// <param name="Haste">How much the field it meets changes in a radian of the alternation, because it moves, over that field: the force leaves out its square.</param>
public readonly record struct DiscInMotion(Vector Force, Vector Torque, double Heat, double Haste);

/// <summary>How a disc at one place and tilt hangs together with its coils: the flux each sends through every mode of its currents, and how that changes as it is moved or turned.</summary>
/// <remarks>
/// The flux of B through a stream function is b = ∫ T B_n dA; moved by u it changes by ∫ (K × B)·u dA, K being the current of T: so forces and torques are slopes of linkages, and what moves it against them is what it takes
/// from the field. Currents follow as x = −s/(1/c + sλ)·b − (1/c)/(1/c + sλ)²·ḃ: a disc that spins with Ω about its axis sees what goes m times round at s = j(ω + mΩ), exactly; that it slides and tilts is
/// counted to first order in the change over a radian. Phasors are peak values, exp(+jωt). Immutable; threads may share it.
/// </remarks>
/// <source key="Saslow1992" at="stream functions of thin sheets; the lag and the spin derived here"/>
public sealed class DiscCoupling
{
    private readonly Frame frame;
    private readonly DiscModes[] modes;
    private readonly double omega;
    private readonly DiscGrid grid;

    // [coil][order][mode], Wb/A, and the slopes along the two directions across, along the axis, and about them: [coil][order][direction][mode].
    private readonly Complex[][][] linkages;
    private readonly Complex[][][][] slopes;

    /// <summary>Finds the linkages.</summary>
    /// <param name="grid">Points of the disc.</param>
    /// <param name="turns">Most times that currents go round.</param>
    /// <param name="mode">Modes that go so many times round.</param>
    /// <param name="coils">The coils.</param>
    /// <param name="field">Field of a coil at a radius and height of its own, per ampere.</param>
    /// <param name="omega">Angular frequency, rad/s.</param>
    /// <param name="centre">Centre of the disc, m.</param>
    /// <param name="axis">Direction of its axis.</param>
    internal DiscCoupling(DiscGrid grid, int turns, Func<int, DiscModes> mode, IReadOnlyList<ThickCoil> coils, Func<int, double, double, AxialField> field, double omega, Vector centre, Vector axis)
    {
        frame = new Frame(centre, axis);
        this.omega = omega;
        this.grid = grid;
        var here = frame;
        // On one axis nothing changes round it: one place round stands for all, and slopes lead to once round only.
        var centred = coils.All(c => c.Frame.IsCoaxial(here, 10 * c.OuterRadius, out _, out _));
        var orders = centred ? Math.Min(2, turns + 1) : turns + 1;
        modes = [.. Enumerable.Range(0, orders).Select(mode)];
        linkages = new Complex[coils.Count][][];
        slopes = new Complex[coils.Count][][][];
        for (var c = 0; c < coils.Count; c++)
        {
            var parts = Harmonics(grid, coils[c].Frame, c, field, centred ? 1 : 4 * orders, centred ? 1 : orders + 1);
            linkages[c] = new Complex[orders][];
            slopes[c] = new Complex[orders][][];
            for (var m = 0; m < orders; m++)
                (linkages[c][m], slopes[c][m]) = Link(grid, modes[m], parts);
        }
    }

    /// <summary>Impedance the disc adds to the coils: U_i = Σ_j ΔZ_ij I_j on top of what the coils have alone.</summary>
    /// <param name="conductivity">Its conductivity over that described.</param>
    /// <returns>Symmetric matrix, Ω, coils in the order given; the real part is loss, the imaginary part of a disc is negative.</returns>
    public Complex[,] ReflectedImpedance(double conductivity = 1)
    {
        Guard.Positive(conductivity);
        var z = new Complex[linkages.Length, linkages.Length];
        var s = new Complex(0, omega);
        for (var m = 0; m < linkages[0].Length; m++)
            for (var n = 0; n < modes[m].Count; n++)
            {
                var answer = -s * s / (1 / conductivity + s * modes[m].Decay[n]);
                for (var i = 0; i < linkages.Length; i++)
                    for (var j = 0; j < linkages.Length; j++)
                    {
                        // What goes round the other way is the conjugate.
                        var product = Complex.Conjugate(linkages[i][m][n]) * linkages[j][m][n];
                        z[i, j] += answer * (m == 0 ? product : 2 * product.Real);
                    }
            }
        return z;
    }

    /// <summary>Force, torque and heat.</summary>
    /// <param name="currents">Peak current of each coil, A.</param>
    /// <param name="velocity">Velocity of the disc's centre, m/s.</param>
    /// <param name="spin">Its angular velocity, rad/s.</param>
    /// <param name="conductivity">Its conductivity over that described; positive.</param>
    /// <returns>Time means: force, N, torque about the centre, N·m, and heat, W.</returns>
    /// <exception cref="ArgumentException">There is not one current for each coil, or a number is out of range.</exception>
    public DiscInMotion At(IReadOnlyList<Complex> currents, Vector velocity = default, Vector spin = default, double conductivity = 1)
    {
        ArgumentNullException.ThrowIfNull(currents);
        Guard.Length(currents.Count, linkages.Length);
        Guard.Positive(conductivity);
        if (!velocity.IsFinite || !spin.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(velocity), "velocity and spin must be finite");
        var ((x, y), axis) = (frame.Across, frame.Axis);
        Span<double> speeds = [Vector.Dot(velocity, x), Vector.Dot(velocity, y), Vector.Dot(velocity, axis), Vector.Dot(spin, x), Vector.Dot(spin, y)];
        Span<double> loads = stackalloc double[6];
        Span<Complex> slope = stackalloc Complex[6];
        loads.Clear();
        double about = Vector.Dot(spin, axis), resistance = 1 / conductivity, heat = 0, all = 0, moved = 0;
        for (var m = 0; m < linkages[0].Length; m++)
            for (var sense = m == 0 ? 1 : -1; sense <= 1; sense += 2)
            {
                var s = new Complex(0, omega + sense * m * about);
                for (var n = 0; n < modes[m].Count; n++)
                {
                    Complex linkage = 0, change = 0;
                    slope.Clear();
                    for (var c = 0; c < linkages.Length; c++)
                    {
                        linkage += currents[c] * Sensed(linkages[c][m][n], sense);
                        for (var i = 0; i < 5; i++)
                            slope[i] += currents[c] * Sensed(slopes[c][m][i][n], sense);
                    }
                    slope[5] = new Complex(0, sense * m) * linkage;
                    for (var i = 0; i < 5; i++)
                        change += speeds[i] * slope[i];
                    var impedance = resistance + s * modes[m].Decay[n];
                    var current = -s / impedance * linkage;
                    heat += 0.5 * resistance * Square(current);
                    (all, moved) = (all + Square(linkage), moved + Square(change));
                    current -= resistance / (impedance * impedance) * change;
                    for (var i = 0; i < 6; i++)
                        loads[i] += 0.5 * (current.Real * slope[i].Real + current.Imaginary * slope[i].Imaginary);
                }
            }
        return new DiscInMotion(loads[0] * x + loads[1] * y + loads[2] * axis, loads[3] * x + loads[4] * y + loads[5] * axis, heat, all > 0 ? Math.Sqrt(moved / all) / omega : 0);
    }

    /// <summary>The currents of a disc at rest, brought to points of its middle plane.</summary>
    /// <param name="currents">Peak current of each coil, A.</param>
    /// <param name="round">Places round the disc.</param>
    /// <returns>The places, m, and current times length at each, A·m.</returns>
    internal (Vector[] Places, ComplexVector[] Elements) Elements(IReadOnlyList<Complex> currents, int round)
    {
        var radii = grid.Radii.Length;
        // Parts of the elements outwards and along φ that go m times round, either way.
        var parts = new List<(int Times, Complex[] Outward, Complex[] Along)>();
        for (var m = 0; m < linkages[0].Length; m++)
            for (var sense = m == 0 ? 1 : -1; sense <= 1; sense += 2)
            {
                Complex[] outward = new Complex[radii], along = new Complex[radii];
                for (var n = 0; n < modes[m].Count; n++)
                {
                    Complex linkage = 0, s = new(0, omega);
                    for (var c = 0; c < linkages.Length; c++)
                        linkage += currents[c] * Sensed(linkages[c][m][n], sense);
                    var current = -s / (1 + s * modes[m].Decay[n]) * linkage / round;
                    for (var g = 0; g < grid.Count; g++)
                    {
                        outward[g % radii] += current * new Complex(0, sense * modes[m].Round[n * grid.Count + g]);
                        along[g % radii] -= current * modes[m].Slope[n * grid.Count + g];
                    }
                }
                parts.Add((sense * m, outward, along));
            }
        var places = new Vector[radii * round];
        var elements = new ComplexVector[places.Length];
        for (var k = 0; k < round; k++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * k / round);
            var on = frame.Along(cos, sin);
            var away = Vector.Cross(on, frame.Axis);
            for (var i = 0; i < radii; i++)
            {
                Complex outward = 0, along = 0;
                foreach (var part in parts)
                {
                    var turn = Complex.FromPolarCoordinates(1, 2 * Math.PI * k * part.Times / round);
                    outward += turn * part.Outward[i];
                    along += turn * part.Along[i];
                }
                places[k * radii + i] = frame.PointAt(grid.Radii[i], cos, sin, 0);
                elements[k * radii + i] = new ComplexVector(outward * away.X + along * on.X, outward * away.Y + along * on.Y, outward * away.Z + along * on.Z);
            }
        }
        return (places, elements);
    }

    private static Complex Sensed(Complex z, int sense) => sense > 0 ? z : Complex.Conjugate(z);

    private static double Square(Complex z) => z.Real * z.Real + z.Imaginary * z.Imaginary;

    // Parts that go m times round, exp(imφ), of the field outwards, along φ and along the axis, real and imaginary, and of the potential along φ (none round only): [m] of points.
    private sealed class Parts(int orders, int count)
    {
        private static double[][] Room(int orders, int count) => [.. Enumerable.Range(0, 2 * orders).Select(_ => new double[count])];

        public double[][] Outward { get; } = Room(orders, count);

        public double[][] Along { get; } = Room(orders, count);

        public double[][] Through { get; } = Room(orders, count);

        public double[] Potential { get; } = new double[count];

        /// <summary>What goes m times round at a point; of a real field once back is the conjugate of once round.</summary>
        public Complex Of(double[][] all, int m, int g) =>
            m < 0 ? Complex.Conjugate(Of(all, -m, g)) : m < orders ? new Complex(all[2 * m][g], all[2 * m + 1][g]) : Complex.Zero;
    }

    private Parts Harmonics(DiscGrid grid, in Frame coil, int which, Func<int, double, double, AxialField> field, int round, int orders)
    {
        var parts = new Parts(orders, grid.Count);
        double[] br = new double[grid.Count], bp = new double[grid.Count], bn = new double[grid.Count];
        for (var k = 0; k < round; k++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * k / round);
            var on = frame.Along(cos, sin);
            var away = Vector.Cross(on, frame.Axis);
            for (var p = 0; p < grid.Heights.Length; p++)
                for (var i = 0; i < grid.Radii.Length; i++)
                {
                    var g = p * grid.Radii.Length + i;
                    var (r, z, outward) = coil.Local(frame.PointAt(grid.Radii[i], cos, sin, grid.Heights[p]));
                    var found = field(which, r, z);
                    var b = found.Radial * outward + found.Axial * coil.Axis;
                    (br[g], bp[g], bn[g]) = (Vector.Dot(b, away), Vector.Dot(b, on), Vector.Dot(b, frame.Axis));
                    parts.Potential[g] += found.VectorPotential * Vector.Dot(Vector.Cross(coil.Axis, outward), on) / round;
                }
            for (var m = 0; m < orders; m++)
            {
                var (back, forth) = Math.SinCos(-2 * Math.PI * ((long)m * k % round) / round);
                Add(forth / round, br, parts.Outward[2 * m]);
                Add(back / round, br, parts.Outward[2 * m + 1]);
                Add(forth / round, bp, parts.Along[2 * m]);
                Add(back / round, bp, parts.Along[2 * m + 1]);
                Add(forth / round, bn, parts.Through[2 * m]);
                Add(back / round, bn, parts.Through[2 * m + 1]);
            }
        }
        return parts;
    }

    // With f = K × B of the conjugate function, K_φ = −T′ e^(−imφ), K_r = −(im/r) T e^(−imφ): across, (f_x ± i f_y) takes what goes m ∓ 1 times round of B_n; along the axis K_r B_φ − K_φ B_r; torque is r × f.
    private static (Complex[] Linkages, Complex[][] Slopes) Link(DiscGrid grid, DiscModes modes, Parts parts)
    {
        int m = modes.Order, count = grid.Count, radii = grid.Radii.Length;
        var j = Complex.ImaginaryOne;
        // What T, T′ and (m/r) T are summed with, for the linkage and the five slopes (along the axis, across x ± iy, about x ± iy); real and imaginary parts one after the other.
        double[] value = new double[2 * count];
        double[][] slope = [.. Enumerable.Range(0, 5).Select(_ => new double[2 * count])], round = [.. Enumerable.Range(0, 5).Select(_ => new double[2 * count])];
        for (var g = 0; g < count; g++)
        {
            double r = grid.Radii[g % radii], z = grid.Heights[g / radii];
            Complex less = parts.Of(parts.Through, m - 1, g), more = parts.Of(parts.Through, m + 1, g);
            Set(value, parts.Of(parts.Through, m, g));
            Set(slope[0], parts.Of(parts.Outward, m, g));
            Set(round[0], -j * parts.Of(parts.Along, m, g));
            Set(slope[1], -less);
            Set(round[1], -less);
            Set(slope[2], -more);
            Set(round[2], more);
            Set(slope[3], -j * (r * parts.Of(parts.Outward, m - 1, g) + z * less));
            Set(round[3], -r * parts.Of(parts.Along, m - 1, g) - j * z * less);
            Set(slope[4], j * (r * parts.Of(parts.Outward, m + 1, g) + z * more));
            Set(round[4], r * parts.Of(parts.Along, m + 1, g) - j * z * more);

            void Set(double[] into, Complex of) => (into[g], into[count + g]) = (of.Real, of.Imaginary);
        }
        var linkages = new Complex[modes.Count];
        Complex[][] slopes = [.. Enumerable.Range(0, 5).Select(_ => new Complex[modes.Count])];
        Span<Complex> sums = stackalloc Complex[5];
        for (var n = 0; n < modes.Count; n++)
        {
            ReadOnlySpan<double> atSlope = modes.Slope.AsSpan(n * count, count), atRound = modes.Round.AsSpan(n * count, count);
            // None round the flux is the potential along the rim of every ring, which counts what goes through a hole too.
            linkages[n] = m == 0 ? -Dot(atSlope, parts.Potential) : Twice(modes.Value.AsSpan(n * count, count), value);
            for (var i = 0; i < 5; i++)
                sums[i] = Twice(atSlope, slope[i]) + (m == 0 ? 0 : Twice(atRound, round[i]));
            slopes[2][n] = sums[0];
            (slopes[0][n], slopes[1][n]) = (0.5 * (sums[1] + sums[2]), -0.5 * j * (sums[1] - sums[2]));
            (slopes[3][n], slopes[4][n]) = (0.5 * (sums[3] + sums[4]), -0.5 * j * (sums[3] - sums[4]));
        }
        return (linkages, slopes);
    }

    private static void Add(double factor, double[] of, double[] into)
    {
        var wide = System.Numerics.Vector<double>.Count;
        var at = 0;
        for (; at <= of.Length - wide; at += wide)
            (new System.Numerics.Vector<double>(into, at) + factor * new System.Numerics.Vector<double>(of, at)).CopyTo(into, at);
        for (; at < of.Length; at++)
            into[at] += factor * of[at];
    }

    private static Complex Twice(ReadOnlySpan<double> weights, ReadOnlySpan<double> parts) => new(Dot(weights, parts[..weights.Length]), Dot(weights, parts[weights.Length..]));

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var wide = System.Numerics.Vector<double>.Count;
        var sum = System.Numerics.Vector<double>.Zero;
        var at = 0;
        for (; at <= a.Length - wide; at += wide)
            sum += new System.Numerics.Vector<double>(a[at..]) * new System.Numerics.Vector<double>(b[at..]);
        var total = System.Numerics.Vector.Sum(sum);
        for (; at < a.Length; at++)
            total += a[at] * b[at];
        return total;
    }
}
