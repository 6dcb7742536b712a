namespace Fieldwright.Fields.Elements;

/// <summary>Finds the triangle a point lies in, over a range of triangles, by a grid of buckets.</summary>
internal sealed class ElementLocator
{
    private readonly FieldSpace space;
    private readonly double left, bottom, cell;
    private readonly int columns, rows;
    private readonly int[] start;
    private readonly int[] items;

    public ElementLocator(FieldSpace space, int first, int count)
    {
        this.space = space;
        double right = double.NegativeInfinity, top = double.NegativeInfinity;
        (left, bottom) = (double.PositiveInfinity, double.PositiveInfinity);
        var boxes = new double[4 * count];
        for (var e = 0; e < count; e++)
        {
            var (x0, y0, x1, y1) = Box(first + e);
            (boxes[4 * e], boxes[(4 * e) + 1], boxes[(4 * e) + 2], boxes[(4 * e) + 3]) = (x0, y0, x1, y1);
            left = Math.Min(left, x0);
            bottom = Math.Min(bottom, y0);
            right = Math.Max(right, x1);
            top = Math.Max(top, y1);
        }
        cell = Math.Sqrt((right - left) * (top - bottom) / Math.Max(1, count));
        columns = 1 + (int)((right - left) / cell);
        rows = 1 + (int)((top - bottom) / cell);
        start = new int[(columns * rows) + 1];
        ForEachBucket(boxes, (bucket, _) => start[bucket + 1]++);
        for (var k = 1; k < start.Length; k++) start[k] += start[k - 1];
        var next = (int[])start.Clone();
        items = new int[start[^1]];
        ForEachBucket(boxes, (bucket, e) => items[next[bucket]++] = first + e);
    }

    private void ForEachBucket(double[] boxes, Action<int, int> visit)
    {
        for (var e = 0; e < boxes.Length / 4; e++)
            for (var j = Row(boxes[(4 * e) + 1]); j <= Row(boxes[(4 * e) + 3]); j++)
                for (var i = Column(boxes[4 * e]); i <= Column(boxes[(4 * e) + 2]); i++)
                    visit((j * columns) + i, e);
    }

    /// <summary>The triangle holding a point and its local coordinates; for a point a hair outside all (a curved edge is a parabola, not an
    /// arc) the nearest. False if no triangle is near.</summary>
    public bool TryLocate(double x, double y, out int element, out double xi, out double eta, Func<int, bool>? only = null)
    {
        (element, xi, eta) = (-1, 0, 0);
        var worst = double.PositiveInfinity;
        var bucket = (Row(y) * columns) + Column(x);
        for (var k = start[bucket]; k < start[bucket + 1]; k++)
        {
            if (only?.Invoke(items[k]) == false) continue;
            if (!TryInvert(items[k], x, y, out var a, out var b)) continue;
            var outside = -Math.Min(Math.Min(a, b), 1 - a - b);
            if (outside >= worst) continue;
            (worst, element, xi, eta) = (outside, items[k], a, b);
            if (outside <= 0) break;
        }
        return worst < 0.2;
    }

    private bool TryInvert(int element, double x, double y, out double xi, out double eta)
    {
        var c = space.Coordinates;
        var nodes = space.Triangles.AsSpan(6 * element, 6);
        double x0 = c[2 * nodes[0]], y0 = c[(2 * nodes[0]) + 1];
        double ax = c[2 * nodes[1]] - x0, ay = c[(2 * nodes[1]) + 1] - y0, bx = c[2 * nodes[2]] - x0, by = c[(2 * nodes[2]) + 1] - y0;
        var det = (ax * by) - (ay * bx);
        xi = (((x - x0) * by) - ((y - y0) * bx)) / det;
        eta = (((y - y0) * ax) - ((x - x0) * ay)) / det;
        if (!space.Curved[element]) return true;
        if (xi < -0.6 || eta < -0.6 || xi + eta > 1.6) return false;
        Span<double> s = stackalloc double[ElementTables.Functions], gx = stackalloc double[ElementTables.Functions], gy = stackalloc double[ElementTables.Functions];
        for (var step = 0; step < 20; step++)
        {
            ElementTables.Evaluate(xi, eta, s, gx, gy);
            double px = 0, py = 0, xXi = 0, xEta = 0, yXi = 0, yEta = 0;
            for (var i = 0; i < 6; i++)
            {
                double cx = c[2 * nodes[i]], cy = c[(2 * nodes[i]) + 1];
                px += s[i] * cx;
                py += s[i] * cy;
                xXi += gx[i] * cx;
                xEta += gy[i] * cx;
                yXi += gx[i] * cy;
                yEta += gy[i] * cy;
            }
            var d = (xXi * yEta) - (xEta * yXi);
            var dXi = (((x - px) * yEta) - ((y - py) * xEta)) / d;
            var dEta = (((y - py) * xXi) - ((x - px) * yXi)) / d;
            xi += dXi;
            eta += dEta;
            if (Math.Abs(dXi) + Math.Abs(dEta) < 1e-13) return true;
        }
        return double.IsFinite(xi + eta);
    }

    private (double X0, double Y0, double X1, double Y1) Box(int element)
    {
        double x0 = double.PositiveInfinity, y0 = x0, x1 = double.NegativeInfinity, y1 = x1;
        for (var i = 0; i < 6; i++)
        {
            var n = space.Triangles[(6 * element) + i];
            double x = space.Coordinates[2 * n], y = space.Coordinates[(2 * n) + 1];
            x0 = Math.Min(x0, x);
            x1 = Math.Max(x1, x);
            y0 = Math.Min(y0, y);
            y1 = Math.Max(y1, y);
        }
        var margin = 0.05 * Math.Max(x1 - x0, y1 - y0);
        return (x0 - margin, y0 - margin, x1 + margin, y1 + margin);
    }

    private int Column(double x) => Math.Clamp((int)((x - left) / cell), 0, columns - 1);

    private int Row(double y) => Math.Clamp((int)((y - bottom) / cell), 0, rows - 1);
}
