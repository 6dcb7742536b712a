using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Hydraulic;
using Fieldwright.Circuits.Magnetic;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Routes;

/// <summary>The circuit route for a board of elements: its network as it is written.</summary>
internal sealed class BoardRoute : IRoute
{
    // Darcy's factor: exact when laminar, wavering between Re 2000 and 4000, ±5 % beyond (common practice, no source). Fittings ±20 %.
    private const double Laminar = 0.001, Wavering = 0.25, Turbulent = 0.05, OfFittings = 0.2, LeastTurbulent = 2000, WhollyTurbulent = 4000, Rounding = 1e-6;

    // What short paths of flux lose to fringing: a lumped path is good to a few per cent at best.
    private const double OfPaths = 0.03;

    /// <inheritdoc/>
    public RouteName Name => RouteName.Circuit;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => apparatus.Board is null ? Wanted.None : Wanted.Board;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var board = apparatus.Board!;
        var state = Solved(board, _ => 1);
        var doubtful = board.Elements.Select(e => (Element: e, Share: Doubt(e, state))).Where(d => d.Share > 0).ToList();
        // Each law a little harder: what that moves, added up.
        var moved = doubtful.Select(d => Solved(board, e => ReferenceEquals(e, d.Element) ? 1 + d.Share : 1)).ToList();
        Estimate Of(Func<NetworkState, double> read, double least) => new(read(state), moved.Sum(m => Math.Abs(read(m) - read(state))) + least);
        double flows = board.Elements.Max(e => Math.Abs(Flow(state, e))), potentials = board.Nodes.Max(n => Math.Abs(Potential(state, board, n)));
        return new OperatingPoint
        {
            Currents = new Dictionary<string, System.Numerics.Complex>(),
            BoardFlows = board.Elements.ToDictionary(e => e.Name, e => Of(s => Flow(s, e), Rounding * flows), StringComparer.OrdinalIgnoreCase),
            BoardPotentials = board.Nodes.ToDictionary(n => n, n => Of(s => Potential(s, board, n), Rounding * potentials), StringComparer.OrdinalIgnoreCase),
            Remark = board.Domain switch
            {
                BoardDomain.Water => "Water at 20 °C; the bar is what friction laws leave open.",
                BoardDomain.Magnetic => "Lumped paths: flux that leaves them through the air is not counted unless it has an element of its own.",
                _ => "",
            },
        };
    }

    /// <summary>The state of a board.</summary>
    /// <param name="board">The board.</param>
    /// <param name="harder">How much harder the law of an element is than written.</param>
    /// <exception cref="RouteFailedException">It has no answer, or none was found.</exception>
    public static NetworkState Solved(Board board, Func<BoardElement, double> harder)
    {
        var network = new Network();
        try
        {
            foreach (var element in board.Elements)
                Add(network, element, N(board, element.From), N(board, element.To), harder(element), board.Domain);
            return network.Steady();
        }
        catch (Exception e) when (e is NetworkNotConvergedException or IllPosedNetworkException)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>Flow through an element from its first node to its second, SI.</summary>
    public static double Flow(NetworkState state, BoardElement element) => element is DriveElement ? -state.Flow(element.Name) : state.Flow(element.Name);

    /// <summary>Potential of a node against the ground, SI.</summary>
    public static double Potential(NetworkState state, Board board, string node) => state.Potential(N(board, node));

    private static string N(Board board, string node) => Apparatus.Same(node, board.Ground) ? Network.Reference : "node " + node.ToLowerInvariant();

    private static void Add(Network network, BoardElement element, string from, string to, double harder, BoardDomain domain)
    {
        string name = element.Name;
        switch (element)
        {
            case DriveElement { Inner: > 0 } d:
                string inside = "inside " + name;
                network.Add(new PotentialSource(name, inside, from, d.Lift)).Add(new Resistor("loss of " + name, inside, to, d.Inner));
                break;
            case DriveElement d:
                network.Add(new PotentialSource(name, to, from, d.Lift));
                break;
            case FlowElement f:
                network.Add(new FlowSource(name, from, to, f.Flow));
                break;
            case StraightElement r:
                network.Add(new Resistor(name, from, to, r.Resistance * harder));
                break;
            case PipeElement p:
                network.Add(new Pipe(name, from, to, p.Length * harder, p.Bore, Water.Density, Water.Viscosity, p.Roughness));
                break;
            case FittingElement f:
                network.Add(new Fitting(name, from, to, f.Coefficient * harder, f.Bore, Water.Density, Water.Viscosity));
                break;
            case MagnetElement m:
                network.Add(new MagnetPath(name, from, to, m.Length * harder, m.Area, m.Of.Remanence, m.Of.RelativePermeability));
                break;
            case BarElement b when domain == BoardDomain.Heat:
                network.Add(new Resistor(name, from, to, b.Length * harder / (b.Of.ThermalConductivity!.Value * b.Area)));
                break;
            case BarElement b:
                network.Add(new Reluctance(name, from, to, b.Length * harder, b.Area, new PathMatter(b.Of.Curve, b.Of.RelativePermeability)));
                break;
        }
    }

    private static double Doubt(BoardElement element, NetworkState state) => element switch
    {
        PipeElement p => (4 * Water.Density * Math.Abs(state.Flow(p.Name)) / (Math.PI * p.Bore * Water.Viscosity)) switch
        {
            < LeastTurbulent => Laminar,
            < WhollyTurbulent => Wavering,
            _ => Turbulent,
        },
        FittingElement { IsNozzle: false } => OfFittings,
        FittingElement => OfPaths,
        MagnetElement => OfPaths,
        BarElement => OfPaths,
        _ => 0,
    };
}
