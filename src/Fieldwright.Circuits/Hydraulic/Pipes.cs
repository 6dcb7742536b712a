using Fieldwright.Circuits.Elements;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Hydraulic;

/// <summary>A straight round pipe, laminar to turbulent: Δp = f (L/D) ρ v²/2. Drop in Pa, flow in m³/s.</summary>
/// <remarks>Friction factor after Churchill (1977), one formula for all regimes: 64/Re when laminar, within about 2 % of Colebrook when turbulent, a guess between Re 2000 and 4000, where real pipes waver.
/// A pipe obeys Ohm's law up to a Reynolds number of about 2000 and then no longer.</remarks>
/// <source key="Churchill1977"/>
public sealed class Pipe : DropFromFlow
{
    private const double WhollyLaminar = 100;
    private readonly double length, diameter, roughness, density, viscosity;

    /// <summary>A pipe.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">First node.</param>
    /// <param name="to">Second node.</param>
    /// <param name="length">L, m; positive.</param>
    /// <param name="diameter">D, m; positive.</param>
    /// <param name="density">ρ, kg/m³; positive.</param>
    /// <param name="viscosity">Dynamic viscosity, Pa s; positive.</param>
    /// <param name="roughness">Height of its roughness, m; not negative.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public Pipe(string name, string from, string to, double length, double diameter, double density, double viscosity, double roughness = 0)
        : base(name, from, to)
    {
        this.length = Guard.Positive(length);
        this.diameter = Guard.Positive(diameter);
        this.density = Guard.Positive(density);
        this.viscosity = Guard.Positive(viscosity);
        this.roughness = Guard.NotNegative(roughness);
    }

    /// <summary>Reynolds number of a flow.</summary>
    /// <param name="flow">Flow, m³/s.</param>
    public double Reynolds(double flow) => 4 * density * Math.Abs(flow) / (Math.PI * diameter * viscosity);

    /// <summary>Darcy's friction factor.</summary>
    /// <param name="reynolds">Reynolds number; positive.</param>
    /// <param name="relativeRoughness">Roughness over diameter; not negative.</param>
    public static double Friction(double reynolds, double relativeRoughness)
    {
        Guard.Positive(reynolds);
        if (reynolds < WhollyLaminar)
            return 64 / reynolds;
        double a = Math.Pow(2.457 * Math.Log(1 / (Math.Pow(7 / reynolds, 0.9) + 0.27 * Guard.NotNegative(relativeRoughness))), 16), b = Math.Pow(37530 / reynolds, 16);
        return 8 * Math.Pow(Math.Pow(8 / reynolds, 12) + Math.Pow(a + b, -1.5), 1.0 / 12);
    }

    /// <inheritdoc/>
    public override double DropAt(double flow, out double slope)
    {
        double q = Math.Abs(flow);
        if (Reynolds(q) < WhollyLaminar)
        {
            slope = 128 * viscosity * length / (Math.PI * Math.Pow(diameter, 4));
            return slope * flow;
        }

        double step = 1e-6 * q;
        slope = (Loss(q + step) - Loss(q - step)) / (2 * step);
        return Math.CopySign(Loss(q), flow);
    }

    private double Loss(double flow)
    {
        double speed = flow / (0.25 * Math.PI * diameter * diameter);
        return Friction(Reynolds(flow), roughness / diameter) * length / diameter * 0.5 * density * speed * speed;
    }
}

/// <summary>A valve, bend or outlet by its loss coefficient: Δp = (K₁/Re + K) ρ v²/2, the first term keeping it honest when the flow creeps.</summary>
/// <source key="Hooper1981"/>
public sealed class Fitting : DropFromFlow
{
    private readonly double linear, square;

    /// <summary>A fitting.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">First node.</param>
    /// <param name="to">Second node.</param>
    /// <param name="coefficient">K at large Reynolds numbers; not negative. A jet into the open has 1, an open ball valve about 0.05, a half-closed gate 2 to 5 (common practice, no source).</param>
    /// <param name="diameter">Bore its speed is reckoned in, m; positive.</param>
    /// <param name="density">ρ, kg/m³; positive.</param>
    /// <param name="viscosity">Dynamic viscosity, Pa s; positive.</param>
    /// <param name="creeping">K₁; positive, 100 to 1000 for common fittings.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public Fitting(string name, string from, string to, double coefficient, double diameter, double density, double viscosity, double creeping = 300)
        : base(name, from, to)
    {
        double area = 0.25 * Math.PI * Guard.Positive(diameter) * diameter;
        square = 0.5 * Guard.NotNegative(coefficient) * Guard.Positive(density) / (area * area);
        linear = 0.5 * Guard.Positive(creeping) * Guard.Positive(viscosity) / (diameter * area);
    }

    /// <inheritdoc/>
    public override double DropAt(double flow, out double slope)
    {
        slope = linear + 2 * square * Math.Abs(flow);
        return (linear + square * Math.Abs(flow)) * flow;
    }
}

/// <summary>A pump by its curve: the pressure it adds from its first node (suction) to its second (delivery) falls with the flow through it.</summary>
/// <remarks>Straight between the points and beyond them, so backwards flow meets more than the shut-off pressure. A level difference is a <see cref="PotentialSource"/> of ρ g h.</remarks>
public sealed class Pump : DropFromFlow
{
    private readonly double[] flows, pressures;

    /// <summary>A pump.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Suction.</param>
    /// <param name="to">Delivery.</param>
    /// <param name="flows">Flows of the curve, m³/s, rising; two at least.</param>
    /// <param name="pressures">Pressures added at those flows, Pa, falling.</param>
    /// <exception cref="ArgumentException">The flows do not rise, the pressures do not fall, or there are fewer than two points.</exception>
    public Pump(string name, string from, string to, ReadOnlySpan<double> flows, ReadOnlySpan<double> pressures)
        : base(name, from, to)
    {
        Guard.Length(pressures.Length, flows.Length);
        Guard.Finite(flows);
        Guard.Finite(pressures);
        if (flows.Length < 2)
            throw new ArgumentException($"The curve of pump {name} needs two points at least.", nameof(flows));
        for (int i = 1; i < flows.Length; i++)
            if (!(flows[i] > flows[i - 1]) || !(pressures[i] < pressures[i - 1]))
                throw new ArgumentException($"The curve of pump {name} must have rising flows and falling pressures.", nameof(flows));
        this.flows = flows.ToArray();
        this.pressures = pressures.ToArray();
    }

    /// <inheritdoc/>
    public override double DropAt(double flow, out double slope)
    {
        int i = 1;
        while (i < flows.Length - 1 && flow > flows[i])
            i++;
        slope = (pressures[i - 1] - pressures[i]) / (flows[i] - flows[i - 1]);
        return slope * (flow - flows[i - 1]) - pressures[i - 1];
    }
}
