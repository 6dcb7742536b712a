using System.Numerics;
using Fieldwright.Circuits.Solving;

namespace Fieldwright.Circuits;

/// <summary>Peak phasors of a network, exp(+jωt).</summary>
public sealed class PhasorState
{
    private readonly Network network;
    private readonly Layout layout;
    private readonly Complex[] x;
    private readonly Func<Elements.Element, int, Complex[], Complex> flow;

    internal PhasorState(Network network, Layout layout, Complex[] x, Func<Elements.Element, int, Complex[], Complex> flow)
    {
        this.network = network;
        this.layout = layout;
        this.x = x;
        this.flow = flow;
    }

    /// <summary>Potential of a node against the reference, peak.</summary>
    /// <param name="node">Name of the node.</param>
    public Complex Potential(string node) => At(NetworkState.Find(layout, node));

    /// <summary>Drop across an element, peak.</summary>
    /// <param name="element">Name of the element.</param>
    /// <param name="port">Which pair of ends, from 0.</param>
    public Complex Drop(string element, int port = 0) => At(network[element].At[2 * port]) - At(network[element].At[2 * port + 1]);

    /// <summary>Flow into an element at its first node, peak.</summary>
    /// <param name="element">Name of the element.</param>
    /// <param name="port">Which pair of ends, from 0.</param>
    public Complex Flow(string element, int port = 0) => flow(network[element], port, x);

    /// <summary>Complex power drawn: ½ V I*, its real part in W and its imaginary part in var, positive for an inductor.</summary>
    /// <param name="element">Name of the element.</param>
    public Complex Power(string element)
    {
        Complex sum = 0;
        for (int port = 0; port < Math.Max(1, network[element].Nodes.Count / 2); port++)
            sum += 0.5 * Drop(element, port) * Complex.Conjugate(Flow(element, port));
        return sum;
    }

    private Complex At(int unknown) => unknown < 0 ? Complex.Zero : x[unknown];
}
