namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Where a structurally symmetric sparse matrix may be non-zero: its lower triangle by columns, rows ascending, the diagonal always present.
/// Values belonging to a pattern are one <see langword="double"/> for each entry of <see cref="RowIndices"/>, in that order. Immutable: threads may share it.
/// </summary>
public sealed class SymmetricPattern
{
    private readonly int[] _columnStarts;
    private readonly int[] _rowIndices;

    /// <summary>Takes a pattern as it stands; the arrays are kept, not copied.</summary>
    /// <param name="order">Number of rows and of columns.</param>
    /// <param name="columnStarts">order + 1 positions: column j occupies entries columnStarts[j] to columnStarts[j + 1] − 1.</param>
    /// <param name="rowIndices">Row of each entry: within a column strictly ascending, the first being the diagonal.</param>
    /// <exception cref="ArgumentException">The arrays do not describe a lower triangle with its diagonal.</exception>
    public SymmetricPattern(int order, int[] columnStarts, int[] rowIndices)
    {
        Guard.NotNegative(order);
        ArgumentNullException.ThrowIfNull(columnStarts);
        ArgumentNullException.ThrowIfNull(rowIndices);
        Guard.Length(columnStarts.Length, order + 1L, nameof(columnStarts));
        Guard.Length(rowIndices.Length, columnStarts[order], nameof(rowIndices));
        for (var j = 0; j < order; j++)
        {
            var start = columnStarts[j];
            if (start < 0 || columnStarts[j + 1] <= start || columnStarts[j + 1] > rowIndices.Length || rowIndices[start] != j)
                throw new ArgumentException($"column {j} does not begin with its diagonal", nameof(rowIndices));
            for (var p = start + 1; p < columnStarts[j + 1]; p++)
                if (rowIndices[p] <= rowIndices[p - 1] || rowIndices[p] >= order)
                    throw new ArgumentException($"rows of column {j} do not ascend within the matrix", nameof(rowIndices));
        }
        Order = order;
        _columnStarts = columnStarts;
        _rowIndices = rowIndices;
    }

    /// <summary>Number of rows and of columns.</summary>
    public int Order { get; }

    /// <summary>Number of entries kept: the lower triangle with the diagonal.</summary>
    public int EntryCount => _rowIndices.Length;

    /// <summary>order + 1 positions: column j occupies entries ColumnStarts[j] to ColumnStarts[j + 1] − 1. Not to be written to.</summary>
    public int[] ColumnStarts => _columnStarts;

    /// <summary>Row of each entry, ascending within a column from the diagonal down. Not to be written to.</summary>
    public int[] RowIndices => _rowIndices;

    /// <summary>Position of entry (row, column), either triangle, or −1 where the pattern has none.</summary>
    /// <param name="row">Row, from 0.</param>
    /// <param name="column">Column, from 0.</param>
    /// <returns>Index into <see cref="RowIndices"/> and into the values.</returns>
    public int IndexOf(int row, int column)
    {
        Guard.InRange(row, 0, Order - 1);
        Guard.InRange(column, 0, Order - 1);
        var (low, high) = row < column ? (row, column) : (column, row);
        var found = Array.BinarySearch(_rowIndices, _columnStarts[low], _columnStarts[low + 1] - _columnStarts[low], high);
        return found < 0 ? -1 : found;
    }

    /// <summary>The pattern of an assembled finite-element matrix, with the place of every element entry in it.</summary>
    /// <param name="order">Number of unknowns.</param>
    /// <param name="elementDofs">Unknowns of element 0, then of element 1, …: <paramref name="dofsPerElement"/> each; negative where a degree of freedom is constrained.</param>
    /// <param name="dofsPerElement">Degrees of freedom of one element.</param>
    /// <param name="scatter">
    /// d(d + 1)/2 positions an element, its local lower triangle row by row ((0,0), (1,0), (1,1), (2,0) …): where that entry is added, −1 where a degree of freedom is constrained.
    /// An element in which two local degrees of freedom are the same unknown adds their common entry to the diagonal, where it counts twice: the caller doubles it.
    /// </param>
    /// <returns>The pattern, every diagonal entry present.</returns>
    /// <exception cref="ArgumentException">A degree of freedom is not below the order, or the list is no whole number of elements.</exception>
    public static SymmetricPattern FromElements(int order, ReadOnlySpan<int> elementDofs, int dofsPerElement, out int[] scatter) =>
        FromElements(order, elementDofs, dofsPerElement, [], out scatter, out _);

