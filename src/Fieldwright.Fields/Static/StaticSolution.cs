namespace Fieldwright.Fields.Static;

/// <summary>A static field found, and the linear problems about it that can still be solved: at rest, or with conductors in steady motion.</summary>
internal abstract class StaticSolution
{
    /// <summary>A (long) or A/r (round) over the nodes.</summary>
    public abstract double[] Field { get; }

    public abstract double[] WindingCurrents { get; }

    public abstract double[] ConductorVoltages { get; }

    /// <summary>Relative length of each Newton step in the energy norm.</summary>
    public abstract List<double> History { get; }

    /// <summary>Solves with the tangent at the solution, for loads over the nodes: incremental fields.</summary>
    public abstract double[] SolveTangent(double[] loadOverNodes);

    /// <summary>Solves the transposed rows, for dual problems: load over the nodes and one entry a port.</summary>
    public abstract (double[] Field, double[] Ports) SolveDual(double[] load, double[] portLoad);
}
