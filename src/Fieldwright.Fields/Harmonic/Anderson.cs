namespace Fieldwright.Fields.Harmonic;

/// <summary>Anderson's acceleration of a fixed-point iteration x ← x + r(x): the next x from the last few by least squares on their residuals.</summary>
/// <source key="Anderson1965" />
internal sealed class Anderson(int depth)
{
    private readonly List<(double[] X, double[] R)> differences = [];
    private double[]? lastX, lastR;

    /// <summary>The next point after x with residual r.</summary>
    public double[] Next(double[] x, double[] r)
    {
        if (lastX is not null)
        {
            differences.Add((Minus(x, lastX), Minus(r, lastR!)));
            if (differences.Count > depth) differences.RemoveAt(0);
        }
        lastX = (double[])x.Clone();
        lastR = (double[])r.Clone();
        // residuals are made orthogonal, newest first, and their points follow; a difference that adds no direction is left out
        double[] next = new double[x.Length], left = (double[])r.Clone();
        for (var i = 0; i < x.Length; i++) next[i] = x[i] + r[i];
        var basis = new List<(double[] X, double[] R)>();
        for (var k = differences.Count - 1; k >= 0; k--)
        {
            double[] dx = (double[])differences[k].X.Clone(), dr = (double[])differences[k].R.Clone();
            var before = Dot(dr, dr);
            foreach (var (bx, br) in basis)
            {
                var along = Dot(br, dr);
                for (var i = 0; i < dr.Length; i++)
                {
                    dr[i] -= along * br[i];
                    dx[i] -= along * bx[i];
                }
            }
            var norm = Dot(dr, dr);
            if (norm <= 1e-12 * before) continue;
            var scale = 1 / Math.Sqrt(norm);
            for (var i = 0; i < dr.Length; i++)
            {
                dr[i] *= scale;
                dx[i] *= scale;
            }
            basis.Add((dx, dr));
            var share = Dot(dr, left);
            for (var i = 0; i < next.Length; i++)
            {
                next[i] -= share * (dx[i] + dr[i]);
                left[i] -= share * dr[i];
            }
        }
        return next;
    }

    /// <summary>Forgets what came before.</summary>
    public void Restart()
    {
        differences.Clear();
        (lastX, lastR) = (null, null);
    }

    private static double[] Minus(double[] a, double[] b)
    {
        var result = new double[a.Length];
        for (var i = 0; i < a.Length; i++) result[i] = a[i] - b[i];
        return result;
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }
}
