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
    private double held, step, middle, closest;
    private int untilLook;
    private readonly bool everyoneRepels;
    private bool areCellsBehind;

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
            middle = now + 0.5 * h;
            if (IsQuiet(h))
                areCellsBehind = true;
            else
            {
                LookAll();
                while (Step(end))
                {
                }
            }

            double before = held;
            GoTo(end);
            FindPushes();
            Push(0.5 * h);
            // Σ r F of all pairs is three times what they hold.
            virial += 1.5 * (before + held) * h;
            cancellation.ThrowIfCancellationRequested();
        }
    }

    // Whether nothing can be met in a step: no two are so near, and no disc comes to a wall. Most steps are so short that it is, and then all that is left of them is flight.
    private bool IsQuiet(double h)
    {
        if (box.Lid is not null || !everyoneRepels)
            return false;
        double fastest = 0;
        for (int i = 0; i < rest.Length; i++)
        {
            if (IsOut(i))
                continue;
            var d = Here(i);
            double r = rest[i].Radius, x = d.X + d.Vx * h, down = d.Y + (Math.Min(0, d.Vy) - 0.5 * gravity * h) * h, up = d.Y + Math.Max(0, d.Vy) * h;
            if (!(x > r && x < width - r && down > r + shake && up < height - r))
                return false;
            fastest = Math.Max(fastest, d.Vx * d.Vx + d.Vy * d.Vy);
        }

        // Gravity pulls all alike, so that two close in on a straight line.
        return Math.Sqrt(closest) > 2 * largest + 2 * Math.Sqrt(fastest) * h;
    }

    // Everyone into the cell it stands in.
    private void CatchUpCells()
    {
        areCellsBehind = false;
        Array.Clear(cells);
        for (int i = 0; i < rest.Length; i++)
            if (!IsOut(i) && Here(i) is var d)
                Enter(i, 1 + Math.Clamp((int)(d.X / cellWidth), 0, columns - 1), 1 + Math.Clamp((int)(d.Y / cellHeight), 0, rows - 1));
    }

    private void Push(double time)
    {
        MoveEpoch();
        for (int i = 0; i < paths.Length; i++)
        {
            if (IsOut(i))
                continue;
            paths[i].Vx += ax[i] * time;
            paths[i].Vy += ay[i] * time;
        }
    }

    // What the speed of a disc lacks of that at this moment within a step.
    private (double X, double Y) Lag(int i) => Repels ? (ax[i] * (now - middle), ay[i] * (now - middle)) : (0, 0);

    private void FindPushes()
    {
        for (int i = 0; i < paths.Length; i++)
        {
            bool isOut = IsOut(i);
            var d = Here(i);
            (px[i], py[i], strength[i]) = isOut ? (1e6 + i, 0, 0) : (d.X, d.Y, moments[i]);
        }

        Array.Clear(ax);
        Array.Clear(ay);
        Vector256<double> all = Vector256<double>.Zero, least = Vector256.Create(double.PositiveInfinity);
        for (int i = 0; i < paths.Length; i++)
        {
            if (strength[i] == 0)
                continue;
            Vector256<double> xi = Vector256.Create(px[i]), yi = Vector256.Create(py[i]), c = Vector256.Create(Mu0Over4Pi * strength[i]), fx = Vector256<double>.Zero, fy = fx;
            for (int j = i + 1; j < paths.Length; j += 4)
            {
                Vector256<double> x = Vector256.LoadUnsafe(ref px[j]) - xi, y = Vector256.LoadUnsafe(ref py[j]) - yi;
                var square = x * x + y * y;
                least = Vector256.Min(least, square);
                var inverse = Vector256<double>.One / square;
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
        closest = Math.Min(Math.Min(least[0], least[1]), Math.Min(least[2], least[3]));
        for (int i = 0; i < paths.Length; i++)
            (ax[i], ay[i]) = (ax[i] / rest[i].Mass, ay[i] / rest[i].Mass);
    }

    // As near as a hard meeting brings two discs, or as their rims let them.
    private void ChooseStep()
    {
        untilLook = StepsBetweenLooks;
        int strongest = 0, lightest = 0;
        for (int i = 1; i < paths.Length; i++)
            (strongest, lightest) = (moments[i] > moments[strongest] ? i : strongest, rest[i].Mass < rest[lightest].Mass ? i : lightest);
        double energy = (EnergyOfMotion + held) / paths.Length, nearest = Math.Max(2 * rest[strongest].Radius, Math.Cbrt(Mu0Over4Pi * moments[strongest] * moments[strongest] / (Hardest * energy)));
        step = energy > 0 ? StepShare * nearest / Math.Sqrt(2 * energy / rest[lightest].Mass) : double.MaxValue;
    }

    // What a disc holds with all others.
    private double HeldBy(int i)
    {
        double sum = 0;
        var d = Here(i);
        for (int j = 0; j < paths.Length; j++)
            if (j != i && !IsOut(j) && Here(j) is var o)
                sum += Mu0Over4Pi * moments[i] * moments[j] / Math.Pow((d.X - o.X) * (d.X - o.X) + (d.Y - o.Y) * (d.Y - o.Y), 1.5);
        return sum;
    }
}