    /// <summary>The pattern of an assembled finite-element matrix that also couples further pairs of unknowns, such as those of circuits or of periodic edges.</summary>
    /// <param name="order">Number of unknowns.</param>
    /// <param name="elementDofs">Unknowns of element 0, then of element 1, …; negative where constrained.</param>
    /// <param name="dofsPerElement">Degrees of freedom of one element.</param>
    /// <param name="couplings">Pairs (row, column) in either triangle, repeated ones allowed; a pair with a negative member is left out.</param>
    /// <param name="scatter">As in the overload without couplings.</param>
    /// <param name="couplingScatter">One position for each coupling, −1 for one left out.</param>
    /// <returns>The pattern, every diagonal entry present.</returns>
    /// <exception cref="ArgumentException">An unknown is not below the order, or the list is no whole number of elements.</exception>
    public static SymmetricPattern FromElements(int order, ReadOnlySpan<int> elementDofs, int dofsPerElement,
        ReadOnlySpan<(int Row, int Column)> couplings, out int[] scatter, out int[] couplingScatter)
    {
        Guard.NotNegative(order);
        Guard.Positive(dofsPerElement);
        if (elementDofs.Length % dofsPerElement != 0)
            throw new ArgumentException($"{elementDofs.Length} entries are no whole number of elements of {dofsPerElement}", nameof(elementDofs));
        var d = dofsPerElement;
        var elements = elementDofs.Length / d;
        var pairs = checked(d * (d + 1) / 2);
        scatter = new int[checked(elements * pairs)];
        Array.Fill(scatter, -1);
        couplingScatter = new int[couplings.Length];
        Array.Fill(couplingScatter, -1);

        // Occurrences of each unknown in the elements, then couplings by their lesser member.
        var occurrenceStarts = new int[order + 1];
        var couplingStarts = new int[order + 1];
        foreach (var dof in elementDofs)
            if (dof >= 0)
                occurrenceStarts[Guard.InRange(dof, 0, order - 1, nameof(elementDofs)) + 1]++;
        foreach (var (row, column) in couplings)
            if (row >= 0 && column >= 0)
                couplingStarts[Math.Min(Guard.InRange(row, 0, order - 1, nameof(couplings)), Guard.InRange(column, 0, order - 1, nameof(couplings))) + 1]++;
        for (var i = 0; i < order; i++)
        {
            occurrenceStarts[i + 1] += occurrenceStarts[i];
            couplingStarts[i + 1] += couplingStarts[i];
        }
        var occurrences = new int[occurrenceStarts[order]];
        var couplingsOf = new int[couplingStarts[order]];
        var next = occurrenceStarts.AsSpan(0, order).ToArray();
        for (var k = 0; k < elementDofs.Length; k++)
            if (elementDofs[k] >= 0)
                occurrences[next[elementDofs[k]]++] = k;
        couplingStarts.AsSpan(0, order).CopyTo(next);
        for (var k = 0; k < couplings.Length; k++)
            if (couplings[k].Row >= 0 && couplings[k].Column >= 0)
                couplingsOf[next[Math.Min(couplings[k].Row, couplings[k].Column)]++] = k;

        var columnStarts = new int[order + 1];
        var rows = new int[Math.Max(16, checked(order * 6))];
        var count = 0;
        var position = new int[order]; // of a row within the current column; −1 − column marks it as found
        for (var j = 0; j < order; j++)
        {
            var first = count;
            var mark = -1 - j;
            position[j] = mark;
            Append(ref rows, ref count, j);
            for (var o = occurrenceStarts[j]; o < occurrenceStarts[j + 1]; o++)
            {
                var element = elementDofs.Slice(occurrences[o] / d * d, d);
                foreach (var i in element)
                    if (i > j && position[i] != mark)
                    {
                        position[i] = mark;
                        Append(ref rows, ref count, i);
                    }
            }
            for (var o = couplingStarts[j]; o < couplingStarts[j + 1]; o++)
            {
                var i = Math.Max(couplings[couplingsOf[o]].Row, couplings[couplingsOf[o]].Column);
                if (position[i] != mark)
                {
                    position[i] = mark;
                    Append(ref rows, ref count, i);
                }
            }
            rows.AsSpan(first, count - first).Sort();
            for (var p = first; p < count; p++)
                position[rows[p]] = p;
            for (var o = occurrenceStarts[j]; o < occurrenceStarts[j + 1]; o++)
            {
                var e = occurrences[o] / d;
                var local = occurrences[o] - e * d;
                for (var k = 0; k < d; k++)
                {
                    var i = elementDofs[e * d + k];
                    if (i < j)
                        continue;
                    var pair = k < local ? local * (local + 1) / 2 + k : k * (k + 1) / 2 + local;
                    scatter[e * pairs + pair] = position[i];
                }
            }
            for (var o = couplingStarts[j]; o < couplingStarts[j + 1]; o++)
                couplingScatter[couplingsOf[o]] = position[Math.Max(couplings[couplingsOf[o]].Row, couplings[couplingsOf[o]].Column)];
            columnStarts[j + 1] = count;
        }
        Array.Resize(ref rows, count);
        return new SymmetricPattern(order, columnStarts, rows);
    }

    private static void Append(ref int[] list, ref int count, int value)
    {
        if (count == list.Length)
            Array.Resize(ref list, checked(list.Length * 2));
        list[count++] = value;
    }
}
