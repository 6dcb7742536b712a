namespace Fieldwright.Series.Currents;

/// <summary>A short piece of current.</summary>
/// <param name="Point">Where it flows, m.</param>
/// <param name="Moment">Current times directed length, A·m.</param>
public readonly record struct CurrentElement(Vector Point, Vector Moment);

/// <summary>Anything that acts by its currents: a coil with one ampere in it, or a rigid magnet by its equivalent current sheets.</summary>
/// <remarks>Implementations are immutable; threads may share them, and name their own accuracy and source.</remarks>
public interface ICurrents
{
    /// <summary>Point about which torques are taken, m.</summary>
    Vector Centre { get; }

    /// <summary>Flux density of these currents at a point, T; for a coil per ampere.</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>B in the axes of space, T or T/A.</returns>
    Vector FluxDensity(Vector point);

    /// <summary>The currents as pieces; sums of smooth fields over them converge exponentially with the refinement.</summary>
    /// <param name="refinement">0, 1, 2, …; the count of pieces grows about eightfold each time.</param>
    /// <param name="into">Receives the pieces.</param>
    void AddElements(int refinement, ICollection<CurrentElement> into);
}

/// <summary>A coil of any shape, one ampere in it.</summary>
/// <remarks>Implementations name their own accuracy and source.</remarks>
public interface ICoil : ICurrents
{
    /// <summary>Vector potential per ampere at a point, Wb/(m·A).</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>A in the axes of space, Wb/(m·A), that falls off far away.</returns>
    Vector VectorPotential(Vector point);
}
