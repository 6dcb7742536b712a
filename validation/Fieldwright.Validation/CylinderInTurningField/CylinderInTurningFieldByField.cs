using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Validation.CylinderInTurningField;

/// <summary>Torque on a long conducting cylinder in a turning field, and on one that turns in a field at rest, by the planar field route; see source.md.</summary>
public class CylinderInTurningFieldByField
{
    private const double Radius = 0.02, Sigma = 3.5e7;
    private const int Sectors = 24;

    public static TheoryData<double, double> Rows()
    {
        var table = PublishedTable.Read("cylinder-rotating-field.csv");
        var data = new TheoryData<double, double>();
        for (var i = 0; i < table.Count; i++)
            if (table.Number(i, "a_over_delta") is 0.5 or 1 or 2 or 4) data.Add(table.Number(i, "a_over_delta"), table.Number(i, "Im_C_over_a2"));
        return data;
    }

    /// <summary>T = 2πB₀²|Im C|/μ0 per length. The field comes from a thin sheet of 24 sectors at four radii with turns after the sine; its size is that of a static
    /// solution on the same mesh, its first unevenness the 23rd harmonic at a quarter of its radius. Tolerance: our bar, and 4e-4 for the size of the field squared.</summary>
    [Trait(Bars.Trait, "yes")]
    [Theory]
    [MemberData(nameof(Rows))]
    public void CylinderAtRest_InATurningField_HasTheExactTorque(double ratio, double response)
    {
        var omega = Omega(ratio);
        var model = Model(omega / (2 * Math.PI), new ImposedCurrent(10), new ImposedCurrent(new Complex(0, -10)));
        var result = AdaptiveField.Solve(model, [new ForceGoal("torque", [1], ForceComponent.Torque), new LossGoal("heat", [1])], new(1e-3), cancellation: TestContext.Current.CancellationToken);
        Assert.True(result.DemandMet);
        Check(result, response, 1);
        // power over the slip: the loss is ω·T
        Assert.InRange(result.Answers[1].Value / (omega * Math.Abs(result.Answers[0].Value)), 0.999, 1.001);
    }

    /// <summary>The same cylinder turning at ω in the same field at rest feels the same torque against its turning.</summary>
    [Trait(Bars.Trait, "yes")]
    [Theory]
    [InlineData(1.0)]
    [InlineData(4.0)]
    public void TurningCylinder_InAFieldAtRest_HasTheSameTorque(double ratio)
    {
        var table = PublishedTable.Read("cylinder-rotating-field.csv");
        var response = table.Number(Enumerable.Range(0, table.Count).Single(i => table.Number(i, "a_over_delta") == ratio), "Im_C_over_a2");
        var model = Model(0, new ImposedCurrent(10), new OpenCircuit()) with { Motion = new Dictionary<int, RigidMotion> { [1] = new(default, Omega(ratio)) } };
        var result = AdaptiveField.Solve(model, [new ForceGoal("torque", [1], ForceComponent.Torque)], new(1e-3), cancellation: TestContext.Current.CancellationToken);
        Assert.True(result.DemandMet);
        Check(result, response, -1);
    }

    private static void Check(AdaptiveResult result, double response, int sense)
    {
        var model = result.Field.Model;
        var still = model with
        {
            Frequency = 0,
            Motion = new Dictionary<int, RigidMotion>(),
            Windings = [model.Windings[0] with { Drive = new ImposedCurrent(10) }, model.Windings[1] with { Drive = new OpenCircuit() }],
        };
        var b0 = StaticField.Solve(result.Field.Meshed.With(still), TestContext.Current.CancellationToken).FluxDensity(0, 0).Magnitude;
        var exact = sense * 2 * Math.PI * b0 * b0 * Math.Abs(response) * Radius * Radius / PhysicalConstants.MagneticConstant;
        var torque = result.Answers[0];
        Told.Line($"a/δ {Math.Sqrt(Math.Max(model.Frequency * 2 * Math.PI, Math.Abs(model.Motion.Values.FirstOrDefault()?.AngularVelocity ?? 0)) / Omega(1)):0.0}, {(model.Frequency > 0 ? "at rest" : "turning")}: torque {100 * ((torque.Value / exact) - 1):+0.0000;-0.0000} % off, bar {100 * torque.ErrorBar / Math.Abs(exact):0.000} %");
        Bars.Reach("cylinder in a turning field, torque", torque.Value, torque.ErrorBar, exact, 4e-4 * Math.Abs(exact));
    }

    private static double Omega(double ratio) => 2 * ratio * ratio / (PhysicalConstants.MagneticConstant * Sigma * Radius * Radius);

    private static FieldModel Model(double frequency, WindingDrive first, WindingDrive second)
    {
        var step = 360.0 / Sectors;
        List<WindingSide> a = [], b = [];
        var sheet = new List<Outline>();
        for (var k = 0; k < Sectors; k++)
        {
            double from = k * step * Math.PI / 180, to = (k + 1) * step * Math.PI / 180;
            sheet.Add(Outline.AnnulusSector(10 + k, new(0, 0), 4 * Radius, 4.1 * Radius, k * step, step));
            // the second sheet is the first turned by a quarter turn forwards
            a.Add(new(10 + k, 1e3 * (Math.Cos(from) - Math.Cos(to))));
            b.Add(new(10 + k, -1e3 * (Math.Sin(to) - Math.Sin(from))));
        }
        return new FieldModel
        {
            Symmetry = Symmetry.Long,
            Frequency = frequency,
            Parts = [.. sheet, Outline.Circle(1, new(0, 0), Radius)],
            Matter = new Dictionary<int, RegionMatter> { [1] = new("cylinder", Sigma) },
            Windings = [new("first", a, first), new("second", b, second)],
        };
    }
}
