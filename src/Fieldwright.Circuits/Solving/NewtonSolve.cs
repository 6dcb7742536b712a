using System.Globalization;

namespace Fieldwright.Circuits.Solving;

/// <summary>Newton's method with a line search on the equations of a network.</summary>
/// <remarks>
/// Laws of heat have roots below absolute zero that mean nothing, T⁴ and a resistance falling with temperature among them. Absolute temperatures therefore start in a
/// room and no step takes more than nine tenths of what is left above zero.
/// </remarks>
internal static class NewtonSolve
{
    private const int MostSteps = 80;

    // Where an absolute temperature starts that nothing else has set, K, and the least share of itself that a step leaves it.
    private const double RoomTemperature = 293.15, LeastShare = 0.1;

    /// <summary>Solves f(x) = 0; when Newton fails from rest, the sources are switched on in steps.</summary>
    public static void Steady(Network network, Layout layout, Balance s)
    {
        void Residual(double[] r)
        {
            Fill(network, s);
            s.F.CopyTo(r, 0);
        }

        List<double> history;
        if (layout.AboveZero.Count > 0)
        {
            if (TryWarm(network, layout, s, Residual, out history))
                return;
            throw new NetworkNotConvergedException("The temperatures did not settle: what is heated runs away, or its heat has no way out.", history);
        }

        if (TryRun(layout, s, Residual, s.SlopeF, out history))
            return;
        Array.Clear(s.X);
        double share = 0, step = 0.1;
        while (share < 1)
        {
            var kept = (double[])s.X.Clone();
            s.SourceShare = Math.Min(1, share + step);
            if (TryRun(layout, s, Residual, s.SlopeF, out history))
            {
                share = s.SourceShare;
                step *= 2;
                continue;
            }

            s.X = kept;
            step *= 0.25;
            if (step < 1e-6)
                throw new NetworkNotConvergedException(string.Create(CultureInfo.InvariantCulture, $"The network did not settle beyond {share:P1} of its sources."), history);
        }
    }

    // Newton from a guess can run to a root that no warming reaches. So everything starts at room temperature and is let warm in ever longer steps of a made-up time, which
    // ends where real warming would; Newton itself has the last word.
    private static bool TryWarm(Network network, Layout layout, Balance s, Action<double[]> residual, out List<double> history)
    {
        const double FirstStep = 1e-2, Longest = 1e8, Shortest = 1e-12, Runaway = 1e5;
        const int MostWarmings = 200;
        int n = layout.Order;
        foreach (int i in layout.AboveZero)
            if (!(s.X[i] > 0))
                s.X[i] = RoomTemperature;
        Fill(network, s);
        var lag = layout.AboveZero.ToDictionary(i => i, i => Math.Max(Math.Abs(s.SlopeF[i * n + i]), 1e-9));
        var slopes = new double[n * n];
        history = [];
        bool Step(double[] before, double step, out List<double> steps)
        {
            void Lagged(double[] r)
            {
                residual(r);
                s.SlopeF.CopyTo(slopes, 0);
                foreach (var (i, capacity) in lag)
                {
                    r[i] += capacity / step * (s.X[i] - before[i]);
                    slopes[i * n + i] += capacity / step;
                }
            }

            steps = [];
            try
            {
                return TryRun(layout, s, Lagged, slopes, out steps);
            }
            catch (IllPosedNetworkException) when (step < Longest)
            {
                return false;
            }
        }

        double h = FirstStep;
        for (int warming = 0; h < Longest; warming++)
        {
            if (warming == MostWarmings || layout.AboveZero.Any(i => s.X[i] > Runaway))
                return false;
            var before = (double[])s.X.Clone();
            if (Step(before, h, out history))
            {
                h *= 4;
                continue;
            }

            s.X = before;
            h *= 0.2;
            if (h < Shortest)
                return false;
        }

        return TryRun(layout, s, residual, s.SlopeF, out history);
    }

