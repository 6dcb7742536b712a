using System.Numerics;
using Fieldwright.Circuits.Elements;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Magnetic;

/// <summary>A flat ring of steel of rectangular section, closed or cut once with parallel faces.</summary>
/// <param name="InnerRadius">Inner radius, m.</param>
/// <param name="OuterRadius">Outer radius, m.</param>
/// <param name="Depth">Depth, m.</param>
/// <param name="Matter">What it is made of.</param>
/// <param name="Gap">Width of the cut, m; 0 when closed.</param>
/// <param name="GapAt">Where the cut lies, rad from the x axis towards y.</param>
public sealed record RingCore(double InnerRadius, double OuterRadius, double Depth, PathMatter Matter, double Gap = 0, double GapAt = 0);

/// <summary>A coil on the limb of a ring. Positive current drives flux counter-clockwise, with positive turns.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Turns">Turns; negative when wound the other way.</param>
/// <param name="CentredAt">Where its middle lies, rad from the x axis towards y.</param>
/// <param name="Length">Length along the limb at the mean radius of the ring, m.</param>
/// <param name="Build">Thickness of the winding, m.</param>
/// <param name="Clearance">Distance between steel and wire, m.</param>
public sealed record LimbCoil(string Name, double Turns, double CentredAt, double Length, double Build, double Clearance);

/// <summary>How far the leakage of a ring is followed.</summary>
public enum LeakageFrom
{
    /// <summary>From bore and outside only, as in a field that does not vary along the depth.</summary>
    BoreAndOutside,

    /// <summary>From the two flat faces as well, taken in the proportion of their width to the depth.</summary>
    AllFaces,
}

/// <summary>A ring with coils as a magnetic circuit: a chain of steel sectors with the coils' magnetomotive force spread along them, the gap, and leakage from everywhere to everywhere.</summary>
/// <remarks>
/// <para>Leakage and the fringing round the gap are one thing here: the flux that air carries between parts of the ring at different potential. Bore and outside of a
/// long ring are exact for a potential that runs straight between the nodes; the bulge of the field within the mouth of the gap is put in from the conformal map of two
/// facing blocks (see <see cref="MouthCorrection"/>). Not counted: eddy currents, hysteresis, flux through the corners of a deep ring.</para>
/// <para>Accuracy: against a plane field, a few per cent of each inductance while the steel is at least some tens of times as permeable as air and the gap is at most a third
/// of the ring's width. The flat faces are the weak point of a ring that is not much deeper than wide; the two settings of <see cref="LeakageFrom"/> bracket them, and
/// their difference is the bar to state. Without steel use the coils' own inductances instead: below a relative permeability of 30 the ring is refused.</para>
/// </remarks>
/// <source key="Balakrishnan1997"/>
public sealed class GappedRing
{
    /// <summary>How much the straight run of potential across the mouth of a gap overstates its permeance, per edge and depth, over μ₀: ln(4/π)/π.</summary>
    /// <remarks>From the Schwarz–Christoffel map of two facing blocks the fringe of an edge is (1/π)(1 + ln(πh/2g)); a straight run gives (1/π)(1 + ln 2 + ln(h/g)).</remarks>
    internal static readonly double MouthCorrection = Math.Log(4 / Math.PI) / Math.PI;

    private const double Mu0 = PhysicalConstants.MagneticConstant;
    private readonly RingCore core;
    private readonly IReadOnlyList<LimbCoil> coils;
    private readonly double[] angles, leakage, windowLeakage;
    private readonly double[,] turns;
    private readonly double gapPermeance;

    private GappedRing(RingCore core, IReadOnlyList<LimbCoil> coils, double[] angles, double[,] turns, double[] leakage, double[] windowLeakage, double gapPermeance) =>
        (this.core, this.coils, this.angles, this.turns, this.leakage, this.windowLeakage, this.gapPermeance) = (core, coils, angles, turns, leakage, windowLeakage, gapPermeance);

    /// <summary>The coils, in the order of currents and linkages.</summary>
    public IReadOnlyList<LimbCoil> Coils => coils;

    // Sectors of steel; with a gap the last interval is the gap.
    private int Sectors => core.Gap > 0 ? angles.Length - 1 : angles.Length;

