using Fieldwright.Numerics;

namespace Fieldwright.Series.Rings;

/// <content>One stage of a step.</content>
public sealed partial class RingMotion
{
    private readonly record struct StageResult(double[] PsiRate, double[] LinkageRate, double[] VoltageRate, double[] Currents, double RingPower, double Place, double Speed, double Force);

    // ψ of the rings, and of the circuits fed by a voltage the linkage and the voltage of their capacitors.
    private sealed record State(double[] Psi, double[] Linkage, double[] Voltage)
    {
        public double[] C { get; set; } = [];

        public double[] Currents { get; set; } = [];

        public void Advance(double h, in StageResult rates)
        {
            for (var i = 0; i < Psi.Length; i++)
                Psi[i] += h * rates.PsiRate[i];
            for (var f = 0; f < Linkage.Length; f++)
            {
                Linkage[f] += h * rates.LinkageRate[f];
                Voltage[f] += h * rates.VoltageRate[f];
            }
            Currents = rates.Currents;
        }
    }

    // One implicit stage of share τ: (L + τ)c = ψ~ − Σ m I, and the circuits round it: dλ/dt = e + u − R·I, C·du/dt = −I.
    private sealed class Stage
    {
        private readonly RingMotion motion;
        private readonly IReadOnlyList<RingCircuit> circuits;
        private readonly double tau;
        private readonly double[] cholesky;
        private readonly int[] free;
        private readonly bool[] open;           // per circuit
        private readonly double[][] coils;      // per circuit, sense of each coil
        private readonly double[][] m, g, own, slope;

        public Stage(RingMotion motion, IReadOnlyList<RingCircuit> circuits, double tau)
        {
            (this.motion, this.circuits, this.tau) = (motion, circuits, tau);
            var count = motion.coilInductance.Length;
            coils = new double[circuits.Count][];
            var used = new HashSet<int>();
            for (var c = 0; c < coils.Length; c++)
            {
                coils[c] = new double[count];
                foreach (var (coil, sense) in circuits[c].Coils)
                {
                    if (!used.Add(Guard.InRange(coil, 0, count - 1)))
                        throw new ArgumentException($"Coil {coil} is fed twice.", nameof(circuits));
                    coils[c][coil] = sense;
                }
            }
            free = [.. Enumerable.Range(0, circuits.Count).Where(c => circuits[c].Resistance is not null)];
            open = [.. circuits.Select(c => c.Resistance is not null && c.ClosesAt > 0)];
            m = NewRows(count);
            g = NewRows(count);
            own = NewRows(circuits.Count);
            slope = NewRows(circuits.Count);
            cholesky = Factor();
        }

        public State Begin(double lift)
        {
            Couple(lift);
            var psi = new double[motion.n];
            var linkage = new double[free.Length];
            for (var c = 0; c < circuits.Count; c++)
            {
                var current = circuits[c].Resistance is null ? circuits[c].Source(0) : 0;
                for (var i = 0; i < psi.Length; i++)
                    psi[i] += own[c][i] * current;
                for (var f = 0; f < free.Length; f++)
                    linkage[f] += Inductance(free[f], c) * current;
            }
            return new(psi, linkage, [.. free.Select(f => circuits[f].CapacitorVoltage)]);
        }

        // Switches close between two steps.
        public void Switch(double time)
        {
            for (var c = 0; c < open.Length; c++)
                open[c] &= time < circuits[c].ClosesAt;
        }

        public void Read(State state, double[] voltages)
        {
            for (var f = 0; f < free.Length; f++)
                voltages[free[f]] = state.Voltage[f];
        }

        // ½(Σ λI + ψᵀc), with the couplings of the last stage.
        public double Energy(State state)
        {
            var sum = Dot(state.Psi, state.C);
            for (var k = 0; k < circuits.Count; k++)
            {
                var linkage = Dot(own[k], state.C);
                for (var l = 0; l < circuits.Count; l++)
                    linkage += Inductance(k, l) * state.Currents[l];
                sum += linkage * state.Currents[k];
            }
            return 0.5 * sum;
        }

        public StageResult Solve(double time, State state, double z, double v, double force, bool held)
        {
            var speed = 0.0;
            var place = z;
            double[] c = [], currents = [];
            for (var round = 0; round < 50; round++)
            {
                speed = held ? 0 : v + tau * (force + motion.steadyForce) / motion.mass;
                var next = z + tau * speed;
                if (round > 0 && Math.Abs(next - place) <= 1e-10 * (motion.highest - motion.lowest))
                {
                    state.C = c;
                    return Result(state, c, currents, time, next, speed, force);
                }
                place = next;
                Couple(Math.Clamp(place, motion.lowest, motion.highest));
                (c, currents) = Fields(time, state);
                force = 0;
                for (var k = 0; k < currents.Length; k++)
                    force += currents[k] * Dot(slope[k], c);
            }
            throw new NotConvergedException("The place of the body within a step", 1, 50);
        }

