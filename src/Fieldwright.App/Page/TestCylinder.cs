using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Matter;
using Fieldwright.Series.Cylinders;

namespace Fieldwright.App.Page;

/// <summary>What a small aluminium cylinder, its axis towards the reader, would do at a place: turn, and be pushed.</summary>
/// <remarks>Both by the series of a long thin cylinder at rest in the field that the place has without it, per metre of length: a guide to which way and how eagerly, not a claim.</remarks>
internal static class TestCylinder
{
    private const double Radius = 3e-3, Step = 5e-4;

    /// <summary>The cylinder's doings at a place, ready to become JSON.</summary>
    /// <param name="field">Flux density in the plane at a place of it, peak phasors, T; u to the right, v up.</param>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <param name="u">The place, m.</param>
    /// <param name="v">The place, m.</param>
    public static object At(Func<double, double, (Complex U, Complex V)> field, double frequency, double u, double v)
    {
        var (bu, bv) = field(u, v);
        var ellipse = new FieldEllipse(bu, bv);
        double torque = 0;
        (double X, double Y) push = (0, 0);
        if (frequency > 0)
        {
            var body = CylinderBody.Solid(Radius, Materials.Find("aluminium 1050")?.Conductivity ?? 35e6);
            torque = body.PerMetre(ellipse, frequency).Torque;
            var (right, left, up, down) = (field(u + Step, v), field(u - Step, v), field(u, v + Step), field(u, v - Step));
            push = body.PushPerMetre(bu, bv, ((right.U - left.U) / (2 * Step), (up.U - down.U) / (2 * Step)), ((right.V - left.V) / (2 * Step), (up.V - down.V) / (2 * Step)), frequency);
        }

        return new
        {
            T = "probe",
            X = u,
            Y = v,
            Major = ellipse.SemiMajor,
            Minor = ellipse.SemiMinor,
            Tilt = ellipse.Tilt,
            Torque = torque,
            Push = (double[])[push.X, push.Y],
            Says = Says(frequency, ellipse, torque, double.Hypot(push.X, push.Y)),
        };
    }

    private static string Says(double frequency, FieldEllipse ellipse, double torque, double push)
    {
        if (frequency == 0)
            return "The field stands still: an aluminium cylinder at rest would feel nothing.";
        string turns = ellipse.SemiMinor < 0.02 * ellipse.SemiMajor ? "The field only swings to and fro here: a 6 mm aluminium cylinder would not turn"
            : $"The field turns here: a 6 mm aluminium cylinder would turn {(torque > 0 ? "counter-clockwise" : "clockwise")}, {Shown.Digits(Math.Abs(torque) * 1e6, 2)} µN·m a metre";
        return $"{turns}, and be pushed with {Shown.Digits(1e3 * push, 2)} mN a metre.";
    }
}