    /// <summary>Lays the ring out.</summary>
    /// <param name="core">The ring.</param>
    /// <param name="coils">One coil at least; they may not reach over the gap or one another.</param>
    /// <param name="leakage">Which faces leak.</param>
    /// <param name="sectors">About how many sectors; the answers change by less than 0.2 % beyond the usual number.</param>
    /// <exception cref="ArgumentException">A size is out of range, a coil reaches over the gap or another coil, or the matter is hardly magnetic.</exception>
    public static GappedRing Create(RingCore core, IReadOnlyList<LimbCoil> coils, LeakageFrom leakage = LeakageFrom.AllFaces, int sectors = 64)
    {
        ArgumentNullException.ThrowIfNull(core);
        ArgumentNullException.ThrowIfNull(coils);
        Guard.Positive(core.InnerRadius);
        double width = Guard.Positive(core.OuterRadius - core.InnerRadius, nameof(core)), mean = core.InnerRadius + 0.5 * width;
        Guard.Positive(core.Depth);
        Guard.InRange(core.Gap, 0, core.InnerRadius, nameof(core));
        Guard.Finite(core.GapAt);
        Guard.InRange(sectors, 12, 400);
        Guard.InRange(core.Matter.StackingFactor, 0.01, 1, nameof(core));
        if (core.Matter.Curve is null && !(core.Matter.RelativePermeability >= 30))
            throw new ArgumentException($"A ring of relative permeability {core.Matter.RelativePermeability:G4} leads no flux: a circuit serves from 30 on.", nameof(core));
        if (coils.Count == 0)
            throw new ArgumentException("A ring without a coil has no flux.", nameof(coils));

        double half = 0.5 * core.Gap / mean, start = core.GapAt + half, end = core.GapAt + 2 * Math.PI - half;
        var spans = coils.Select(c => Span(c, start, end, mean, core.Gap > 0)).ToList();
        var angles = Angles(start, end, core.Gap > 0, spans, half, sectors);
        int count = core.Gap > 0 ? angles.Length - 1 : angles.Length;
        var turns = new double[coils.Count, count];
        for (int i = 0; i < coils.Count; i++)
            for (int k = 0; k < count; k++)
            {
                double from = angles[k], to = k + 1 < angles.Length ? angles[k + 1] : angles[0] + 2 * Math.PI;
                foreach (double shift in new[] { -2 * Math.PI, 0, 2 * Math.PI })
                    turns[i, k] += coils[i].Turns * Math.Max(0, Math.Min(to, spans[i].To + shift) - Math.Max(from, spans[i].From + shift)) / (spans[i].To - spans[i].From);
            }

        double faces = leakage == LeakageFrom.AllFaces ? (core.Depth + width) / core.Depth : 1;
        double permeance = core.Gap > 0 ? Mu0 * core.Depth * (width / core.Gap - 2 * MouthCorrection * faces) : 0;
        if (core.Gap > 0 && !(permeance > 0))
            throw new ArgumentException("The gap is too wide for its faces: no circuit serves it.", nameof(core));
        // Flux in the clearance and in the build itself, which falls linearly through the build.
        double[] window = [.. coils.Select(c => Mu0 * c.Turns * c.Turns * 2 * (leakage == LeakageFrom.AllFaces ? core.Depth + width + 4 * c.Clearance : core.Depth)
            * (Guard.NotNegative(c.Clearance) + Guard.NotNegative(c.Build) / 3) / c.Length)];
        return new(core, coils, angles, turns, RoundLeakage.Conductance(angles, core.Depth * faces), window, permeance);
    }

    /// <summary>The state at steady currents.</summary>
    /// <param name="currents">Current of each coil, A.</param>
    /// <exception cref="NetworkNotConvergedException">The iteration did not settle.</exception>
    public RingState Steady(params ReadOnlySpan<double> currents)
    {
        Guard.Length(currents.Length, coils.Count);
        var complex = new Complex[currents.Length];
        for (int i = 0; i < currents.Length; i++)
            complex[i] = Guard.Finite(currents[i], nameof(currents));
        var network = Build(complex);
        var state = network.Steady();
        return Read(complex, false, k => state.Flow($"s{k}"), k => state.Drop($"s{k}"), () => state.Drop("gap"));
    }

