namespace Fieldwright.Particles;

/// <summary>A calendar of the next event of each item: a year of days, each a list in no order; what lies beyond the year waits on a list of its own. Setting a key and finding the least cost the same however many items there are.</summary>
/// <remarks>A day is made about as long as the time between two events was in the year before, so that it holds an item or two when it comes. The order of events does not depend on it: the least key of the first day that holds any is the least of all.</remarks>
/// <source key="Paul2007"/>
internal sealed class EventQueue
{
    // A year this many times fuller than planned ends early: events have become more frequent.
    private const int Overfull = 8;

    private struct Node
    {
        public double Key;
        public int Next, Previous, Day;
    }

    private readonly Node[] nodes;
    private readonly int[] days;
    private readonly int beyond;
    private double start, end, perTime;
    private int today, found;

    public EventQueue(int count)
    {
        nodes = new Node[count];
        beyond = (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)(2 * count));
        days = new int[beyond + 1];
        Array.Fill(days, -1);
        (start, end, today) = (0, double.NegativeInfinity, beyond);
        for (int i = 0; i < count; i++)
        {
            nodes[i].Key = double.PositiveInfinity;
            Link(i, ref nodes[i], beyond);
        }
    }

    /// <summary>Sets the key of an item; it may lie before what was found last.</summary>
    public void Set(int item, double key)
    {
        ref var node = ref nodes[item];
        node.Key = key;
        int day = key < end ? Math.Max(today, DayOf(key)) : beyond;
        if (day == node.Day)
            return;
        Unlink(ref node);
        Link(item, ref node, day);
    }

    /// <summary>The item whose event comes first, and when; infinite when nothing comes.</summary>
    public (int Item, double Key) First()
    {
        while (true)
        {
            while (today < beyond && days[today] < 0)
                today++;
            if (today == beyond || found > Overfull * beyond)
            {
                if (!NewYear())
                    return (0, double.PositiveInfinity);
                continue;
            }

            var nodes = this.nodes;
            int least = days[today];
            double key = nodes[least].Key;
            for (int i = nodes[least].Next; i >= 0; i = nodes[i].Next)
                if (nodes[i].Key < key)
                    (least, key) = (i, nodes[i].Key);
            found++;
            return (least, key);
        }
    }

    private bool NewYear()
    {
        double least = double.PositiveInfinity, sum = 0;
        int finite = 0;
        foreach (ref var node in nodes.AsSpan())
            if (double.IsFinite(node.Key))
                (least, sum, finite) = (Math.Min(least, node.Key), sum + node.Key, finite + 1);
        if (finite == 0)
            return false;
        // As often as in the year that ends; in the first one as the keys that stand there let expect.
        double day = found > 0 && least > start ? (least - start) / found : (sum / finite - least) / finite;
        // Never so short that a clock of so many digits could not tell the days apart.
        day = Math.Max(day, Math.Max(Math.Abs(least) * 1e-14, 1e-300));
        (start, end, perTime, today, found) = (least, least + beyond * day, 1 / day, 0, 0);
        Array.Fill(days, -1);
        for (int i = 0; i < nodes.Length; i++)
            Link(i, ref nodes[i], nodes[i].Key < end ? DayOf(nodes[i].Key) : beyond);
        return true;
    }

    private int DayOf(double key) => Math.Min(beyond - 1, (int)((key - start) * perTime));

    private void Link(int item, ref Node node, int day)
    {
        int head = days[day];
        (node.Next, node.Previous, node.Day) = (head, -1, day);
        if (head >= 0)
            nodes[head].Previous = item;
        days[day] = item;
    }

    private void Unlink(ref Node node)
    {
        if (node.Previous >= 0)
            nodes[node.Previous].Next = node.Next;
        else
            days[node.Day] = node.Next;
        if (node.Next >= 0)
            nodes[node.Next].Previous = node.Previous;
    }
}
