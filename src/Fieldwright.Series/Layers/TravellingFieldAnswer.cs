using System.Numerics;

namespace Fieldwright.Series.Layers;

/// <summary>What a travelling field does to a stack at one speed. Time averages over a period; peak phasors with exp(+jωt).</summary>
/// <param name="Speed">Speed of the moving layers, m/s (rad/s for a rotating stack), positive along the travel.</param>
/// <param name="Thrust">Mean thrust on the moving layers along the travel, N; the torque, N·m, for a rotating stack.</param>
/// <param name="NormalForce">Mean force on the moving layers upwards, N; flat stacks only, and only when the layers next to the moving ones are not permeable.</param>
/// <param name="LossByLayer">Mean heat in each layer, W, without the resistance of the winding.</param>
/// <param name="InputPower">Mean power the winding hands to the field, W; equals loss + thrust × speed.</param>
/// <param name="Voltages">Peak phasors of the voltage induced in each phase, V, resistance left out.</param>
/// <param name="ThrustError">What the last fifth of the harmonics added to the thrust in size, N (N·m): an estimate of what those left out would.</param>
public sealed record TravellingFieldAnswer(
    double Speed, double Thrust, double? NormalForce, IReadOnlyList<double> LossByLayer, double InputPower, IReadOnlyList<Complex> Voltages, double ThrustError)
{
    /// <summary>Power handed to the moving layers as motion, W.</summary>
    public double MechanicalPower => Thrust * Speed;

    /// <summary>Heat in all layers, W.</summary>
    public double Loss => LossByLayer.Sum();
}
