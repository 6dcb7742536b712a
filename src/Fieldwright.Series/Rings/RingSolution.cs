using System.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>Induced currents for given coil currents: forces, heat, flux linkages and fields.</summary>
/// <remarks>Every answer carries as its error the change when a fifth of the degrees are left out. Immutable; may be shared between threads. Phasors are peak values with exp(+jωt); forces and losses are means over a period.</remarks>
/// <source key="Grover1946" at="coupled circular filaments"/>
public sealed class RingSolution
{
    private readonly RingResponse response;
    private readonly RingResponse.Couplings fine, coarse;
    private readonly Complex[] currents, fineRings, coarseRings;
    private readonly Lazy<FieldSource[]> sources;

    internal RingSolution(RingResponse response, Complex[] currents, RingResponse.Couplings fine, RingResponse.Couplings coarse)
    {
        this.response = response;
        this.currents = currents;
        this.fine = fine;
        this.coarse = coarse;
        fineRings = fine.Currents(currents);
        coarseRings = coarse.Currents(currents);
        sources = new(MakeSources);
    }

    /// <summary>Peak phasor of each coil's current, A.</summary>
    public IReadOnlyList<Complex> Currents => currents;

    /// <summary>Mean axial force on a body, N, positive upwards.</summary>
    /// <param name="body">Index of the body.</param>
    /// <returns>N: ½Re Σ c*·(∂m/∂z)·I over its ring currents, by the coils and the other bodies.</returns>
    public Estimate<double> Lift(int body) => Compare((c, couplings) => ForceOn(body, c, couplings));

    /// <summary>Mean heat in a body, W.</summary>
    /// <param name="body">Index of the body.</param>
    /// <returns>½Σ|c|² over its ring currents, W, in the basis whose resistance is one.</returns>
    public Estimate<double> Loss(int body) => Compare((c, _) =>
    {
        double sum = 0;
        for (var i = Starts[body]; i < Starts[body + 1]; i++)
            sum += 0.5 * (c[i].Real * c[i].Real + c[i].Imaginary * c[i].Imaginary);
        return sum;
    });

    /// <summary>Mean axial force on a coil, N, positive upwards: from the bodies and the other coils.</summary>
    /// <param name="coil">Index of the coil.</param>
    /// <returns>N; all forces on bodies and coils add up to nothing.</returns>
    public Estimate<double> ForceOnCoil(int coil)
    {
        double between = 0;
        for (var l = 0; l < currents.Length; l++)
            if (l != coil)
                between += 0.5 * (currents[coil] * Complex.Conjugate(currents[l])).Real * response.CoilForce(coil, l);
        var metal = Compare((c, couplings) =>
        {
            var gradient = couplings.Gradient[coil];
            Complex sum = 0;
            for (var i = 0; i < c.Length; i++)
                sum += Complex.Conjugate(c[i]) * gradient[i];
            return -0.5 * (sum * currents[coil]).Real;
        });
        return metal with { Value = metal.Value + between };
    }

    /// <summary>Peak phasor of a coil's flux linkage, Wb: its turns' flux from all coils and the metal.</summary>
    /// <param name="coil">Index of the coil.</param>
    /// <returns>Peak phasor, Wb; positive for flux that the coil's own positive current makes.</returns>
    public Estimate<Complex> FluxLinkage(int coil)
    {
        Complex coils = 0;
        for (var l = 0; l < currents.Length; l++)
            coils += response.CoilInductance(coil, l) * currents[l];
        Complex metal = Linked(fineRings, fine), rough = Linked(coarseRings, coarse);
        return new(coils + metal, Complex.Abs(metal - rough));

        Complex Linked(Complex[] c, RingResponse.Couplings couplings)
        {
            var mutual = couplings.Mutual[coil];
            Complex sum = 0;
            for (var i = 0; i < c.Length; i++)
                sum += mutual[i] * c[i];
            return sum;
        }
    }

    /// <summary>Peak phasor of the voltage the fields induce across a coil, V, without its wire's resistance.</summary>
    /// <param name="coil">Index of the coil.</param>
    /// <returns>jω times the flux linkage.</returns>
    public Estimate<Complex> InducedVoltage(int coil)
    {
        var linkage = FluxLinkage(coil);
        var omega = response.Rings.AngularFrequency;
        return new(new Complex(0, omega) * linkage.Value, omega * linkage.Error);
    }

    /// <summary>Peak phasor of the induced current density, A/m², positive along +φ.</summary>
    /// <param name="body">Index of the body.</param>
    /// <param name="r">Radius inside the body, m.</param>
    /// <param name="z">Height inside the raised body, m.</param>
    /// <returns>J_φ, A/m²; less exact than forces and heat, which are means of it.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is not in the body.</exception>
    public Complex CurrentDensity(int body, double r, double z)
    {
        var basis = response.Matrices.Bases[body];
        var height = z - basis.Middle - response.Lifts[body];
        if (!(r >= basis.Section.InnerRadius && r <= basis.Section.OuterRadius))
            throw new ArgumentOutOfRangeException(nameof(r), r, "must lie inside the body");
        if (!(Math.Abs(height) <= 0.5 * basis.Section.Height * (1 + 1e-12)))
            throw new ArgumentOutOfRangeException(nameof(z), z, "must lie inside the body");
        return sources.Value[body].Density(r, height);
    }

