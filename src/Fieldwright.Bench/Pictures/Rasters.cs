using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Triangles on a grid of cells.</summary>
internal static class Rasters
{
    // Cells whose middle lies on an edge belong to both triangles.
    private const double Slack = 1e-9;

    /// <summary>What is done with a cell: its number and the weights of the three corners at its middle.</summary>
    public delegate void Paint(int cell, double a, double b, double c);

    /// <summary>Visits every cell whose middle lies in a triangle.</summary>
    /// <param name="columns">Columns of the grid.</param>
    /// <param name="rows">Rows of the grid.</param>
    /// <param name="a">A corner, in cells.</param>
    /// <param name="b">A corner, in cells.</param>
    /// <param name="c">A corner, in cells.</param>
    /// <param name="paint">What is done.</param>
    public static void Fill(int columns, int rows, Point a, Point b, Point c, Paint paint)
    {
        double area = (b.X - a.X) * (c.Y - a.Y) - (c.X - a.X) * (b.Y - a.Y);
        if (area == 0)
            return;
        int left = Math.Max(0, (int)Math.Ceiling(Math.Min(a.X, Math.Min(b.X, c.X)) - 0.5)), right = Math.Min(columns - 1, (int)Math.Floor(Math.Max(a.X, Math.Max(b.X, c.X)) - 0.5));
        int top = Math.Max(0, (int)Math.Ceiling(Math.Min(a.Y, Math.Min(b.Y, c.Y)) - 0.5)), bottom = Math.Min(rows - 1, (int)Math.Floor(Math.Max(a.Y, Math.Max(b.Y, c.Y)) - 0.5));
        for (int row = top; row <= bottom; row++)
            for (int column = left; column <= right; column++)
            {
                double x = column + 0.5, y = row + 0.5;
                double wb = ((x - a.X) * (c.Y - a.Y) - (c.X - a.X) * (y - a.Y)) / area, wc = ((b.X - a.X) * (y - a.Y) - (x - a.X) * (b.Y - a.Y)) / area, wa = 1 - wb - wc;
                if (wa >= -Slack && wb >= -Slack && wc >= -Slack)
                    paint(row * columns + column, wa, wb, wc);
            }
    }
}
