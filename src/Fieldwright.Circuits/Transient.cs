namespace Fieldwright.Circuits;

/// <summary>How finely a transient is followed.</summary>
/// <param name="RelativeError">Error allowed in a step, over the largest stored quantity so far; of the first-order solution, so that the answer itself is better.</param>
/// <param name="LargestStep">Largest step, s; null for a hundredth of the duration. Alternating sources want a fortieth of a period at most.</param>
/// <param name="FirstStep">First step and first step after a jump, s; null for a millionth of the duration.</param>
/// <param name="MostSteps">Steps after which it gives up.</param>
/// <param name="Until">Ends the run at the first state for which it holds; null runs to the end.</param>
public sealed record TransientOptions(double RelativeError = 1e-4, double? LargestStep = null, double? FirstStep = null, int MostSteps = 200_000, Func<NetworkState, bool>? Until = null);

/// <summary>The course of a network in time.</summary>
public sealed class Transient
{
    internal Transient(IReadOnlyList<double> times, IReadOnlyList<NetworkState> states) => (Times, States) = (times, states);

    /// <summary>Times of the states, s, rising; the last is the end.</summary>
    public IReadOnlyList<double> Times { get; }

    /// <summary>States at those times.</summary>
    public IReadOnlyList<NetworkState> States { get; }

    /// <summary>The last state.</summary>
    public NetworkState Last => States[^1];

    /// <summary>A reading at every time.</summary>
    /// <param name="reading">What is read off a state.</param>
    public IReadOnlyList<double> Trace(Func<NetworkState, double> reading) => [.. States.Select(reading)];

    /// <summary>Integral of a reading over time by trapezoids; the first interval takes the value at its end.</summary>
    /// <param name="reading">What is read off a state, such as a power or a current.</param>
    public double Integral(Func<NetworkState, double> reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        double sum = 0, before = reading(States[0]), time = 0;
        for (int i = 0; i < Times.Count; i++)
        {
            double now = reading(States[i]);
            sum += 0.5 * (before + now) * (Times[i] - time);
            (before, time) = (now, Times[i]);
        }

        return sum;
    }
}
