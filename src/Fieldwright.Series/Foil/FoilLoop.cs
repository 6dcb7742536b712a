using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Foil;

/// <summary>Equilibrium of a slack foil under its weight, its stiffness, its own field and one from outside.</summary>
/// <remarks>
/// The strip is a chain of straight links that do not stretch, hinged at its supports and springy at its joints. Link presses on link as thin straight current sheets do,
/// averaged over both widths; what a bent link would do to itself is made up for by its straight neighbours,
/// which seen from its middle lie a little further aside than the arc. The leads beyond the supports are left out. The angles of the links and the two forces that hold the far support are
/// found by Newton's method, the current raised in steps, so that the shape is the one that grows out of the hanging one.
/// </remarks>
/// <source key="Neumann1845"/>
public sealed class FoilLoop
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;
    private const int MostSteps = 30;
    private const int AllNew = -1, Kept = -2;

    private readonly FoilStrip strip;
    private readonly int n;
    private readonly double ds, current, weight, heavy;
    private readonly Func<double, double, double> outside;
    private readonly double[] pairs; // what link j does to link i, of the shape the slopes are taken at

    private FoilLoop(FoilStrip strip, double heavy, double weight, double current, Func<double, double, double> outside, int links)
    {
        this.strip = strip;
        this.heavy = heavy;
        this.weight = weight;
        this.current = current;
        this.outside = outside;
        n = links;
        pairs = new double[n * n];
        ds = strip.Length / n;
    }

    /// <summary>The shape in equilibrium.</summary>
    /// <param name="strip">The foil.</param>
    /// <param name="current">Current from the left support to the right one, A; either sign, or rms of an alternating one when no field comes from outside.</param>
    /// <param name="outside">Flux density from outside along +y (into the plane seen with x to the right and z up), T, at x and z, averaged over the width; null for none.</param>
    /// <param name="links">Links of the chain, 16 or more, even.</param>
    /// <returns>The shape; its error falls as the square of the number of links.</returns>
    /// <exception cref="ArgumentException">A size is out of range.</exception>
    /// <exception cref="NotConvergedException">No equilibrium grows out of the hanging shape by steps of the current: the foil jumps.</exception>
    public static FoilShape Settle(FoilStrip strip, double current, Func<double, double, double>? outside = null, int links = 64)
    {
        ArgumentNullException.ThrowIfNull(strip);
        strip.Check();
        Guard.Finite(current);
        if (links < 16 || links % 2 != 0)
            throw new ArgumentOutOfRangeException(nameof(links), links, "must be even and 16 or more");
        var field = outside ?? ((_, _) => 0);
        // A hanging start, as heavy as the strongest of the loads; then from there to the true weight and current in steps, halved when one does not settle.
        double pull = Math.Abs(current * field(0, -0.3 * strip.Length)) + Mu0 * current * current / (4 * Math.PI * strip.Width);
        double heavy = Math.Max(strip.WeightPerLength, pull);
        var unknowns = Hanging(strip, heavy, links);
        double done = 0, step = 0.4;
        while (done < 1)
        {
            double next = Math.Min(1, done + step), root = Math.Sqrt(next);
            var trial = new FoilLoop(strip, heavy, heavy + next * (strip.WeightPerLength - heavy), current * root, (x, z) => root * field(x, z), links).TrySolve(unknowns);
            if (trial is null)
            {
                step *= 0.5;
                if (step < 1e-3)
                    throw new NotConvergedException("The shape of the foil", 1 - done, links);
                continue;
            }

            (unknowns, done, step) = (trial, next, 1.5 * step);
        }

        return new FoilLoop(strip, heavy, strip.WeightPerLength, current, field, links).Describe(unknowns);
    }

    /// <summary>Tension of a round hoop of strip in its own field, N.</summary>
    /// <param name="radius">Radius of the hoop, m.</param>
    /// <param name="width">Width of the strip along the axis, m.</param>
    /// <param name="current">Current, A.</param>
    /// <returns>I²/(4π)·dL/dR of the thin current sheet; outward force per length is this over the radius. Relative error below 1e-8.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive.</exception>
    /// <source key="Nagaoka1909" at="inductance of the sheet; force by its slope"/>
    public static double HoopTension(double radius, double width, double current)
    {
        Guard.Positive(radius);
        Guard.Positive(width);
        double h = 1e-3 * radius, slope = (8 * (L(radius + h) - L(radius - h)) - L(radius + 2 * h) + L(radius - 2 * h)) / (12 * h);
        return Guard.Finite(current) * current / (4 * Math.PI) * slope;
        double L(double r) => Coils.Solenoid.SelfInductance(r, width, 1);
    }

    // Unknowns: n angles of links against +x, then the force (X, Z) that the far support puts on the chain.
    private static double[] Hanging(FoilStrip strip, double weight, int links)
    {
        // Half a catenary: span = 2a asinh(L/2a).
        double low = 1e-6 * strip.Length, high = 1e3 * strip.Length;
        for (var i = 0; i < 200; i++)
        {
            var middle = Math.Sqrt(low * high);
            if (2 * middle * Math.Asinh(strip.Length / (2 * middle)) < strip.Span) low = middle; else high = middle;
        }

        var unknowns = new double[links + 2];
        for (var i = 0; i < links; i++)
            unknowns[i] = Math.Atan(((i + 0.5) / links - 0.5) * strip.Length / low);
        unknowns[links] = weight * low;
        unknowns[links + 1] = 0.5 * weight * strip.Length;
        return unknowns;
    }

    private double[]? TrySolve(double[] start)
    {
        var u = (double[])start.Clone();
        double scale = heavy * strip.Length, last = double.MaxValue;
        MathNet.Numerics.LinearAlgebra.Factorization.LU<double>? factored = null;
        for (var step = 0; step < MostSteps; step++)
        {
            var r = Residual(u);
            double size = r.Max(Math.Abs);
            if (size < 1e-10 * scale * strip.Length)
                return u;
            if (!double.IsFinite(size))
                return null;
            // The slopes are kept as long as they bring the residual down well.
            if (factored is null || size > 0.4 * last)
                factored = Slopes(u, r, scale).LU();
            var move = factored.Solve(MathNet.Numerics.LinearAlgebra.Double.DenseVector.OfArray(r));
            double largest = Enumerable.Range(0, n).Max(i => Math.Abs(move[i])), share = Math.Min(1, 0.3 / Math.Max(largest, 1e-12));
            for (var i = 0; i < u.Length; i++)
                u[i] -= share * move[i];
            if (share == 1 && largest < 1e-11)
                return size < 1e-6 * scale * strip.Length ? u : null;
            last = size;
        }

        return null;
    }

    private MathNet.Numerics.LinearAlgebra.Double.DenseMatrix Slopes(double[] u, double[] r, double scale)
    {
        Residual(u, Kept);
        return MathNet.Numerics.LinearAlgebra.Double.DenseMatrix.OfColumnArrays(Enumerable.Range(0, n + 2).Select(j =>
        {
            var moved = (double[])u.Clone();
            double h = j < n ? 1e-6 : 1e-6 * scale;
            moved[j] += h;
            var at = Residual(moved, j);
            for (var i = 0; i < at.Length; i++)
                at[i] = (at[i] - r[i]) / h;
            return at;
        }));
    }

    // Virtual work of every angle, and how far the chain misses the far support (made into work by the weight's scale).
    private double[] Residual(double[] u, int turned = AllNew)
    {
        var (x, z) = Corners(u);
        var (fx, fz, _) = Push(u, x, z, turned);
        var r = new double[n + 2];
        // A turn of link i carries all that lies beyond it.
        double beyondX = u[n], beyondZ = u[n + 1], stiff = strip.Stiffness / ds;
        for (var i = n - 1; i >= 0; i--)
        {
            double mx = beyondX + 0.5 * fx[i], mz = beyondZ + 0.5 * fz[i];
            var (sin, cos) = Math.SinCos(u[i]);
            r[i] = ds * (-sin * mx + cos * mz);
            if (i > 0)
                r[i] -= stiff * (u[i] - u[i - 1]);
            if (i < n - 1)
                r[i] += stiff * (u[i + 1] - u[i]);
            beyondX += fx[i];
            beyondZ += fz[i];
        }

        double work = heavy * strip.Length;
        r[n] = work * (x[n] - 0.5 * strip.Span);
        r[n + 1] = work * z[n];
        return r;
    }

    private (double[] X, double[] Z) Corners(double[] u)
    {
        double[] x = new double[n + 1], z = new double[n + 1];
        x[0] = -0.5 * strip.Span;
        for (var i = 0; i < n; i++)
        {
            x[i + 1] = x[i] + ds * Math.Cos(u[i]);
            z[i + 1] = z[i] + ds * Math.Sin(u[i]);
        }

        return (x, z);
    }

    // Force on each link: weight, and current times the field along +y there; the field of its own links separately. When one link is turned, those on either side of it
    // move as one: what they do to one another is known, and only pairs across it are new.
    private (double[] Fx, double[] Fz, double[] Own) Push(double[] u, double[] x, double[] z, int turned = AllNew)
    {
        double[] fx = new double[n], fz = new double[n], own = new double[n], sin = new double[n], cos = new double[n];
        double w = strip.Width;
        for (var i = 0; i < n; i++)
            (sin[i], cos[i]) = Math.SinCos(u[i]);
        for (var i = 0; i < n; i++)
        {
            double mx = 0.5 * (x[i] + x[i + 1]), mz = 0.5 * (z[i] + z[i + 1]);
            for (var j = 0; j < n; j++)
            {
                if (j == i)
                    continue;
                if (turned >= 0 && (Math.Max(i, j) < turned || Math.Min(i, j) > turned))
                {
                    own[i] += pairs[i * n + j];
                    continue;
                }

                // Link j in its own frame: along it from a to b, the point aside by d to its left.
                double dx = mx - 0.5 * (x[j] + x[j + 1]), dz = mz - 0.5 * (z[j] + z[j + 1]), along = dx * cos[j] + dz * sin[j], d = dz * cos[j] - dx * sin[j];
                double push = d * Sheet(along - 0.5 * ds, along + 0.5 * ds, d, w);
                own[i] += push;
                if (turned == Kept)
                    pairs[i * n + j] = push;
            }

            // x̂ × ẑ = −ŷ: a current along x makes a field along −y above it.
            own[i] *= -Mu0 * current / (4 * Math.PI);
            double b = own[i] + outside(mx, mz);
            // t × ŷ b = b (−t_z, 0, t_x) in (x, y, z).
            fx[i] = -current * ds * sin[i] * b;
            fz[i] = current * ds * cos[i] * b - weight * ds;
        }

        return (fx, fz, own);
    }

    // ∫ ds 2/(ρ²(S + ρ)) along a link, ρ² = s² + d², S² = ρ² + w²: 1/R³ averaged over both widths.
    private static double Sheet(double from, double to, double d, double w)
    {
        double total = 0;
        // Near links are cut finer: panels no longer than their distance.
        double reach = Math.Max(Math.Abs(d), from * to > 0 ? Math.Min(Math.Abs(from), Math.Abs(to)) : 0);
        if (reach > to - from)
        {
            for (var k = -1; k <= 1; k += 2)
            {
                double s = 0.5 * (from + to) + k * 0.5 * (to - from) / Math.Sqrt(3), rho2 = s * s + d * d, rho = Math.Sqrt(rho2);
                total += (to - from) / (rho2 * (Math.Sqrt(rho2 + w * w) + rho));
            }

            return total;
        }

        int panels = Math.Clamp((int)Math.Ceiling((to - from) / Math.Max(reach, 0.05 * (to - from))), 1, 20);
        for (var p = 0; p < panels; p++)
            for (var k = 0; k < 3; k++)
            {
                double s = from + (to - from) * (p + 0.5 + 0.5 * Nodes[k]) / panels, rho2 = s * s + d * d, rho = Math.Sqrt(rho2);
                total += Weights[k] * (to - from) / panels * 2 / (rho2 * (Math.Sqrt(rho2 + w * w) + rho));
            }

        return total;
    }

    private static readonly double[] Nodes = [-Math.Sqrt(0.6), 0, Math.Sqrt(0.6)];
    private static readonly double[] Weights = [5.0 / 18, 8.0 / 18, 5.0 / 18];

    private FoilShape Describe(double[] u)
    {
        var (x, z) = Corners(u);
        var (fx, fz, own) = Push(u, x, z);
        var tensions = new double[n];
        double tx = u[n], tz = u[n + 1], outX = 0, outZ = 0, push = 0, middle = 0;
        for (var i = n - 1; i >= 0; i--)
        {
            var (sin, cos) = Math.SinCos(u[i]);
            tensions[i] = (tx + 0.5 * fx[i]) * cos + (tz + 0.5 * fz[i]) * sin;
            tx += fx[i];
            tz += fz[i];
            if (i == n / 2)
                middle = double.Hypot(tx, tz);
            double b = outside(0.5 * (x[i] + x[i + 1]), 0.5 * (z[i] + z[i + 1]));
            outX -= current * ds * sin * b;
            outZ += current * ds * cos * b;
            // Outwards is to the right of the way the strip runs: down, along and up again.
            push += -current * own[i] / n;
        }

        return new FoilShape([.. x.Zip(z)], tensions, x.Max() - x.Min(), -z.Min(), middle, push, (outX, outZ), x.Average());
    }
}
