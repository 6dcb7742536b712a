using System.Numerics;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Rings;

/// <summary>How bodies in given places answer to any coil currents at one frequency.</summary>
/// <remarks>Every answer carries as its error the change when a fifth of the degrees are left out. Immutable; may be shared between threads.</remarks>
/// <source key="Grover1946" at="coupled circular filaments"/>
public sealed class RingResponse
{
    private readonly Couplings fine, coarse;
    private readonly double[,] coilInductance, coilForce;

    internal RingResponse(CoupledRings rings, RingMatrices matrices, double[] lifts, double[,] coilInductance, double[,] coilForce)
    {
        Rings = rings;
        Matrices = matrices;
        Lifts = lifts;
        (this.coilInductance, this.coilForce) = (coilInductance, coilForce);
        fine = new Couplings(rings, matrices.Bases, lifts, matrices.Factor, Enumerable.Range(0, matrices.Starts[^1]).ToArray(), matrices.Starts[^1]);
        coarse = new Couplings(rings, matrices.CoarseBases, lifts, matrices.CoarseFactor, matrices.CoarseIndices, matrices.Starts[^1]);
        for (var k = 0; k < rings.Coils.Count; k++)
            CouplingError = Math.Max(CouplingError, Math.Max(Change(c => c.Mutual[k], k), Change(c => c.Gradient[k], k)));
    }

    /// <summary>The arrangement this belongs to.</summary>
    public CoupledRings Rings { get; }

    /// <summary>Lift of each body, m.</summary>
    public IReadOnlyList<double> Lifts { get; }

    /// <summary>Largest relative change of any coil's own reflected impedance or lift coefficient when a fifth of the degrees are left out.</summary>
    public double CouplingError { get; }

    internal RingMatrices Matrices { get; }

    /// <summary>Impedance between coils in the presence of the metal, Ω, without the resistance of the wire.</summary>
    /// <param name="k">Coil whose voltage is asked.</param>
    /// <param name="l">Coil that carries the current.</param>
    /// <returns>Z with V_k = Σ_l Z_kl I_l (peak phasors, exp(+jωt)); the metal adds a positive real part to Z_kk and takes from its reactance. The error is that of the metal's share.</returns>
    public Estimate<Complex> Impedance(int k, int l)
    {
        var j = new Complex(0, Rings.AngularFrequency);
        Complex reflected = j * Sum(fine.Mutual[k], fine.Answer[l]), rough = j * Sum(coarse.Mutual[k], coarse.Answer[l]);
        return new(j * coilInductance[k, l] + reflected, Complex.Abs(reflected - rough));
    }

    /// <summary>The part of <see cref="Impedance"/> that the metal alone brings, Ω.</summary>
    /// <param name="k">Coil whose voltage is asked.</param>
    /// <param name="l">Coil that carries the current.</param>
    /// <returns>ΔZ_kl; positive real part for k = l, negative imaginary part.</returns>
    public Estimate<Complex> ReflectedImpedance(int k, int l)
    {
        var j = new Complex(0, Rings.AngularFrequency);
        Complex reflected = j * Sum(fine.Mutual[k], fine.Answer[l]), rough = j * Sum(coarse.Mutual[k], coarse.Answer[l]);
        return new(reflected, Complex.Abs(reflected - rough));
    }

    /// <summary>The state for given coil currents.</summary>
    /// <param name="currents">Peak phasor of each coil's current, exp(+jωt), A; positive in the sense of the coil's own turns.</param>
    /// <returns>Forces, losses, flux linkages and fields.</returns>
    /// <exception cref="ArgumentException">The number of currents is wrong or one is not finite.</exception>
    public RingSolution With(params ReadOnlySpan<Complex> currents)
    {
        Guard.Length(currents.Length, Rings.Coils.Count, nameof(currents));
        foreach (var current in currents)
            if (!Complex.IsFinite(current))
                throw new ArgumentOutOfRangeException(nameof(currents), current, "must be finite");
        return new RingSolution(this, currents.ToArray(), fine, coarse);
    }

    internal double CoilInductance(int k, int l) => coilInductance[k, l];

    internal double CoilForce(int k, int l) => coilForce[k, l];

    private double Change(Func<Couplings, double[]> functional, int k)
    {
        Complex exact = Sum(functional(fine), fine.Answer[k]), rough = Sum(functional(coarse), coarse.Answer[k]);
        // A functional that vanishes by symmetry says nothing.
        double scale = 0;
        for (var i = 0; i < fine.Answer[k].Length; i++)
            scale += Math.Abs(functional(fine)[i]) * Complex.Abs(fine.Answer[k][i]);
        return scale == 0 ? 0 : Complex.Abs(exact - rough) / Math.Max(Complex.Abs(exact), 1e-3 * scale);
    }

    private static Complex Sum(double[] a, Complex[] b)
    {
        Complex sum = 0;
        for (var i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }

    /// <summary>Couplings of all ring currents with every coil, and the currents a unit current of each coil induces; zero where a basis is left out.</summary>
    internal sealed class Couplings
    {
        public Couplings(CoupledRings rings, SectionBasis[] bases, double[] lifts, SymmetricFactor factor, int[] places, int count)
        {
            var coils = rings.Coils;
            Mutual = new double[coils.Count][];
            Gradient = new double[coils.Count][];
            Answer = new Complex[coils.Count][];
            double[] mutual = new double[places.Length], gradient = new double[places.Length];
            var answer = new Complex[places.Length];
            for (var k = 0; k < coils.Count; k++)
            {
                var start = 0;
                for (var b = 0; b < bases.Length; start += bases[b].Count, b++)
                    bases[b].MutualInto(coils[k].SectionAboutZ, coils[k].TurnsAboutZ, lifts[b],
                        mutual.AsSpan(start, bases[b].Count), gradient.AsSpan(start, bases[b].Count));
                // Faraday: (1 + jωL) c = −jω m I.
                for (var i = 0; i < answer.Length; i++)
                    answer[i] = new Complex(0, -rings.AngularFrequency * mutual[i]);
                factor.SolveInPlace(answer);
                (Mutual[k], Gradient[k], Answer[k]) = (Spread(mutual), Spread(gradient), Spread(answer));
            }

            T[] Spread<T>(T[] values)
            {
                var all = new T[count];
                for (var i = 0; i < values.Length; i++)
                    all[places[i]] = values[i];
                return all;
            }
        }

        /// <summary>[coil][ring current]: flux per ampere.</summary>
        public double[][] Mutual { get; }

        /// <summary>[coil][ring current]: change of the flux as the body rises.</summary>
        public double[][] Gradient { get; }

        /// <summary>[coil][ring current]: peak phasor of the ring current per ampere of the coil.</summary>
        public Complex[][] Answer { get; }

        public Complex[] Currents(ReadOnlySpan<Complex> coilCurrents)
        {
            var c = new Complex[Answer[0].Length];
            for (var k = 0; k < coilCurrents.Length; k++)
                for (var i = 0; i < c.Length; i++)
                    c[i] += Answer[k][i] * coilCurrents[k];
            return c;
        }
    }
}
