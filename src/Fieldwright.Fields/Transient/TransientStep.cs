namespace Fieldwright.Fields;

/// <summary>The state at the end of one step.</summary>
/// <param name="Time">Time, s.</param>
/// <param name="CircuitCurrents">Current of each circuit, A, in the order of the model.</param>
/// <param name="CircuitVoltages">Voltage of each circuit's source, V: what a held current needs, or what is given.</param>
/// <param name="FluxLinkages">Flux linkage of each winding, Wb, in the order of the field model.</param>
/// <param name="ConductorVoltages">End-to-end voltage of each solid conductor of a long model, V.</param>
/// <param name="Displacements">How far each body has moved since t = 0, m.</param>
/// <param name="Speeds">Speed of each body, m/s.</param>
/// <param name="Forces">Force of the field on each body along its motion, N.</param>
/// <param name="SolidLoss">Heat being made in solid conductors, W.</param>
/// <param name="Balance">Energies since t = 0.</param>
public sealed record TransientStep(
    double Time,
    IReadOnlyList<double> CircuitCurrents,
    IReadOnlyList<double> CircuitVoltages,
    IReadOnlyList<double> FluxLinkages,
    IReadOnlyList<double> ConductorVoltages,
    IReadOnlyList<double> Displacements,
    IReadOnlyList<double> Speeds,
    IReadOnlyList<double> Forces,
    double SolidLoss,
    EnergyBalance Balance);

/// <summary>Where the energy delivered since t = 0 has gone, J.</summary>
/// <param name="Delivered">Work of the sources of all circuits, capacitors excepted, and of imposed currents in solid conductors.</param>
/// <param name="Field">Change of the energy of the field.</param>
/// <param name="Circuit">Change of the energy in inductances outside the field and in capacitors.</param>
/// <param name="Kinetic">Change of the energy of motion.</param>
/// <param name="Potential">Energy stored against the steady forces.</param>
/// <param name="SolidHeat">Heat made in solid conductors.</param>
/// <param name="WireHeat">Heat made in windings and in the resistances of their circuits.</param>
/// <param name="Impact">Energy lost where bodies met their stops.</param>
/// <param name="Remeshing">Energy of the field lost where it was carried over to a new mesh; a measure of that error, not physics.</param>
public readonly record struct EnergyBalance(
    double Delivered, double Field, double Circuit, double Kinetic, double Potential, double SolidHeat, double WireHeat, double Impact, double Remeshing)
{
    /// <summary>What is delivered and not found again, J: the error of the steps in time.</summary>
    public double Residual => Delivered - Field - Circuit - Kinetic - Potential - SolidHeat - WireHeat - Impact - Remeshing;
}

/// <summary>A transient followed to its end.</summary>
/// <param name="Model">What was followed.</param>
/// <param name="Steps">The state at t = 0 and after each step.</param>
/// <param name="Last">The field at the end.</param>
/// <param name="RefusedSteps">Steps that were taken again because they were too long.</param>
/// <param name="Meshes">Meshes made: the first, and one each time the air round a body had been stretched too far.</param>
public sealed record TransientSolution(TransientModel Model, IReadOnlyList<TransientStep> Steps, TransientField Last, int RefusedSteps, int Meshes)
{
    /// <summary>Displacement and speed of a body at any time, by the cubic through places and speeds at both ends of a step.</summary>
    /// <param name="body">Index of the body.</param>
    /// <param name="time">Time between zero and the end, s.</param>
    /// <returns>m and m/s.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The time or the body lies outside.</exception>
    public (double Displacement, double Speed) Motion(int body, double time)
    {
        Numerics.Guard.InRange(body, 0, Model.Bodies.Count - 1);
        Numerics.Guard.InRange(time, 0, Steps[^1].Time * (1 + 1e-12));
        int low = 0, high = Steps.Count - 1;
        while (high - low > 1)
        {
            var middle = (low + high) / 2;
            if (Steps[middle].Time <= time) low = middle;
            else high = middle;
        }
        var (a, b) = (Steps[low], Steps[high]);
        var h = b.Time - a.Time;
        if (h == 0) return (b.Displacements[body], b.Speeds[body]);
        var s = (time - a.Time) / h;
        double z0 = a.Displacements[body], z1 = b.Displacements[body], v0 = h * a.Speeds[body], v1 = h * b.Speeds[body];
        double c2 = (3 * (z1 - z0)) - (2 * v0) - v1, c3 = (2 * (z0 - z1)) + v0 + v1;
        return (z0 + (s * (v0 + (s * (c2 + (s * c3))))), (v0 + (s * ((2 * c2) + (3 * s * c3)))) / h);
    }
}