    /// <summary>The state at alternating currents; effective permeabilities under a sinusoidal flux. Frequency does not enter: eddy currents are left out.</summary>
    /// <param name="currents">Peak phasor of the current of each coil, A.</param>
    /// <exception cref="NetworkNotConvergedException">The iteration did not settle.</exception>
    public RingState Alternating(params ReadOnlySpan<Complex> currents)
    {
        Guard.Length(currents.Length, coils.Count);
        var complex = currents.ToArray();
        var state = Build(complex).Alternating(50);
        return Read(complex, true, k => state.Flow($"s{k}"), k => state.Drop($"s{k}"), () => state.Drop("gap"));
    }

    private RingState Read(Complex[] currents, bool amplitude, Func<int, Complex> flux, Func<int, Complex> drop, Func<Complex> gapDrop)
    {
        var fluxes = new Complex[Sectors];
        var forces = new Complex[Sectors];
        var frozen = new double[Sectors];
        double iron = 0;
        for (int k = 0; k < Sectors; k++)
        {
            fluxes[k] = flux(k);
            for (int i = 0; i < coils.Count; i++)
                forces[k] += turns[i, k] * currents[i];
            var spent = drop(k) + forces[k];
            iron += Complex.Abs(spent);
            var sector = (RingSector)Sector(k, 0, 0);
            double size = Complex.Abs(spent);
            frozen[k] = amplitude ? sector.PeakFlow(size, out double slope) : sector.Flow(size, out slope);
            frozen[k] = size > 0 ? frozen[k] / size : slope;
        }

        int n = coils.Count;
        var inductance = FrozenInductances(frozen);
        var linkage = new Complex[n];
        for (int i = 0; i < n; i++)
        {
            linkage[i] = windowLeakage[i] * currents[i];
            for (int k = 0; k < Sectors; k++)
                linkage[i] += turns[i, k] * fluxes[k];
        }

        double section = core.Depth * (core.OuterRadius - core.InnerRadius) * core.Matter.StackingFactor;
        return new RingState(coils, currents, linkage, inductance, fluxes, section, iron, core.Gap > 0 ? Complex.Abs(gapDrop()) : 0,
            core.Gap > 0 ? Complex.Abs(gapDrop()) * Mu0 / core.Gap : null);
    }

    // With every permeability held as it is, linkages are linear in the currents.
    private double[,] FrozenInductances(double[] permeance)
    {
        int n = coils.Count;
        var l = new double[n, n];
        for (int j = 0; j < n; j++)
        {
            var network = new Network();
            for (int k = 0; k < Sectors; k++)
                network.Add(new Reluctance($"s{k}", Node(k), Node(k + 1), 1, permeance[k] / Mu0, new PathMatter(null), turns[j, k]));
            Close(network);
            var state = network.Steady();
            for (int k = 0; k < Sectors; k++)
            {
                double flux = state.Flow($"s{k}");
                for (int i = 0; i < n; i++)
                    l[i, j] += turns[i, k] * flux;
            }

            l[j, j] += windowLeakage[j];
        }

        for (int i = 0; i < n; i++)
            for (int j = 0; j < i; j++)
                l[i, j] = l[j, i] = 0.5 * (l[i, j] + l[j, i]);
        return l;
    }

    private Network Build(Complex[] currents)
    {
        var network = new Network();
        for (int k = 0; k < Sectors; k++)
        {
            Complex force = 0;
            for (int i = 0; i < coils.Count; i++)
                force += turns[i, k] * currents[i];
            network.Add(Sector(k, force.Real, force));
        }

        return Close(network);
    }

    private Network Close(Network network)
    {
        if (core.Gap > 0)
            network.Add(new Reluctance("gap", Node(Sectors), Node(0), 1, gapPermeance / Mu0, new PathMatter(null)));
        return network.Add(new ConductanceBlock("leakage", [.. Enumerable.Range(0, angles.Length).Select(Node)], leakage));
    }

    // Flux counts counter-clockwise, from node k to k + 1; a coil lifts the potential along it.
    private RingSector Sector(int k, double force, Complex phasor) => new($"s{k}", Node(k), Node(k + 1), core.InnerRadius, core.OuterRadius, core.Depth,
        (k + 1 < angles.Length ? angles[k + 1] : angles[0] + 2 * Math.PI) - angles[k], core.Matter, force, phasor);

    private string Node(int k) => k % angles.Length == 0 ? Network.Reference : $"n{k}";

