using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Forces;

namespace Fieldwright.Fields;

/// <summary>The magnetic field at one instant of a transient, with the currents induced in solid conductors, bodies where they are then.</summary>
public sealed class TransientField : MagneticField
{
    private const int F = ElementTables.Functions;
    private readonly double[]? rates;

    internal TransientField(MeshedModel meshed, double[] field, double[]? rates, double[] windingCurrents, double[] conductorVoltages, double time)
        : base(meshed, Phasors(field), Phasors(windingCurrents), Phasors(conductorVoltages), netCurrentKnown: true)
    {
        this.rates = rates;
        Time = time;
    }

    /// <summary>Time, s.</summary>
    public double Time { get; }

    /// <summary>Vector potential A_φ or A_z, Wb/m.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public double VectorPotential(double x, double y) => At(x, y).A.Real;

    /// <summary>Flux density, T.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public PlaneVector FluxDensity(double x, double y)
    {
        var b = At(x, y).B;
        return new(b.X.Real, b.Y.Real);
    }

    /// <summary>Current density along φ or z, A/m², turns times current in a winding.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public double CurrentDensity(double x, double y) => CurrentDensityNear(x, y).Real;

    /// <summary>Net current of solid regions: along z in a long model, round about the axis in a round one, A.</summary>
    /// <param name="regions">The regions summed.</param>
    public double NetCurrent(params IReadOnlyList<int> regions) => NetCurrentOf(regions).Real;

    internal override double MeanProduct(Complex a, Complex b) => a.Real * b.Real;

    internal override Complex Rate(Complex vectorPotential) => 0;

    private protected override Complex RateAt(int e, int q, ElementValues values)
    {
        if (rates is null) return 0;
        var sum = 0.0;
        for (var i = 0; i < 6; i++) sum += rates[Meshed.Space.Triangles[(6 * e) + i]] * values.A[(q * F) + i];
        return sum;
    }

    private protected override double MeanEnergyDensity(ReluctivityLaw law, double b) => law.EnergyDensity(b);

    /// <summary>Force along a direction for a displacement of the mesh made for another place of the same body.</summary>
    internal double ForceAlong(VirtualDisplacement displacement, PlaneVector direction)
    {
        var f = StressIntegral.Evaluate(this, displacement, default);
        return (f.X * direction.X) + (f.Y * direction.Y);
    }

    private static Complex[] Phasors(double[] values) => [.. values.Select(v => new Complex(v, 0))];
}
