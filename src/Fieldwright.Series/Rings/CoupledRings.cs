using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>Round conductors about one axis under coaxial coils on alternating current: the induced ring currents, and all that follows from them.</summary>
/// <remarks>
/// The current density of each body is expanded in polynomials of r and z (<see cref="SectionBasis"/>) and Faraday's law is tested with the same
/// polynomials, with exact couplings between rings: the limit of ever more coupled rings without their slow convergence. The degrees start from the skin depth
/// and from the distance to the coils and are raised until the couplings settle. Each answer carries as its error the difference to the answer
/// with about a fifth of the degrees left out, which is nested in the same matrices.
/// The ring–ring matrices are computed once; a new height costs the coils' field at the bodies' Gauss points and one back-substitution.
/// Bodies do not move during a period and are not magnetic; coils are of fine wire. Phasors are peak values with exp(+jωt).
/// One object may serve several threads.
/// </remarks>
/// <source key="Grover1946" at="coupled circular filaments"/>
public sealed class CoupledRings
{
    private const int MostUnknowns = 1200;
    private readonly object gate = new();
    private readonly double relativeError;
    private readonly BasisSize[] sizes;
    private RingMatrices? matrices;
    private double[,]? coilInductance, coilForce;

    /// <summary>Describes bodies and coils.</summary>
    /// <param name="bodies">At least one body; bodies must not overlap. Their insulation from one another is assumed.</param>
    /// <param name="coils">At least one coil, each about the z axis, none overlapping a body.</param>
    /// <param name="frequency">Frequency, Hz; positive.</param>
    /// <param name="relativeError">Error of the reflected impedances and lift coefficients aimed at; 1e-4 when left out.</param>
    /// <exception cref="ArgumentException">A list is empty, a coil is not about z, bodies or coils overlap, or a number is out of range.</exception>
    public CoupledRings(IReadOnlyList<RingBody> bodies, IReadOnlyList<ThickCoil> coils, double frequency, double relativeError = 1e-4)
    {
        ArgumentNullException.ThrowIfNull(bodies);
        ArgumentNullException.ThrowIfNull(coils);
        if (bodies.Count == 0 || coils.Count == 0)
            throw new ArgumentException("At least one body and one coil are needed.");
        foreach (var coil in coils)
            if (!coil.IsAboutZ)
                throw new ArgumentException("Coupled rings need every coil about the z axis.", nameof(coils));
        Bodies = [.. bodies];
        Coils = [.. coils];
        Frequency = Guard.Positive(frequency);
        this.relativeError = Guard.InRange(relativeError, 1e-9, 0.1);
        var lifts = new double[bodies.Count];
        CheckApart(lifts);
        sizes = new BasisSize[bodies.Count];
        for (var b = 0; b < bodies.Count; b++)
        {
            var section = bodies[b].Section;
            var distance = NearestDistance(b, lifts);
            int radial = Degrees(section.Build, b, distance), axial = Degrees(section.Height, b, distance);
            sizes[b] = new(radial, axial, Nodes(radial, section.Build, distance), Nodes(axial, section.Height, distance), 7);
        }
    }

    /// <summary>The bodies, at lift zero.</summary>
    public IReadOnlyList<RingBody> Bodies { get; }

    /// <summary>The coils.</summary>
    public IReadOnlyList<ThickCoil> Coils { get; }

    /// <summary>Frequency, Hz.</summary>
    public double Frequency { get; }

    /// <summary>Angular frequency, rad/s.</summary>
    public double AngularFrequency => 2 * Math.PI * Frequency;

    /// <summary>Unknown ring currents at present; it may grow when an answer did not settle.</summary>
    public int Unknowns => sizes.Sum(size => size.Radial * size.Axial);

    /// <summary>Skin depth in a body, m.</summary>
    /// <param name="body">Index of the body.</param>
    /// <returns>√(2/(ωμ₀σ)).</returns>
    public double SkinDepth(int body) => Math.Sqrt(2 / (AngularFrequency * PhysicalConstants.MagneticConstant * Bodies[body].Conductivity));

    /// <summary>Inductance of coil k alone or between two coils with no metal near, H.</summary>
    /// <param name="k">Index of a coil.</param>
    /// <param name="l">Index of a coil; may be the same.</param>
    /// <returns>L or M for positive currents about +z in coils of positive turns and axis.</returns>
    public double CoilInductance(int k, int l)
    {
        lock (gate)
        {
            EnsureCoilMatrices();
            return coilInductance![k, l];
        }
    }

    /// <summary>What the metal does to any currents, with the bodies raised.</summary>
    /// <param name="lifts">How far each body is raised from the place it was described at, m; zero when left out.</param>
    /// <returns>The response, which gives the impedances and, for given currents, forces, losses and fields.</returns>
    /// <exception cref="ArgumentException">The number of lifts is wrong, one is not finite, or raised bodies overlap.</exception>
    /// <exception cref="NotConvergedException">The metal is so much thicker than its skin depth, or a coil so near, that the ring currents do not settle to a tenth.</exception>
    public RingResponse At(params ReadOnlySpan<double> lifts)
    {
        var raised = new double[Bodies.Count];
        if (lifts.Length > 0)
        {
            Guard.Length(lifts.Length, raised.Length, nameof(lifts));
            Guard.Finite(lifts);
            lifts.CopyTo(raised);
        }
        CheckApart(raised);
        for (var step = 0; ; step++)
        {
            RingMatrices current;
            lock (gate)
            {
                EnsureCoilMatrices();
                if (matrices is null || !matrices.Suits(sizes, raised))
                    matrices = RingMatrices.Create(Bodies, sizes, raised, AngularFrequency, matrices);
                current = matrices;
            }
            var response = new RingResponse(this, current, raised, coilInductance!, coilForce!);
            var error = response.CouplingError;
            if (error <= relativeError)
                return response;
            lock (gate)
            {
                if (!RaiseDegrees())
                    return error <= 0.1 ? response : throw new NotConvergedException("The ring currents", error, step);
            }
        }
    }

