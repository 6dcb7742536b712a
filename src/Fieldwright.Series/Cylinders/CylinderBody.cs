using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Cylinders;

/// <summary>One layer of a long round body, from the layer below it (or the axis) out to its own radius.</summary>
/// <param name="OuterRadius">Outer radius, m; larger than that of the layer below.</param>
/// <param name="Conductivity">Conductivity along the axis, S/m; zero where nothing conducts.</param>
/// <param name="RelativePermeability">Permeability over that of empty space, linear; positive.</param>
public readonly record struct CylinderLayer(double OuterRadius, double Conductivity, double RelativePermeability = 1);

/// <summary>A long round bar or tube across a field: what a uniform alternating field across its axis calls forth. Immutable; threads may share it.</summary>
/// <remarks>
/// Per metre of a body long against its radius: currents go along it and close at far ends, so short free cylinders turn more feebly than this says
/// (about as if their conductivity were lowered by <see cref="ShortFactor"/>). With exp(+jωt), outside A_z = (r + C/r)·B₀ sin θ for a field B₀
/// along x; C/a² → −1 for a perfect conductor, +(μ−1)/(μ+1) for a permeable bar in a constant field.
/// Exact to rounding for an endless body in an even field, any skin depth, linear materials.
/// </remarks>
/// <source key="Smythe1950" at="ch. X; tubes and layers by the same boundary conditions"/>
public sealed class CylinderBody
{
    private readonly CylinderLayer[] layers;

    /// <summary>Describes a body from the axis outwards.</summary>
    /// <param name="layers">Layers, at least one; the first begins at the axis.</param>
    /// <exception cref="ArgumentException">There is no layer, a radius does not grow or a property is out of range.</exception>
    public CylinderBody(params IReadOnlyList<CylinderLayer> layers)
    {
        ArgumentNullException.ThrowIfNull(layers);
        if (layers.Count == 0)
            throw new ArgumentException("A cylinder has at least one layer.", nameof(layers));
        double below = 0;
        foreach (var layer in layers)
        {
            if (!(Guard.Positive(layer.OuterRadius) > below))
                throw new ArgumentException(FormattableString.Invariant($"Layers go outwards: radius {layer.OuterRadius} m does not lie above {below} m."), nameof(layers));
            Guard.NotNegative(layer.Conductivity);
            Guard.Positive(layer.RelativePermeability);
            below = layer.OuterRadius;
        }
        this.layers = [.. layers];
        Radius = below;
    }

    /// <summary>Outer radius, m.</summary>
    public double Radius { get; }

    /// <summary>Layers from the axis outwards.</summary>
    public IReadOnlyList<CylinderLayer> Layers => layers;

    /// <summary>A solid bar.</summary>
    /// <param name="radius">Radius, m.</param>
    /// <param name="conductivity">Conductivity, S/m.</param>
    /// <param name="relativePermeability">Permeability over that of empty space.</param>
    /// <returns>The body.</returns>
    /// <exception cref="ArgumentException">An argument is out of range.</exception>
    public static CylinderBody Solid(double radius, double conductivity, double relativePermeability = 1) =>
        new(new CylinderLayer(radius, conductivity, relativePermeability));

    /// <summary>A tube with air inside.</summary>
    /// <param name="outerRadius">Outer radius, m.</param>
    /// <param name="wall">Thickness of the wall, m.</param>
    /// <param name="conductivity">Conductivity, S/m.</param>
    /// <param name="relativePermeability">Permeability over that of empty space.</param>
    /// <returns>The body.</returns>
    /// <exception cref="ArgumentException">An argument is out of range.</exception>
    public static CylinderBody Tube(double outerRadius, double wall, double conductivity, double relativePermeability = 1) =>
        new(new CylinderLayer(Guard.Positive(outerRadius) - Guard.Positive(wall), 0), new CylinderLayer(outerRadius, conductivity, relativePermeability));

    /// <summary>Reflection C/a² of a field across the axis, a pure number.</summary>
    /// <param name="frequency">Frequency the body itself feels, Hz: for a turning body that of the slip; zero or more.</param>
    /// <returns>C/a²; minus the imaginary part is what torque and heat go by.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The frequency is negative or not finite.</exception>
    public Complex Reflection(double frequency)
    {
        var omega = 2 * Math.PI * Guard.NotNegative(frequency);
        // E = r f′/f − 1 at each radius, zero in empty space; g is the falling over the growing solution at the inner radius.
        Complex excess = 0;
        double from = 0, permeability = layers[0].RelativePermeability;
        foreach (var layer in layers)
        {
            var step = layer.RelativePermeability / permeability;
            excess = step * excess + (step - 1);
            permeability = layer.RelativePermeability;
            excess = Through(layer, from, omega, excess);
            from = layer.OuterRadius;
        }
        excess = excess / permeability + (1 / permeability - 1);
        // f = r + C/r outside: E = −2C/(a² + C).
        return -excess / (2 + excess);
    }