        private StageResult Result(State state, double[] c, double[] currents, double time, double place, double speed, double force)
        {
            var rate = new double[state.Psi.Length];
            for (var i = 0; i < rate.Length; i++)
                rate[i] = -c[i];
            double[] linkageRate = new double[free.Length], voltageRate = new double[free.Length];
            for (var f = 0; f < free.Length; f++)
            {
                var k = free[f];
                if (open[k])
                {
                    // What the rings and the other circuits link with an open one is there when it closes.
                    state.Linkage[f] = Dot(own[k], c);
                    for (var l = 0; l < circuits.Count; l++)
                        state.Linkage[f] += Inductance(k, l) * currents[l];
                    continue;
                }
                if (circuits[k].Capacitance is { } capacity)
                    voltageRate[f] = -currents[k] / capacity;
                // The capacitor at the end of the stage.
                linkageRate[f] = circuits[k].Source(time) + state.Voltage[f] + tau * voltageRate[f] - circuits[k].Resistance!.Value * currents[k];
            }
            return new(rate, linkageRate, voltageRate, currents, Dot(c, c), place, speed, force);
        }

        private (double[] C, double[] Currents) Fields(double time, State state)
        {
            var currents = new double[circuits.Count];
            var right = (double[])state.Psi.Clone();
            for (var k = 0; k < currents.Length; k++)
            {
                if (circuits[k].Resistance is not null)
                    continue;
                currents[k] = circuits[k].Source(time);
                for (var i = 0; i < right.Length; i++)
                    right[i] -= own[k][i] * currents[k];
            }
            SolveInPlace(right);
            var closed = Enumerable.Range(0, free.Length).Where(f => !open[free[f]]).ToArray();
            if (closed.Length == 0)
                return (right, currents);
            // Σ_l (L_kl + (τR + τ²/C)δ_kl − m_kᵀ(L + τ)⁻¹m_l) I_l = λ~ + τ(e + u~) − m_kᵀ(L + τ)⁻¹(…) − what held currents link.
            var answers = closed.Select(f =>
            {
                var x = (double[])own[free[f]].Clone();
                SolveInPlace(x);
                return x;
            }).ToArray();
            var a = new double[closed.Length, closed.Length];
            var b = new double[closed.Length];
            for (var i = 0; i < closed.Length; i++)
            {
                var (f, k) = (closed[i], free[closed[i]]);
                b[i] = state.Linkage[f] + tau * (circuits[k].Source(time) + state.Voltage[f]) - Dot(own[k], right);
                for (var l = 0; l < currents.Length; l++)
                    if (circuits[l].Resistance is null)
                        b[i] -= Inductance(k, l) * currents[l];
                for (var l = 0; l < closed.Length; l++)
                    a[i, l] = Inductance(k, free[closed[l]]) - Dot(own[k], answers[l]);
                a[i, i] += tau * circuits[k].Resistance!.Value + (circuits[k].Capacitance is { } capacity ? tau * tau / capacity : 0);
            }
            Eliminate(a, b);
            for (var i = 0; i < closed.Length; i++)
            {
                currents[free[closed[i]]] = b[i];
                for (var j = 0; j < right.Length; j++)
                    right[j] -= answers[i][j] * b[i];
            }
            return (right, currents);
        }

        private void Couple(double lift)
        {
            motion.CouplingsInto(lift, m, g);
            for (var c = 0; c < own.Length; c++)
            {
                Array.Clear(own[c]);
                Array.Clear(slope[c]);
                for (var k = 0; k < m.Length; k++)
                    for (var i = 0; i < motion.n && coils[c][k] != 0; i++)
                    {
                        own[c][i] += coils[c][k] * m[k][i];
                        slope[c][i] += coils[c][k] * g[k][i];
                    }
            }
        }

        private double Inductance(int a, int b)
        {
            var sum = 0.0;
            for (var k = 0; k < m.Length; k++)
                for (var l = 0; l < m.Length; l++)
                    sum += coils[a][k] * coils[b][l] * motion.coilInductance[k][l];
            return sum;
        }

        private double[] Factor()
        {
            var n = motion.n;
            var l = (double[])motion.inductance.Clone();
            for (var j = 0; j < n; j++)
            {
                l[j * n + j] += tau;
                for (var i = j; i < n; i++)
                {
                    var sum = l[i * n + j];
                    for (var k = 0; k < j; k++)
                        sum -= l[i * n + k] * l[j * n + k];
                    l[i * n + j] = i == j ? Math.Sqrt(sum) : sum / l[j * n + j];
                }
            }
            return l;
        }

        private void SolveInPlace(double[] x)
        {
            var n = x.Length;
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < i; j++)
                    x[i] -= cholesky[i * n + j] * x[j];
                x[i] /= cholesky[i * n + i];
            }
            for (var i = n - 1; i >= 0; i--)
            {
                x[i] /= cholesky[i * n + i];
                for (var j = 0; j < i; j++)
                    x[j] -= cholesky[i * n + j] * x[i];
            }
        }

        // Symmetric positive definite: no pivoting is needed.
        private static void Eliminate(double[,] a, double[] b)
        {
            for (var k = 0; k < b.Length; k++)
                for (var i = k + 1; i < b.Length; i++)
                {
                    var factor = a[i, k] / a[k, k];
                    for (var j = k; j < b.Length; j++)
                        a[i, j] -= factor * a[k, j];
                    b[i] -= factor * b[k];
                }
            for (var k = b.Length - 1; k >= 0; k--)
            {
                for (var j = k + 1; j < b.Length; j++)
                    b[k] -= a[k, j] * b[j];
                b[k] /= a[k, k];
            }
        }

        private static double Dot(double[] a, double[] b)
        {
            var sum = 0.0;
            for (var i = 0; i < a.Length; i++)
                sum += a[i] * b[i];
            return sum;
        }

        private double[][] NewRows(int count) => [.. Enumerable.Range(0, count).Select(_ => new double[motion.n])];
    }
}
