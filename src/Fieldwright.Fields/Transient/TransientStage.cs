namespace Fieldwright.Fields.Transient;

/// <summary>What holds at one stage of a step.</summary>
/// <param name="A">The field's unknowns.</param>
/// <param name="Rate">Their time derivatives; of use where there is conducting matter or a winding.</param>
/// <param name="Currents">Current of every circuit.</param>
/// <param name="Voltages">Voltage of every solid conductor.</param>
/// <param name="Kept">What is conserved, in the order of <see cref="KeptLayout"/>.</param>
/// <param name="KeptRate">Its time derivative.</param>
/// <param name="Forces">Force of the field on each body along its motion.</param>
internal sealed record TransientStage(double[] A, double[] Rate, double[] Currents, double[] Voltages, double[] Kept, double[] KeptRate, double[] Forces);

/// <summary>Where each conserved quantity stands: M·a over the unknowns, linkage and charge of each circuit fed by a voltage, sᵀa of each solid conductor,
/// place and speed of each body.</summary>
internal readonly record struct KeptLayout(int Unknowns, int Circuits, int Conductors, int Bodies)
{
    public int Linkage => Unknowns;

    public int Charge => Unknowns + Circuits;

    public int Conductor => Unknowns + (2 * Circuits);

    public int Place => Conductor + Conductors;

    public int Speed => Place + Bodies;

    public int Count => Speed + Bodies;
}
