
namespace Fieldwright.Particles;

/// <summary>A heap of the next event of each disc: one key a disc, the least on top. Four children a node, key and disc side by side, so that a step down touches one line of memory.</summary>
internal sealed class EventQueue
{
    private struct Entry
    {
        public double Key;
        public int Item;
    }

    private readonly Entry[] heap;
    private readonly int[] place;

    public EventQueue(int count)
    {
        heap = new Entry[count];
        place = new int[count];
        for (int i = 0; i < count; i++)
            (heap[i], place[i]) = (new Entry { Key = double.PositiveInfinity, Item = i }, i);
    }

    /// <summary>The disc whose event comes first.</summary>
    public int First => heap[0].Item;

    /// <summary>When that is.</summary>
    public double FirstKey => heap[0].Key;

    /// <summary>Sets the key of a disc.</summary>
    public void Set(int item, double key)
    {
        var heap = this.heap;
        int[] place = this.place;
        int at = place[item];
        var entry = new Entry { Key = key, Item = item };
        while (at > 0)
        {
            int above = (at - 1) >> 2;
            if (heap[above].Key <= key)
                break;
            heap[at] = heap[above];
            place[heap[at].Item] = at;
            at = above;
        }

        while (true)
        {
            int first = 4 * at + 1;
            if (first >= heap.Length)
                break;
            int least = first, end = Math.Min(first + 4, heap.Length);
            for (int child = first + 1; child < end; child++)
                if (heap[child].Key < heap[least].Key)
                    least = child;
            if (heap[least].Key >= key)
                break;
            heap[at] = heap[least];
            place[heap[at].Item] = at;
            at = least;
        }

        heap[at] = entry;
        place[item] = at;
    }
}
