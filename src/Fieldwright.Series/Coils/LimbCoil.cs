using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Coils;

/// <summary>A coil wound round a piece of the limb of a ring, without the iron: rectangular turns that stand in planes through the ring's axis.</summary>
/// <remarks>
/// Positive current runs along +z on the inner side of the limb, so that it drives flux counter-clockwise round the ring. Turns are spread evenly over the angle and the build; their corners are
/// square, where real wire is rounded. Immutable.
/// </remarks>
/// <param name="InnerRadius">Radius of the ring's window, m.</param>
/// <param name="OuterRadius">Radius of the ring's outside, m.</param>
/// <param name="Depth">Height of the ring along its axis, m.</param>
/// <param name="Clearance">Distance from limb to wire, m.</param>
/// <param name="Build">Thickness of the winding, m.</param>
/// <param name="Centre">Angle of its middle round the ring, rad.</param>
/// <param name="Angle">Angle it takes up, rad.</param>
/// <param name="Turns">Turns.</param>
/// <source key="Neumann1845"/>
public sealed record LimbCoil(double InnerRadius, double OuterRadius, double Depth, double Clearance, double Build, double Centre, double Angle, double Turns)
{
    private static readonly GaussRule Along = GaussRule.WithNodes(12);

    /// <summary>Self-inductance, H.</summary>
    /// <returns>H. Turns gathered into bundles over build and angle, each of its geometric mean distance from itself; the error is the change when the bundles are halved, of which a third is taken off.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A size is out of range, or the coil does not fit through the window.</exception>
    public Estimate<double> SelfInductance()
    {
        Check();
        // Bundles about as wide as thick; a thin winding is cut along its length only.
        int round = (int)Math.Clamp(Math.Round(Angle * 0.5 * (InnerRadius + OuterRadius) / Build), 1, 60), thin = round == 60 ? 1 : 2;
        double rough = Bundled(thin == 1 ? 1 : 2, thin * round), fine = Bundled(thin == 1 ? 1 : 4, 2 * thin * round);
        return new(fine + (fine - rough) / 3, Math.Abs(fine - rough));
    }

    /// <summary>Mutual inductance of two coils on one ring that do not overlap, H, positive when both drive flux the same way round.</summary>
    /// <param name="first">One coil.</param>
    /// <param name="second">The other coil, of the same ring.</param>
    /// <returns>H. Gauss sums over both coils; the error is the change from a coarser one.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A size is out of range, or a coil does not fit through the window.</exception>
    public static Estimate<double> MutualInductance(LimbCoil first, LimbCoil second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        first.Check();
        second.Check();
        double rough = Sum(2, 6), fine = Sum(3, 10);
        return new(fine, Math.Abs(fine - rough));

        double Sum(int build, int round)
        {
            GaussRule u = GaussRule.WithNodes(build), theta = GaussRule.WithNodes(round);
            double total = 0;
            for (int a = 0; a < build; a++)
                for (int b = 0; b < build; b++)
                    for (int i = 0; i < round; i++)
                        for (int j = 0; j < round; j++)
                            total += u.Weights[a] * u.Weights[b] * theta.Weights[i] * theta.Weights[j]
                                * OfTurns(first.Turn(first.Build * u.Nodes[a], first.Centre + first.Angle * (theta.Nodes[i] - 0.5)), second.Turn(second.Build * u.Nodes[b], second.Centre + second.Angle * (theta.Nodes[j] - 0.5)));
            return first.Turns * second.Turns * total;
        }
    }

    private double Bundled(int build, int round)
    {
        double thick = Build / build, step = Angle / round, total = 0;
        for (int a = 0; a < build; a++)
            for (int b = 0; b < build; b++)
            {
                var here = Turn(thick * (a + 0.5), 0);
                for (int k = 0; k < round; k++)
                {
                    double m = a == b && k == 0 ? OfBundle(here, thick, step) : OfTurns(here, Turn(thick * (b + 0.5), k * step));
                    total += (k == 0 ? round : 2 * (round - k)) * m;
                }
            }

        return Turns * Turns * total / ((double)build * build * round * round);
    }

    // Four sides each parallel to itself at its own mean distance, and to the one across.
    private static double OfBundle(Vector[] turn, double thick, double step)
    {
        double upright = (turn[1] - turn[0]).Length, level = (turn[2] - turn[1]).Length;
        double inner = double.Hypot(turn[0].X, turn[0].Y), outer = double.Hypot(turn[2].X, turn[2].Y);
        double At(double length, double radius) => Parallel(length, 0.2235 * (thick + radius * step));
        return At(upright, inner) + At(upright, outer) + 2 * At(level, 0.5 * (inner + outer)) - 2 * Parallel(upright, level) - 2 * Parallel(level, upright);
    }

    private static double Parallel(double length, double distance) =>
        PhysicalConstants.MagneticConstant / (2 * Math.PI) * (length * Math.Asinh(length / distance) - double.Hypot(length, distance) + distance);

    // Up on the inner side, out over the top, down outside and back below.
    private Vector[] Turn(double out1, double angle)
    {
        var (sin, cos) = Math.SinCos(angle);
        double inner = InnerRadius - Clearance - out1, outer = OuterRadius + Clearance + out1, half = 0.5 * Depth + Clearance + out1;
        return [new(inner * cos, inner * sin, -half), new(inner * cos, inner * sin, half), new(outer * cos, outer * sin, half), new(outer * cos, outer * sin, -half)];
    }

    // ∮∮ dl·dl′/r: the potential of each side in closed form, Gauss along the other's sides.
    private static double OfTurns(Vector[] p, Vector[] q)
    {
        double total = 0;
        for (int i = 0; i < 4; i++)
        {
            Vector a = p[i], b = p[(i + 1) % 4], along = (b - a).Unit();
            double length = (b - a).Length;
            for (int j = 0; j < 4; j++)
            {
                Vector c = q[j], d = q[(j + 1) % 4];
                double together = Vector.Dot(along, d - c);
                if (Math.Abs(together) < 1e-12 * length)
                    continue;
                // The kernel is a logarithm: two panels of twelve points serve down to bundles a tenth of a side apart.
                for (int k = 0; k < Along.Nodes.Length; k++)
                    for (int panel = 0; panel < 2; panel++)
                    {
                        var at = c + 0.5 * (panel + Along.Nodes[k]) * (d - c);
                        double r = (at - a).Length + (at - b).Length;
                        total += 0.5 * Along.Weights[k] * together * Math.Log((r + length) / (r - length));
                    }
            }
        }

        return PhysicalConstants.MagneticConstant / (4 * Math.PI) * total;
    }

    private void Check()
    {
        Guard.Positive(InnerRadius);
        Guard.Positive(OuterRadius - InnerRadius);
        Guard.Positive(Depth);
        Guard.NotNegative(Clearance);
        Guard.Positive(Build);
        Guard.Positive(InnerRadius - Clearance - Build);
        Guard.InRange(Angle, 1e-6, 2 * Math.PI);
    }
}