    private static (double From, double To) Span(LimbCoil coil, double start, double end, double mean, bool cut)
    {
        Guard.Finite(coil.Turns);
        double half = 0.5 * Guard.Positive(coil.Length) / mean, middle = Guard.Finite(coil.CentredAt);
        while (middle < start)
            middle += 2 * Math.PI;
        while (middle > start + 2 * Math.PI)
            middle -= 2 * Math.PI;
        if (half > Math.PI || cut && (middle - half < start - 1e-9 || middle + half > end + 1e-9))
            throw new ArgumentException($"Coil {coil.Name} is longer than the limb, or reaches over the gap.", nameof(coil));
        return (middle - half, middle + half);
    }

    // Even steps, the ends of the coils among them, and finer towards the faces of the gap.
    private static double[] Angles(double start, double end, bool cut, List<(double From, double To)> spans, double half, int sectors)
    {
        var marks = new SortedSet<double> { start };
        double Within(double a)
        {
            while (a < start)
                a += 2 * Math.PI;
            while (a > start + 2 * Math.PI)
                a -= 2 * Math.PI;
            return a;
        }

        foreach (var (from, to) in spans)
        {
            marks.Add(Within(from));
            marks.Add(Within(to));
        }

        if (cut)
        {
            marks.Add(end);
            for (double step = 2 * half; step < 0.4; step *= 1.6)
            {
                marks.Add(start + step);
                marks.Add(end - step);
            }
        }
        else
        {
            marks.Add(start + 2 * Math.PI);
        }

        var list = new List<double>();
        double largest = 2 * Math.PI / sectors;
        foreach (double mark in marks)
        {
            if (list.Count > 0)
            {
                double from = list[^1], gap = mark - from;
                if (gap < 1e-6)
                    continue;
                int parts = (int)Math.Ceiling(gap / largest);
                for (int k = 1; k < parts; k++)
                    list.Add(from + gap * k / parts);
            }

            list.Add(mark);
        }

        if (!cut)
            list.RemoveAt(list.Count - 1);
        return [.. list];
    }
}

/// <summary>What a ring does at given currents. Peak phasors in alternating work; real in steady work.</summary>
public sealed class RingState
{
    internal RingState(IReadOnlyList<LimbCoil> coils, Complex[] currents, Complex[] linkage, double[,] inductance, Complex[] fluxes, double section, double iron, double gap, double? gapDensity)
    {
        Coils = coils;
        Currents = currents;
        FluxLinkages = linkage;
        Inductances = inductance;
        Fluxes = fluxes;
        LargestFluxDensity = fluxes.Max(Complex.Abs) / section;
        IronAmpereTurns = iron;
        GapAmpereTurns = gap;
        GapFluxDensity = gapDensity;
    }

    /// <summary>The coils, in the order of everything here.</summary>
    public IReadOnlyList<LimbCoil> Coils { get; }

    /// <summary>Currents, A.</summary>
    public IReadOnlyList<Complex> Currents { get; }

    /// <summary>Flux linkage of each coil, Wb.</summary>
    public IReadOnlyList<Complex> FluxLinkages { get; }

    /// <summary>Inductances with every permeability held as it is in this state, H: symmetric, and linkage = L · current.</summary>
    public double[,] Inductances { get; }

    /// <summary>Flux through the section of each sector, counter-clockwise from the gap, Wb.</summary>
    public IReadOnlyList<Complex> Fluxes { get; }

    /// <summary>Largest mean flux density of a section, in the metal, T.</summary>
    public double LargestFluxDensity { get; }

    /// <summary>Share of the greatest flux that does not get through the section of least flux: what leaks on the way.</summary>
    public double LeakageShare
    {
        get
        {
            double most = Fluxes.Max(Complex.Abs);
            return most == 0 ? 0 : 1 - Fluxes.Min(Complex.Abs) / most;
        }
    }

    /// <summary>Ampere-turns spent along the steel, A (sum of magnitudes).</summary>
    public double IronAmpereTurns { get; }

    /// <summary>Ampere-turns spent across the gap, A.</summary>
    public double GapAmpereTurns { get; }

    /// <summary>Flux density in the middle of the gap, T; null when the ring is closed.</summary>
    public double? GapFluxDensity { get; }

    /// <summary>Coupling of two coils, M/√(L₁L₂).</summary>
    /// <param name="first">First coil, from 0.</param>
    /// <param name="second">Second coil.</param>
    public double Coupling(int first, int second) => Inductances[first, second] / Math.Sqrt(Inductances[first, first] * Inductances[second, second]);
}
