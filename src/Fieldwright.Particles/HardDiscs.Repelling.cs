using System.Runtime.Intrinsics;

namespace Fieldwright.Particles;

/// <content>Discs that are upright magnets as well and repel one another.</content>
/// <remarks>
/// Two moments m square to the plane, r apart, hold μ₀ m₁ m₂/(4π r³) and push with 3 μ₀ m₁ m₂/(4π r⁴). The flight from meeting to meeting is cut into steps: half a push, a step of free flight with all its
/// meetings, half a push (velocity Verlet, its drift being the exact one of hard discs). A meeting within a step sees the speed that the disc has at that moment, not the mean of the step. All pairs are counted:
/// nothing is cut off. The error of the energy goes with the square of the step; a step is a hundredth of how near two discs come over their mean speed.
/// </remarks>
public sealed partial class HardDiscs
{
    // μ₀/4π, H/m: 1e-7 to nine digits (CODATA 2018).
    private const double Mu0Over4Pi = 1.00000000055e-7;

    // How far a disc of the mean energy flies in a step, as a share of how near two come; and how many mean energies the hardest meeting looked at has.
    private const double StepShare = 0.01, Hardest = 8;
    private const int StepsBetweenLooks = 256;

    private readonly double[] moments = [];

    // Places and pushes (as accelerations), with four more that stand far off, so that four at a time never reach beyond the end.
    private readonly double[] px = [], py = [], ax = [], ay = [], strength = [];
    private double held, step, middle;
    private int untilLook;

    private bool Repels => moments.Length > 0;

    /// <summary>Energy that the discs hold by their repulsion, J; zero when they have none.</summary>
    public double EnergyOfRepulsion => held;

    /// <summary>Length of a step, s; infinite when nothing repels.</summary>
    public double LengthOfStep => Repels ? step : double.PositiveInfinity;

    private void RunRepelling(double until, long lastMeeting, CancellationToken cancellation)
    {
        while (now < until && meetings < lastMeeting)
        {
            if (untilLook-- <= 0)
                ChooseStep();
            double left = until - now, h = left > step ? left / Math.Ceiling(left / step) : left, end = h < left ? now + h : until;
            Push(0.5 * h);
            LookAll();
            middle = now + 0.5 * h;
            while (Step(end))
            {
            }

            double before = held;
            now = end;
            FindPushes();
            Push(0.5 * h);
            // Σ r F of all pairs is three times what they hold.
            virial += 1.5 * (before + held) * h;
            cancellation.ThrowIfCancellationRequested();
        }

        LookAll();
    }

    private void Push(double time)
    {
        for (int i = 0; i < discs.Length; i++)
        {
            if (IsOut(i))
                continue;
            ref var d = ref discs[i];
            Bring(ref d);
            d.Vx += ax[i] * time;
            d.Vy += ay[i] * time;
        }
    }

    // What the speed of a disc lacks of that at this moment within a step.
    private (double X, double Y) Lag(int i) => Repels ? (ax[i] * (now - middle), ay[i] * (now - middle)) : (0, 0);

    private void FindPushes()
    {
        for (int i = 0; i < discs.Length; i++)
        {
            bool isOut = IsOut(i);
            var d = isOut ? default : this[i];
            (px[i], py[i], strength[i]) = isOut ? (1e6 + i, 0, 0) : (d.X, d.Y, moments[i]);
        }

        Array.Clear(ax);
        Array.Clear(ay);
        var all = Vector256<double>.Zero;
        for (int i = 0; i < discs.Length; i++)
        {
            if (strength[i] == 0)
                continue;
            Vector256<double> xi = Vector256.Create(px[i]), yi = Vector256.Create(py[i]), c = Vector256.Create(Mu0Over4Pi * strength[i]), fx = Vector256<double>.Zero, fy = fx;
            for (int j = i + 1; j < discs.Length; j += 4)
            {
                Vector256<double> x = Vector256.LoadUnsafe(ref px[j]) - xi, y = Vector256.LoadUnsafe(ref py[j]) - yi;
                var inverse = Vector256<double>.One / (x * x + y * y);
                var energy = c * Vector256.LoadUnsafe(ref strength[j]) * inverse * Vector256.Sqrt(inverse);
                var push = energy * inverse * 3;
                all += energy;
                fx -= push * x;
                fy -= push * y;
                (Vector256.LoadUnsafe(ref ax[j]) + push * x).StoreUnsafe(ref ax[j]);
                (Vector256.LoadUnsafe(ref ay[j]) + push * y).StoreUnsafe(ref ay[j]);
            }

            ax[i] += Vector256.Sum(fx);
            ay[i] += Vector256.Sum(fy);
        }

        held = Vector256.Sum(all);
        for (int i = 0; i < discs.Length; i++)
            (ax[i], ay[i]) = (ax[i] / rest[i].Mass, ay[i] / rest[i].Mass);
    }

    // As near as a hard meeting brings two discs, or as their rims let them.
    private void ChooseStep()
    {
        untilLook = StepsBetweenLooks;
        int strongest = 0, lightest = 0;
        for (int i = 1; i < discs.Length; i++)
            (strongest, lightest) = (moments[i] > moments[strongest] ? i : strongest, rest[i].Mass < rest[lightest].Mass ? i : lightest);
        double energy = (EnergyOfMotion + held) / discs.Length, nearest = Math.Max(2 * discs[strongest].Radius, Math.Cbrt(Mu0Over4Pi * moments[strongest] * moments[strongest] / (Hardest * energy)));
        step = energy > 0 ? StepShare * nearest / Math.Sqrt(2 * energy / rest[lightest].Mass) : double.MaxValue;
    }

    // What a disc holds with all others.
    private double HeldBy(int i)
    {
        double sum = 0;
        var d = this[i];
        for (int j = 0; j < discs.Length; j++)
            if (j != i && !IsOut(j) && this[j] is var o)
                sum += Mu0Over4Pi * moments[i] * moments[j] / Math.Pow((d.X - o.X) * (d.X - o.X) + (d.Y - o.Y) * (d.Y - o.Y), 1.5);
        return sum;
    }
}