    /// <summary>Stiffness of one body's lift against vertical displacement, N/m, with the currents held.</summary>
    /// <param name="body">Index of the body that moves.</param>
    /// <param name="currents">Peak phasor of each coil's current, A.</param>
    /// <param name="lifts">Lifts of all bodies, m; zero when left out.</param>
    /// <returns>−dF/dz of the mean lift, positive when the body is pushed back; the error from two step sizes.</returns>
    /// <exception cref="ArgumentException">A list has the wrong length or is not finite.</exception>
    /// <exception cref="NotConvergedException">See <see cref="At"/>.</exception>
    public Estimate<double> Stiffness(int body, ReadOnlySpan<Complex> currents, ReadOnlySpan<double> lifts = default)
    {
        Guard.InRange(body, 0, Bodies.Count - 1);
        var raised = new double[Bodies.Count];
        lifts.CopyTo(raised);
        var step = 0.02 * Math.Min(NearestDistance(body, raised), Bodies[body].OuterRadius);
        var there = raised[body];
        Span<double> lift = stackalloc double[4];
        for (var i = 0; i < 4; i++)
        {
            raised[body] = there + step * (i < 2 ? i - 2 : i - 1);
            lift[i] = At(raised).With(currents).Lift(body).Value;
        }
        var near = (lift[2] - lift[1]) / (2 * step);
        var far = (lift[3] - lift[0]) / (4 * step);
        raised[body] = there;
        var settled = At(raised).With(currents).Lift(body);
        var slope = near + (near - far) / 3;
        return new(-slope, Math.Abs(near - far) / 3 + Math.Abs(slope) * settled.Error / Math.Max(Math.Abs(settled.Value), double.Epsilon));
    }

    private int Degrees(double length, int body, double distance) =>
        3 + (int)Math.Ceiling(Math.Min(40, 0.7 * length / SkinDepth(body))) + (int)Math.Ceiling(Math.Min(7, 0.5 * length / Math.Max(distance, 1e-3 * length)));

    private static int Nodes(int degrees, double length, double distance) =>
        degrees + 4 + (int)Math.Ceiling(Math.Min(40, 0.6 * length / Math.Max(distance, 1e-3 * length)));

    private bool RaiseDegrees()
    {
        var raised = Array.ConvertAll(sizes, size => size.Raised());
        if (raised.Sum(size => size.Radial * size.Axial) > MostUnknowns)
            return false;
        raised.CopyTo(sizes, 0);
        return true;
    }

    private double NearestDistance(int body, double[] lifts)
    {
        var section = Raised(body, lifts);
        var nearest = double.MaxValue;
        foreach (var coil in Coils)
            nearest = Math.Min(nearest, Section.Distance(section, coil.SectionAboutZ));
        for (var other = 0; other < Bodies.Count; other++)
            if (other != body)
                nearest = Math.Min(nearest, Section.Distance(section, Raised(other, lifts)));
        return nearest;
    }

    private Section Raised(int body, double[] lifts)
    {
        var section = Bodies[body].Section;
        return section with { ZFrom = section.ZFrom + lifts[body], ZTo = section.ZTo + lifts[body] };
    }

    private void CheckApart(double[] lifts)
    {
        for (var b = 0; b < Bodies.Count; b++)
        {
            var section = Raised(b, lifts);
            for (var k = 0; k < Coils.Count; k++)
                if (Section.Overlap(section, Coils[k].SectionAboutZ))
                    throw new ArgumentException($"Body {b} overlaps coil {k}.");
            for (var other = 0; other < b; other++)
                if (Section.Overlap(section, Raised(other, lifts)))
                    throw new ArgumentException($"Body {b} overlaps body {other}.");
        }
    }

    private void EnsureCoilMatrices()
    {
        if (coilInductance is not null)
            return;
        var n = Coils.Count;
        double[,] inductance = new double[n, n], force = new double[n, n];
        for (var k = 0; k < n; k++)
            for (var l = 0; l <= k; l++)
            {
                Section p = Coils[k].SectionAboutZ, q = Coils[l].SectionAboutZ;
                var turns = Coils[k].TurnsAboutZ * Coils[l].TurnsAboutZ;
                inductance[k, l] = inductance[l, k] = turns * SectionCoupling.Mutual(p, q);
                // [k, l]: force on coil k by coil l.
                if (k != l)
                    force[k, l] = -(force[l, k] = turns * SectionCoupling.MutualGradient(p, q));
            }
        (coilInductance, coilForce) = (inductance, force);
    }
}
