namespace Fieldwright.Circuits;

/// <summary>A network that has no answer, or more than one; the message names what is wrong with it.</summary>
/// <param name="message">What is wrong, in words.</param>
/// <param name="elements">Elements concerned.</param>
/// <param name="nodes">Nodes concerned.</param>
public sealed class IllPosedNetworkException(string message, IReadOnlyList<string> elements, IReadOnlyList<string> nodes) : InvalidOperationException(message)
{
    /// <summary>Elements concerned.</summary>
    public IReadOnlyList<string> Elements { get; } = elements;

    /// <summary>Nodes concerned.</summary>
    public IReadOnlyList<string> Nodes { get; } = nodes;
}

/// <summary>The iteration on a nonlinear network did not settle, and no answer is given.</summary>
/// <param name="message">What was tried.</param>
/// <param name="residuals">Largest imbalance after each step, scaled.</param>
public sealed class NetworkNotConvergedException(string message, IReadOnlyList<double> residuals) : InvalidOperationException(message)
{
    /// <summary>Largest imbalance after each step, scaled.</summary>
    public IReadOnlyList<double> Residuals { get; } = residuals;
}
