using System.Numerics;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Solving;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits;

/// <summary>A network of elements between named nodes, and its steady, alternating and transient states.</summary>
/// <remarks>
/// The reference node is <c>0</c>. The equations are those of modified nodal analysis; nonlinear ones are solved by Newton's method with a line search, and
/// if need be by switching the sources on in steps. A network is built by one thread; solutions are immutable.
/// </remarks>
/// <source key="HoRuehliBrennan1975"/>
public sealed class Network
{
    /// <summary>Name of the reference node.</summary>
    public const string Reference = "0";

    private readonly List<Element> elements = [];
    private readonly Dictionary<string, Element> byName = new(StringComparer.Ordinal);

    /// <summary>The elements, in the order they were added.</summary>
    public IReadOnlyList<Element> Elements => elements;

    /// <summary>Adds an element.</summary>
    /// <param name="element">The element; an element belongs to one network.</param>
    /// <returns>The network, for the next one.</returns>
    /// <exception cref="ArgumentException">Its name is taken.</exception>
    public Network Add(Element element)
    {
        ArgumentNullException.ThrowIfNull(element);
        if (!byName.TryAdd(element.Name, element))
            throw new ArgumentException($"There is already an element '{element.Name}'.", nameof(element));
        elements.Add(element);
        return this;
    }

    /// <summary>The state when everything has settled, sources at their values at time zero.</summary>
    /// <exception cref="IllPosedNetworkException">It has no answer or more than one.</exception>
    /// <exception cref="NetworkNotConvergedException">The iteration did not settle.</exception>
    public NetworkState Steady() => Steady(0);

    /// <summary>Peak phasors at a frequency, exp(+jωt).</summary>
    /// <param name="frequency">Frequency, Hz; positive.</param>
    /// <param name="aboutSteady">Whether nonlinear elements are linearised about the steady state; otherwise about rest.</param>
    /// <exception cref="IllPosedNetworkException">It has no answer or more than one.</exception>
    /// <exception cref="NetworkNotConvergedException">The iteration on elements that depend on their amplitude did not settle.</exception>
    public PhasorState Alternating(double frequency, bool aboutSteady = false)
    {
        double omega = 2 * Math.PI * Guard.Positive(frequency);
        var layout = Number();
        var balance = new Balance(layout.Order);
        if (aboutSteady)
            Steady().Potentials.CopyTo(balance.X, 0);
        Topology.Check(this, layout, steady: false, 0);
        foreach (var e in elements.Where(e => e is not FlowFromAmplitude && !e.HasPhasorMatrix))
            e.Evaluate(balance);
        return PhasorSolve.Run(this, layout, balance, omega);
    }

    /// <summary>The course of events from time zero.</summary>
    /// <param name="duration">How long, s; positive.</param>
    /// <param name="options">Accuracy and limits; null for the usual ones.</param>
    /// <param name="stop">Stops the work.</param>
    /// <remarks>It starts from the steady state just before time zero, but for elements that state their own initial value.</remarks>
    /// <exception cref="IllPosedNetworkException">It has no answer or more than one.</exception>
    /// <exception cref="NetworkNotConvergedException">A step did not settle.</exception>
    public Transient Transient(double duration, TransientOptions? options = null, CancellationToken stop = default) =>
        TransientSolve.Run(this, Number(), Guard.Positive(duration), options ?? new(), stop);

    internal NetworkState Steady(double time)
    {
        var layout = Number();
        Topology.Check(this, layout, steady: true, time);
        var balance = new Balance(layout.Order) { Time = time };
        NewtonSolve.Steady(this, layout, balance);
        return new NetworkState(this, layout, balance);
    }

    internal Element this[string name] => byName.TryGetValue(name, out var element)
        ? element
        : throw new ArgumentException($"There is no element '{name}'; there are {string.Join(", ", byName.Keys)}.", nameof(name));

    // Unknowns: nodes first, in order of appearance, then branches.
    internal Layout Number()
    {
        var nodes = new Dictionary<string, int>(StringComparer.Ordinal) { [Reference] = -1 };
        foreach (var node in elements.SelectMany(e => e.Nodes))
            if (!nodes.ContainsKey(node))
                nodes[node] = nodes.Count - 1;
        int order = nodes.Count - 1;
        if (elements.Count == 0 || !elements.SelectMany(e => e.Nodes).Contains(Reference))
            throw new IllPosedNetworkException($"No element ends at the reference node '{Reference}'.", [], [Reference]);
        var owners = new List<string>();
        foreach (var element in elements)
        {
            element.At = [.. element.Nodes.Select(n => nodes[n])];
            element.Branch = element.BranchCount > 0 ? order : -1;
            order += element.BranchCount;
            for (int i = 0; i < element.BranchCount; i++)
                owners.Add(element.Name);
        }

        var aboveZero = elements.SelectMany(e => e.AboveZero.Select(k => e.At[k])).Where(u => u >= 0).ToHashSet();
        return new(order, nodes, owners, aboveZero);
    }
}

/// <summary>Numbering of the unknowns of a network.</summary>
/// <param name="Order">How many there are.</param>
/// <param name="Nodes">Unknown of each node, −1 for the reference.</param>
/// <param name="BranchOwners">Element of each branch.</param>
/// <param name="AboveZero">Unknowns that are absolute temperatures.</param>
internal sealed record Layout(int Order, IReadOnlyDictionary<string, int> Nodes, IReadOnlyList<string> BranchOwners, IReadOnlySet<int> AboveZero)
{
    /// <summary>Names of a set of unknowns: nodes and the elements whose branches they are.</summary>
    public (IReadOnlyList<string> Elements, IReadOnlyList<string> Nodes) Names(IEnumerable<int> unknowns)
    {
        int half = Nodes.Count - 1 + BranchOwners.Count;
        var byNumber = Nodes.Where(n => n.Value >= 0).ToDictionary(n => n.Value, n => n.Key);
        var list = unknowns.Select(u => u % half).Distinct().ToList();
        return ([.. list.Where(u => u >= byNumber.Count).Select(u => BranchOwners[u - byNumber.Count]).Distinct()], [.. list.Where(byNumber.ContainsKey).Select(u => byNumber[u])]);
    }
}