    /// <summary>Peak phasors of the field of coils and metal together, anywhere, inside windings and metal too.</summary>
    /// <param name="r">Distance from the axis, m.</param>
    /// <param name="z">Height, m.</param>
    /// <returns>A_φ in Wb/m, B_r and B_z in T; the quadrature over the metal is good to about 1e-5 of the field nearby.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is out of range.</exception>
    public (Complex VectorPotential, Complex Radial, Complex Axial) Field(double r, double z)
    {
        Complex potential = 0, radial = 0, axial = 0;
        for (var k = 0; k < currents.Length; k++)
        {
            var coil = response.Rings.Coils[k];
            var field = coil.TurnsAboutZ * SectionField.At(coil.SectionAboutZ, Numerics.Guard.NotNegative(r), Numerics.Guard.Finite(z));
            potential += currents[k] * field.VectorPotential;
            radial += currents[k] * field.Radial;
            axial += currents[k] * field.Axial;
        }
        foreach (var source in sources.Value)
            source.Add(r, z, ref potential, ref radial, ref axial);
        return (potential, radial, axial);
    }

    private int[] Starts => response.Matrices.Starts;

    private Estimate<double> Compare(Func<Complex[], RingResponse.Couplings, double> of)
    {
        var value = of(fineRings, fine);
        return new(value, Math.Abs(value - of(coarseRings, coarse)));
    }

    private double ForceOn(int body, Complex[] c, RingResponse.Couplings couplings)
    {
        var matrices = response.Matrices;
        Complex sum = 0;
        for (var k = 0; k < currents.Length; k++)
        {
            var gradient = couplings.Gradient[k];
            for (var i = Starts[body]; i < Starts[body + 1]; i++)
                sum += Complex.Conjugate(c[i]) * gradient[i] * currents[k];
        }
        for (var other = 0; other < matrices.Bases.Length; other++)
            if (other != body)
            {
                // The gradient is kept for the lower index rising against the higher.
                var (high, low, sign) = body > other ? (body, other, -1) : (other, body, 1);
                var block = matrices.BodyGradients[high, low];
                var columns = matrices.Bases[low].Count;
                for (var i = 0; i < matrices.Bases[high].Count; i++)
                    for (var j = 0; j < columns; j++)
                        sum += sign * Complex.Conjugate(c[Starts[high] + i]) * block[i * columns + j] * c[Starts[low] + j];
            }
        return 0.5 * sum.Real;
    }

    private FieldSource[] MakeSources()
    {
        var made = new FieldSource[response.Matrices.Bases.Length];
        for (var b = 0; b < made.Length; b++)
            made[b] = new FieldSource(response.Matrices.Bases[b], fineRings.AsSpan(Starts[b]..Starts[b + 1]).ToArray(), response.Lifts[b]);
        return made;
    }

    // The ring currents of one body as a source of field: filaments at its Gauss points from afar, a graded rule about the point from near.
    private sealed class FieldSource
    {
        private readonly SectionBasis basis;
        private readonly Complex[] coefficients, filaments;
        private readonly double lift;

        public FieldSource(SectionBasis basis, Complex[] coefficients, double lift)
        {
            this.basis = basis;
            this.coefficients = coefficients;
            this.lift = lift;
            GaussRule across = GaussRule.WithNodes(basis.NodeRadii.Length), along = GaussRule.WithNodes(basis.NodeHeights.Length);
            filaments = new Complex[basis.NodeRadii.Length * basis.NodeHeights.Length];
            for (var a = 0; a < basis.NodeRadii.Length; a++)
                for (var b = 0; b < basis.NodeHeights.Length; b++)
                    filaments[a * basis.NodeHeights.Length + b] = across.Weights[a] * along.Weights[b] * basis.Section.Area
                        * Density(basis.NodeRadii[a], basis.NodeHeights[b]);
        }

        public Complex Density(double r, double height)
        {
            Span<double> p = stackalloc double[basis.Radial.Count], q = stackalloc double[basis.Axial.Count];
            basis.Radial.EvaluateInto(r, p);
            basis.Axial.EvaluateInto(height, q);
            Complex sum = 0;
            for (var i = 0; i < p.Length; i++)
            {
                Complex row = 0;
                for (var j = 0; j < q.Length; j++)
                    row += q[j] * coefficients[i * q.Length + j];
                sum += p[i] * row;
            }
            return sum;
        }

        public void Add(double r, double z, ref Complex potential, ref Complex radial, ref Complex axial)
        {
            var section = basis.Section with { ZFrom = basis.Section.ZFrom + lift, ZTo = basis.Section.ZTo + lift };
            var dr = Math.Max(0, Math.Max(section.InnerRadius - r, r - section.OuterRadius));
            var dz = Math.Max(0, Math.Max(section.ZFrom - z, z - section.ZTo));
            var spacing = Math.Max(section.Build / basis.Radial.Count, section.Height / basis.Axial.Count);
            if (Math.Sqrt(dr * dr + dz * dz) > 2.5 * spacing)
            {
                for (var a = 0; a < basis.NodeRadii.Length; a++)
                    for (var b = 0; b < basis.NodeHeights.Length; b++)
                        AddLoop(basis.NodeRadii[a], z - basis.Middle - lift - basis.NodeHeights[b], r,
                            filaments[a * basis.NodeHeights.Length + b], ref potential, ref radial, ref axial);
                return;
            }
            foreach (var node in DifferencePlane.AroundPoint(section, r, z, 5, 0.5 * basis.Radial.Count / section.Build, 0.5 * basis.Axial.Count / section.Height))
                AddLoop(r + node.U, -node.W, r, node.Weight * Density(r + node.U, z + node.W - basis.Middle - lift), ref potential, ref radial, ref axial);
        }

        private static void AddLoop(double a, double z, double r, Complex current, ref Complex potential, ref Complex radial, ref Complex axial)
        {
            var field = Filament.LoopField(a, r, z);
            potential += current * field.VectorPotential;
            radial += current * field.Radial;
            axial += current * field.Axial;
        }
    }
}
