using System.Globalization;
using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>A factorisation met a pivot too small to divide by: the matrix is singular, or needs pivoting that the method does not do.</summary>
public sealed class ZeroPivotException : ArithmeticException
{
    /// <summary>Names the column that broke down.</summary>
    /// <param name="column">Column of the matrix as the caller numbers it, from 0.</param>
    /// <param name="pivot">What was found on the diagonal when the column's turn came.</param>
    public ZeroPivotException(int column, Complex pivot)
        : base(string.Create(CultureInfo.InvariantCulture,
            $"the pivot of column {column} is {pivot}: the matrix is singular to working precision, or indefinite where a definite one was promised"))
    {
        Column = column;
        Pivot = pivot;
    }

    /// <summary>Column of the matrix as the caller numbers it, from 0.</summary>
    public int Column { get; }

    /// <summary>What was found on the diagonal when the column's turn came; real for a real matrix, NaN if the values were.</summary>
    public Complex Pivot { get; }
}
