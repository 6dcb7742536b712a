using Fieldwright.Circuits.Elements;

namespace Fieldwright.Circuits.Solving;

/// <summary>Finds what no value of any element can mend: parts that hang loose, loops of fixed drops, cuts of fixed flows.</summary>
internal static class Topology
{
    public static void Check(Network network, Layout layout, bool steady, double time)
    {
        var ties = network.Elements.SelectMany(e => e.Ties(steady, time).Select(t => (Element: e, t.From, t.To, t.Tie))).ToList();
        int nodes = layout.Nodes.Count - 1;
        CheckLoops(layout, ties, nodes, steady);
        CheckCuts(layout, ties, nodes, steady, network);
    }

    private static void CheckLoops(Layout layout, List<(Element Element, int From, int To, Tie Tie)> ties, int nodes, bool steady)
    {
        var tree = new List<(Element Element, int From, int To, Tie Tie)>();
        var set = new Sets(nodes + 1);
        foreach (var tie in ties.Where(t => t.Tie == Tie.FixesDrop))
        {
            if (set.Join(tie.From + 1, tie.To + 1))
            {
                tree.Add(tie);
                continue;
            }

            var loop = PathBetween(tree, tie.From, tie.To).Append(tie.Element).Select(e => e.Name).Distinct().ToList();
            string remark = steady && loop.Count > 0 ? " (once everything has settled, an inductor without resistance is a wire)" : "";
            throw new IllPosedNetworkException(
                loop.Count == 1
                    ? $"{loop[0]} is shorted: both its ends lie on one node or between fixed potentials{remark}."
                    : $"{string.Join(", ", loop)} fix the potential round a closed loop, so the flow in it has no single answer{remark}: put a resistance into the loop.",
                loop, Between(layout, [tie.From, tie.To]));
        }
    }

    private static void CheckCuts(Layout layout, List<(Element Element, int From, int To, Tie Tie)> ties, int nodes, bool steady, Network network)
    {
        var set = new Sets(nodes + 1);
        foreach (var tie in ties.Where(t => t.Tie != Tie.FixesFlow))
            set.Join(tie.From + 1, tie.To + 1);
        var loose = Enumerable.Range(0, nodes).Where(n => set.Find(n + 1) != set.Find(0)).ToList();
        if (loose.Count == 0)
            return;
        var group = loose.Where(n => set.Find(n + 1) == set.Find(loose[0] + 1)).ToHashSet();
        var names = Between(layout, group);
        var cut = ties.Where(t => t.Tie == Tie.FixesFlow && group.Contains(t.From) != group.Contains(t.To)).Select(t => t.Element.Name).Distinct().ToList();
        var touching = cut.Count > 0 ? cut : network.Elements.Where(e => e.At.Any(group.Contains)).Select(e => e.Name).ToList();
        string where = names.Count == 1 ? $"node {names[0]} hangs" : $"nodes {string.Join(", ", names)} hang";
        throw new IllPosedNetworkException(
            cut.Count > 0
                ? $"The {where} between {string.Join(", ", cut)} alone, which fix the flow{(steady ? " (a capacitor blocks once everything has settled)" : "")}: give the part a path to the rest."
                : $"The {where} loose: {string.Join(", ", touching)} have no path to the reference node.",
            touching, names);
    }

    private static List<Element> PathBetween(List<(Element Element, int From, int To, Tie Tie)> tree, int from, int to)
    {
        var came = new Dictionary<int, (int Node, Element? By)> { [from] = (from, null) };
        var queue = new Queue<int>([from]);
        while (queue.TryDequeue(out int node) && node != to)
            foreach (var (element, a, b, _) in tree)
                if ((a == node || b == node) && came.TryAdd(a == node ? b : a, (node, element)))
                    queue.Enqueue(a == node ? b : a);
        var path = new List<Element>();
        for (int node = to; came.TryGetValue(node, out var step) && step.By is not null; node = step.Node)
            path.Add(step.By);
        return path;
    }

    private static List<string> Between(Layout layout, IEnumerable<int> nodes)
    {
        var wanted = nodes.ToHashSet();
        return [.. layout.Nodes.Where(n => wanted.Contains(n.Value)).Select(n => n.Key)];
    }

    private sealed class Sets(int count)
    {
        private readonly int[] parent = [.. Enumerable.Range(0, count)];

        public int Find(int i)
        {
            while (parent[i] != i)
                i = parent[i] = parent[parent[i]];
            return i;
        }

        public bool Join(int a, int b)
        {
            (a, b) = (Find(a), Find(b));
            parent[a] = b;
            return a != b;
        }
    }
}
