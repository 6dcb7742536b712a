using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Solving;

namespace Fieldwright.Circuits;

/// <summary>Potentials and flows of a network at one moment, or when everything has settled.</summary>
public sealed class NetworkState
{
    private readonly Network network;
    private readonly Layout layout;

    internal NetworkState(Network network, Layout layout, Balance balance)
    {
        this.network = network;
        this.layout = layout;
        Time = balance.Time;
        Potentials = (double[])balance.X.Clone();
    }

    /// <summary>Time of the state, s.</summary>
    public double Time { get; }

    internal double[] Potentials { get; }

    /// <summary>Potential of a node against the reference.</summary>
    /// <param name="node">Name of the node.</param>
    /// <exception cref="ArgumentException">There is no such node.</exception>
    public double Potential(string node) => At(Find(layout, node));

    /// <summary>Drop across an element, first node less second.</summary>
    /// <param name="element">Name of the element.</param>
    /// <param name="port">Which pair of ends, from 0.</param>
    public double Drop(string element, int port = 0) => At(network[element].At[2 * port]) - At(network[element].At[2 * port + 1]);

    /// <summary>Flow into an element at its first node (of the port).</summary>
    /// <param name="element">Name of the element.</param>
    /// <param name="port">Which pair of ends, from 0.</param>
    public double Flow(string element, int port = 0)
    {
        var e = network[element];
        // The element alone, its first end held apart from the others, says what it draws there.
        var alone = new Balance(layout.Order + 1, sloped: false) { X = [.. Potentials, 0], Time = Time };
        var at = e.At;
        var probe = (int[])at.Clone();
        alone.X[layout.Order] = At(at[2 * port]);
        probe[2 * port] = layout.Order;
        try
        {
            e.At = probe;
            e.Evaluate(alone);
        }
        finally
        {
            e.At = at;
        }

        return alone.F[layout.Order];
    }

    /// <summary>Drop times flow: power drawn by an electric or hydraulic element, W; negative for one that delivers.</summary>
    /// <param name="element">Name of the element.</param>
    public double Power(string element)
    {
        double sum = 0;
        for (int port = 0; port < Math.Max(1, network[element].Nodes.Count / 2); port++)
            sum += Drop(element, port) * Flow(element, port);
        return sum;
    }

    internal static int Find(Layout layout, string node) => layout.Nodes.TryGetValue(node, out int unknown)
        ? unknown
        : throw new ArgumentException($"There is no node '{node}'; there are {string.Join(", ", layout.Nodes.Keys)}.", nameof(node));

    private double At(int unknown) => unknown < 0 ? 0 : Potentials[unknown];
}