    /// <summary>Newton on a residual whose matrix of slopes is left in <paramref name="slopes"/> by the call that fills it.</summary>
    /// <returns>Whether it settled: largest scaled imbalance below 1e-10 and the last step below 1e-9 of the unknowns.</returns>
    public static bool TryRun(Layout layout, Balance s, Action<double[]> residual, double[] slopes, out List<double> history)
    {
        int n = layout.Order;
        var r = new double[n];
        var trial = new double[n];
        history = [];
        foreach (int i in layout.AboveZero)
            if (!(s.X[i] > 0))
                s.X[i] = RoomTemperature;
        residual(r);
        for (int iteration = 0; iteration < MostSteps; iteration++)
        {
            // Rows are scaled by the size of their terms at this iterate, so that volts, webers and pascals weigh alike.
            var scale = RowScale(slopes, s.X, n);
            double norm = Norm(r, scale);
            history.Add(norm);
            if (!double.IsFinite(norm))
                return false;
            int column = DenseLu<double>.TryFactor(slopes, n, out var lu);
            if (column >= 0)
                throw Singular(layout, lu.LooseAt(column));
            var dx = Array.ConvertAll(r, v => -v);
            lu.Solve(dx);
            double change = 0, size = 0;
            for (int i = 0; i < n; i++)
            {
                change = Math.Max(change, Math.Abs(dx[i]) / (Math.Abs(s.X[i]) + Math.Abs(dx[i]) + 1e-300) * (Weight(slopes, i, dx[i], scale, n)));
                size = Math.Max(size, Math.Abs(dx[i]));
            }

            if (size == 0 || norm < 1e-10 && change < 1e-9)
                return true;
            var from = (double[])s.X.Clone();
            double length = Longest(layout, from, dx);
            while (true)
            {
                for (int i = 0; i < n; i++)
                    s.X[i] = from[i] + length * dx[i];
                residual(trial);
                double now = Norm(trial, scale);
                if (now <= (1 - 1e-4 * length) * norm || norm < 1e-12 && now < 1e-11)
                    break;
                length *= 0.5;
                if (length < 1e-8)
                {
                    // No descent left: rounding is all there is, or the iterate is stuck.
                    s.X = from;
                    residual(r);
                    return norm < 1e-9;
                }
            }

            trial.CopyTo(r, 0);
        }

        return false;
    }

    private static double Longest(Layout layout, double[] x, double[] dx)
    {
        double length = 1;
        foreach (int i in layout.AboveZero)
            if (dx[i] < 0)
                length = Math.Min(length, (1 - LeastShare) * x[i] / -dx[i]);
        return length;
    }

    public static void Fill(Network network, Balance s)
    {
        s.Clear();
        foreach (var element in network.Elements)
            element.Evaluate(s);
    }

    public static IllPosedNetworkException Singular(Layout layout, IReadOnlyList<double> loose)
    {
        double largest = loose.Max(Math.Abs);
        var (elements, nodes) = layout.Names(Enumerable.Range(0, loose.Count).Where(i => Math.Abs(loose[i]) > 1e-6 * largest));
        string what = string.Join(" and ", new[] { nodes.Count > 0 ? "the potential at " + string.Join(", ", nodes) : "", elements.Count > 0 ? "the flow in " + string.Join(", ", elements) : "" }.Where(t => t.Length > 0));
        return new IllPosedNetworkException($"Nothing in the network settles {what}.", elements, nodes);
    }

    // How much a change of unknown i weighs in the rows it enters: one that moves no row by more than rounding does not hold the iteration up.
    private static double Weight(double[] slopes, int unknown, double change, double[] scale, int n)
    {
        double weight = 0;
        for (int row = 0; row < n; row++)
            weight = Math.Max(weight, Math.Abs(slopes[row * n + unknown] * change) / scale[row]);
        return Math.Min(1, weight * 1e6);
    }

    private static double[] RowScale(double[] slopes, double[] x, int n)
    {
        var scale = new double[n];
        for (int row = 0; row < n; row++)
        {
            double terms = 0, coefficients = 0;
            for (int j = 0; j < n; j++)
            {
                terms = Math.Max(terms, Math.Abs(slopes[row * n + j] * x[j]));
                coefficients = Math.Max(coefficients, Math.Abs(slopes[row * n + j]));
            }

            scale[row] = terms > 0 ? terms : coefficients > 0 ? coefficients : 1;
        }

        return scale;
    }

    private static double Norm(double[] r, double[] scale)
    {
        double norm = 0;
        for (int i = 0; i < r.Length; i++)
            norm = Math.Max(norm, Math.Abs(r[i]) / scale[i]);
        return norm;
    }
}
