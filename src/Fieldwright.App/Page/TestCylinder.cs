using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Pictures.Live;
using Fieldwright.Matter;
using Fieldwright.Series.Cylinders;

namespace Fieldwright.App.Page;

/// <summary>What a small aluminium cylinder, its axis towards the reader, would do at a place: turn, and be pushed.</summary>
/// <remarks>Torque by the series of a long cylinder in the field ellipse that the place has without it; the push by the slope of the field's mean square
/// times what the cylinder reflects. Per metre of a long one: a guide to which way and how eagerly, not a claim.</remarks>
internal static class TestCylinder
{
    private const double Radius = 3e-3, Step = 1e-3;

    /// <summary>The place's field and the cylinder's doings, ready to become JSON.</summary>
    public static object At(StageField field, double x, double y, Complex bx, Complex by)
    {
        double mirror = field.IsRound && x < 0 ? -1 : 1;
        var ellipse = new FieldEllipse(mirror * bx, by);
        double torque = 0;
        (double X, double Y) push = (0, 0);
        if (field.Frequency > 0)
        {
            var metal = Materials.Find("aluminium 1050");
            var body = CylinderBody.Solid(Radius, metal?.Conductivity ?? 35e6);
            torque = body.PerMetre(ellipse, field.Frequency).Torque;
            // A dipole m = 2πa²·Re(C)·B/μ0 a metre feels half the slope of B² times that, half again for the mean over a cycle.
            double reflects = body.Reflection(field.Frequency).Real * 2 * Math.PI * Radius * Radius / PhysicalConstants.MagneticConstant / 4;
            push = (reflects * Slope(x + Step, y, x - Step, y), reflects * Slope(x, y + Step, x, y - Step));
        }

        double Slope(double x1, double y1, double x2, double y2) => (Square(x1, y1) - Square(x2, y2)) / (2 * Step);
        double Square(double px, double py)
        {
            var (a, b) = field.FluxDensity(field.IsRound ? Math.Abs(px) : px, py);
            return a.Magnitude * a.Magnitude + b.Magnitude * b.Magnitude;
        }

        return new
        {
            T = "probe",
            X = x,
            Y = y,
            Major = ellipse.SemiMajor,
            Minor = ellipse.SemiMinor,
            Tilt = ellipse.Tilt,
            Torque = torque,
            Push = (double[])[push.X, push.Y],
            Says = Says(field, ellipse, torque, Math.Sqrt(push.X * push.X + push.Y * push.Y)),
        };
    }

    private static string Says(StageField field, FieldEllipse ellipse, double torque, double push)
    {
        if (field.Frequency == 0)
            return "The field stands still: an aluminium cylinder at rest would feel nothing.";
        string turns = ellipse.SemiMinor < 0.02 * ellipse.SemiMajor ? "The field only swings to and fro here: the cylinder would not turn"
            : $"The field turns here: the cylinder would turn {(torque > 0 ? "counter-clockwise" : "clockwise")}, {Shown.Digits(Math.Abs(torque) * 1e6, 2)} µN·m a metre";
        return $"{turns}, and be pushed with {Shown.Digits(push, 2)} N a metre.";
    }
}
