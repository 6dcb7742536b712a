using System.Globalization;
using Fieldwright.Circuits.Elements;

namespace Fieldwright.Circuits.Solving;

/// <summary>
/// Steps a network through time by the two-stage, second-order, L-stable diagonally implicit Runge–Kutta method (γ = 1 − 1/√2) on the stored quantities q.
/// </summary>
/// <remarks>
/// Only q enters a step from the one before, never a flow or a potential, so that what jumps at a switch needs no special start. The step follows the
/// first-order solution embedded in the method; it lands on every time at which an element jumps.
/// </remarks>
/// <source key="Alexander1977"/>
internal static class TransientSolve
{
    private static readonly double Gamma = 1 - Math.Sqrt(0.5);

    public static Transient Run(Network network, Layout layout, double duration, TransientOptions options, CancellationToken stop)
    {
        int n = layout.Order;
        var s = new Balance(n);
        double before = -1e-9 * duration;
        if (network.Elements.Any(e => e is Capacitor { InitialDrop: null } or CoupledCoils or Magnetic.CoilOnPath))
            TryStart(network, layout, s, before);
        NewtonSolve.Fill(network, s);
        var q = (double[])s.Q.Clone();
        foreach (var e in network.Elements)
            e.StartWith(q);

        var jumps = new SortedSet<double>(network.Elements.SelectMany(e => e.Jumps).Where(t => t > 0 && t < duration)) { duration };
        var times = new List<double>();
        var states = new List<NetworkState>();
        var largest = q.Select(Math.Abs).ToArray();
        double time = 0, h = Math.Min(options.FirstStep ?? duration * 1e-6, duration), most = options.LargestStep ?? duration / 100;
        bool fresh = true;
        foreach (double jump in jumps)
        {
            Topology.Check(network, layout, steady: false, time);
            if (!fresh)
            {
                h = Math.Min(h, options.FirstStep ?? duration * 1e-6);
                RefuseImpulse(network, layout, s, q, time, 1e-9 * duration, largest, options.RelativeError);
            }

            fresh = false;
            while (time < jump)
            {
                stop.ThrowIfCancellationRequested();
                if (states.Count >= options.MostSteps)
                    throw new NetworkNotConvergedException(string.Create(CultureInfo.InvariantCulture, $"{options.MostSteps} steps reached only {time:G4} s of {duration:G4} s."), []);
                bool last = time + h >= jump * (1 - 1e-12);
                double step = last ? jump - time : Math.Min(h, 0.5 * (jump - time));
                var start = (double[])s.X.Clone();
                if (!TryStep(layout, network, s, q, time, step, jump, out var next, out double error, largest, most, options.RelativeError) || error > 1)
                {
                    s.X = start;
                    h = step * (double.IsFinite(error) && error > 1 ? Math.Clamp(0.9 / Math.Sqrt(error), 0.1, 0.7) : 0.25);
                    if (h < 1e-14 * duration)
                        throw new NetworkNotConvergedException(string.Create(CultureInfo.InvariantCulture, $"The step shrank to nothing at {time:G6} s."), []);
                    continue;
                }

                time = last ? jump : time + step;
                q = next;
                for (int i = 0; i < n; i++)
                    largest[i] = Math.Max(largest[i], Math.Abs(q[i]));
                // Just before a jump the element still shows its old state.
                s.Time = last && jump < duration ? Math.BitDecrement(jump) : time;
                states.Add(new NetworkState(network, layout, s));
                times.Add(time);
                if (options.Until?.Invoke(states[^1]) == true)
                    return new Transient(times, states);
                h = Math.Min(most, step * Math.Clamp(0.9 / Math.Sqrt(Math.Max(error, 1e-4)), 0.3, 3));
            }
        }

        return new Transient(times, states);
    }

    // A stored quantity that changes at once however short the step asks for an impulse: an inductor cut off, two charged capacitors tied together.
    private static void RefuseImpulse(Network network, Layout layout, Balance s, double[] q, double time, double instant, double[] largest, double relative)
    {
        var before = (double[])s.X.Clone();
        bool settled = TryStep(layout, network, s, q, time, instant, double.MaxValue, out var next, out _, largest, 0, relative);
        s.X = before;
        if (!settled)
            return;
        var jumped = Enumerable.Range(0, layout.Order).Where(i => Math.Abs(next[i] - q[i]) > 0.1 * largest[i] && largest[i] > 0).ToList();
        if (jumped.Count == 0)
            return;
        var (elements, nodes) = layout.Names(jumped);
        throw new IllPosedNetworkException(
            string.Create(CultureInfo.InvariantCulture, $"What is stored in {string.Join(", ", elements)} would have to change at once at {time:G4} s: give the current or the charge a path."), elements, nodes);
    }

    private static void TryStart(Network network, Layout layout, Balance s, double time)
    {
        // Where the steady state does not exist (an uncharged capacitor with a value of its own, a loop of inductors), stored quantities without a stated start begin at zero.
        bool stated = network.Elements.All(e => e is not Capacitor { InitialDrop: null });
        try
        {
            Topology.Check(network, layout, steady: true, time);
            s.Time = time;
            NewtonSolve.Steady(network, layout, s);
        }
        catch (IllPosedNetworkException) when (stated)
        {
            Array.Clear(s.X);
        }
    }

    private static bool TryStep(
        Layout layout, Network network, Balance s, double[] q, double time, double h, double jump, out double[] next, out double error, double[] largest, double most, double relative)
    {
        int n = layout.Order;
        double share = Gamma * h;
        var slopes = new double[n * n];
        var known = (double[])q.Clone();
        var first = new double[n];
        next = q;
        error = double.NaN;
        // Sources are taken just short of a jump that the step ends on.
        double latest = Math.BitDecrement(jump);
        void Residual(double[] r)
        {
            NewtonSolve.Fill(network, s);
            for (int i = 0; i < n; i++)
                r[i] = (s.Q[i] - known[i]) / share + s.F[i];
            for (int i = 0; i < slopes.Length; i++)
                slopes[i] = s.SlopeQ[i] / share + s.SlopeF[i];
        }

        s.Time = Math.Min(time + share, latest);
        if (!NewtonSolve.TryRun(layout, s, Residual, slopes, out _))
            return false;
        NewtonSolve.Fill(network, s);
        s.F.CopyTo(first, 0);
        for (int i = 0; i < n; i++)
            known[i] = q[i] - (1 - Gamma) * h * first[i] * (IsStored(s, i, n) ? 1 : 0);
        s.Time = Math.Min(time + h, latest);
        if (!NewtonSolve.TryRun(layout, s, Residual, slopes, out _))
            return false;
        NewtonSolve.Fill(network, s);
        next = (double[])s.Q.Clone();
        error = 0;
        for (int i = 0; i < n; i++)
            if (IsStored(s, i, n))
            {
                // What starts empty is measured by what would flow in over one largest step.
                double size = Math.Max(Math.Max(largest[i], Math.Abs(next[i])), most * Math.Abs(s.F[i]));
                if (size > 0)
                    error = Math.Max(error, Math.Abs(share * (s.F[i] - first[i])) / (relative * size));
            }

        return true;
    }

    private static bool IsStored(Balance s, int row, int n)
    {
        for (int j = 0; j < n; j++)
            if (s.SlopeQ[row * n + j] != 0)
                return true;
        return false;
    }
}