    /// <summary>Torque and heat in a field across the axis that turns or traces any ellipse, per metre of length.</summary>
    /// <param name="fluxDensity">The field ellipse at the place of the body, as it would be without it, T peak. Even over the body's width.</param>
    /// <param name="frequency">Frequency of the field, Hz; positive.</param>
    /// <param name="angularSpeed">Speed at which the body turns about its axis, rad/s, positive counter-clockwise.</param>
    /// <returns>Mean torque, N·m/m, counter-clockwise positive, and mean heat, W/m.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The frequency is not positive or the speed not finite.</exception>
    /// <source key="PerryJones1978"/>
    public (double Torque, double Loss) PerMetre(FieldEllipse fluxDensity, double frequency, double angularSpeed = 0)
    {
        var omega = 2 * Math.PI * Guard.Positive(frequency);
        Guard.Finite(angularSpeed);
        double torque = 0, loss = 0;
        // Two counter-turning fields, each with its own slip; their cross terms have no mean torque.
        foreach (var (size, slip, sense) in new[] { (fluxDensity.CounterClockwise.Magnitude, omega - angularSpeed, 1), (fluxDensity.Clockwise.Magnitude, omega + angularSpeed, -1) })
        {
            var pull = 2 * Math.PI * Radius * Radius * size * size / PhysicalConstants.MagneticConstant * -Reflection(Math.Abs(slip) / (2 * Math.PI)).Imaginary;
            torque += sense * Math.Sign(slip) * pull;
            loss += Math.Abs(slip) * pull;
        }
        return (torque, loss);
    }

    /// <summary>Mean force on a thin body at rest in a field that alternates and varies slowly over its width, per metre of length.</summary>
    /// <remarks>½ Re ∇(m*·B) with m = 2πC·B/μ₀ a metre held: what the field would be without the body, and its slopes, both as peak phasors. Near a line of
    /// current it goes over into the force of the image in a perfect conductor.</remarks>
    /// <param name="x">B_x, T.</param>
    /// <param name="y">B_y, T.</param>
    /// <param name="slopesX">∂B_x/∂x and ∂B_x/∂y, T/m.</param>
    /// <param name="slopesY">∂B_y/∂x and ∂B_y/∂y, T/m.</param>
    /// <param name="frequency">Frequency, Hz; positive.</param>
    /// <returns>Force along x and y, N/m.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The frequency is not positive.</exception>
    /// <source key="Smythe1950" at="image of a line current in a cylinder; force on a moment, from memory"/>
    public (double X, double Y) PushPerMetre(Complex x, Complex y, (Complex AlongX, Complex AlongY) slopesX, (Complex AlongX, Complex AlongY) slopesY, double frequency)
    {
        var moment = 2 * Math.PI * Radius * Radius / PhysicalConstants.MagneticConstant * Complex.Conjugate(Reflection(Guard.Positive(frequency)));
        Complex mx = moment * Complex.Conjugate(x), my = moment * Complex.Conjugate(y);
        return (0.5 * (mx * slopesX.AlongX + my * slopesY.AlongX).Real, 0.5 * (mx * slopesX.AlongY + my * slopesY.AlongY).Real);
    }

    /// <summary>Factor by which a short thin-walled tube or disc-like cylinder acts as if it conducted less, because its currents must close over its own length.</summary>
    /// <param name="length">Length, m.</param>
    /// <param name="radius">Radius, m.</param>
    /// <returns>1 − tanh(x)/x with x = length/2·radius; exact for a thin tube without end plates in a feeble turning field, a guide for solid bars.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not positive.</exception>
    /// <source key="RussellNorsworthy1958" at="derived again for one wave round the tube"/>
    public static double ShortFactor(double length, double radius)
    {
        var x = Guard.Positive(length) / (2 * Guard.Positive(radius));
        return x < 0.02 ? x * x / 3 * (1 - 0.4 * x * x) : 1 - Math.Tanh(x) / x;
    }

    private static Complex Through(CylinderLayer layer, double b, double omega, Complex inner)
    {
        var c = layer.OuterRadius;
        var k = Complex.Sqrt(new Complex(0, omega * PhysicalConstants.MagneticConstant * layer.RelativePermeability * layer.Conductivity));
        if (k == Complex.Zero)
        {
            if (b == 0)
                return 0;
            // f = r/b + g b/r
            var still = -inner / (2 + inner);
            var t = still * b * b / (c * c);
            return -2 * t / (1 + t);
        }
        // r I₁′/I₁ = 1 + z I₂/I₁, r K₁′/K₁ = −1 − z K₀/K₁.
        var growingC = k * c * Ratio(k * c);
        if (b == 0)
            return growingC;
        Complex zb = k * b, zc = k * c;
        var fallingB = zb * SpecialFunctions.BesselKScaled(0, zb) / SpecialFunctions.BesselKScaled(1, zb);
        var fallingC = zc * SpecialFunctions.BesselKScaled(0, zc) / SpecialFunctions.BesselKScaled(1, zc);
        var g = (zb * Ratio(zb) - inner) / (inner + 2 + fallingB);
        var spread = SpecialFunctions.BesselIScaled(1, zb) / SpecialFunctions.BesselIScaled(1, zc) * Math.Exp(zb.Real - zc.Real)
            * SpecialFunctions.BesselKScaled(1, zc) / SpecialFunctions.BesselKScaled(1, zb) * Complex.Exp(zb - zc);
        var u = g * spread;
        return (growingC - (2 + fallingC) * u) / (1 + u);
    }

    private static Complex Ratio(Complex z) => SpecialFunctions.BesselIScaled(2, z) / SpecialFunctions.BesselIScaled(1, z);
}
