using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Validation.InductionMotor;

/// <summary>The induction motors of TEAM workshop problem 30a over their whole speed range, by the planar field route with a turning rotor; see source.md.</summary>
public class InductionMotorByField
{
    /// <summary>What independent recomputation of the table leaves open.</summary>
    private const double Tolerance = 1.5e-3;

    /// <summary>Six windings of 45°: current density 3.1e6 A/m² rms.</summary>
    private static readonly double Current = 3.1e6 * Math.Sqrt(2) * Math.PI / 8 * ((0.052 * 0.052) - (0.032 * 0.032));

    [Trait(Bars.Trait, "yes")]
    [Fact]
    public void ThreePhaseMotor_TorqueVoltageAndLosses_AgreeWithTeam30a()
    {
        var table = PublishedTable.Read("team30a-three-phase.csv");
        var meshed = Mesh(ThreePhase, 1200);
        for (var i = 0; i < table.Count; i++) Compare(table, i, meshed, "a", torqueIsSound: true);
    }

    [Trait(Bars.Trait, "yes")]
    [Fact]
    public void SinglePhaseMotor_TorqueVoltageAndLosses_AgreeWithTeam30a()
    {
        var table = PublishedTable.Read("team30a-single-phase.csv");
        var meshed = Mesh(SinglePhase, 358);
        // the printed torque at 39.79 rad/s is off by 7 % from every recomputation, this one included: see source.md
        for (var i = 0; i < table.Count; i++) Compare(table, i, meshed, "a", torqueIsSound: Math.Abs(table.Number(i, "speed_rad_s") - 39.79351) > 1e-3);
    }

    private static void Compare(PublishedTable table, int row, MeshedModel meshed, string winding, bool torqueIsSound)
    {
        var speed = table.Number(row, "speed_rad_s");
        if (row == 0) Told.Line($"speed, rad/s | torque, % off | voltage, % off | rotor loss, % off | rotor steel loss, % off");
        var field = HarmonicField.Solve(meshed.With(AtSpeed(meshed.Model, speed)), TestContext.Current.CancellationToken);
        Told.Line($"{table.Text(row, "speed_rad_s")} | {Off("torque_Nm_per_m", field.Torque(default, 1, 2))} | {Off("voltage_V_per_m_turn", field.Voltage(winding).Magnitude / Math.Sqrt(2))} | {Off("rotor_loss_W_per_m", field.Loss(1, 2))} | {Off("rotor_steel_loss_W_per_m", field.Loss(1))}");
        string Off(string column, double found) => table.Number(row, column) is var printed and not 0 ? Told.Off(found, printed) : FormattableString.Invariant($"{found:+0.0e0;-0.0e0} for 0");
        // torque near zero is held to the tolerance of the largest in the table
        if (torqueIsSound) Near(table, row, "torque_Nm_per_m", field.Torque(default, 1, 2), speed == 0 ? 1e-3 : 0);
        Near(table, row, "voltage_V_per_m_turn", field.Voltage(winding).Magnitude / Math.Sqrt(2), 0);
        Near(table, row, "rotor_loss_W_per_m", field.Loss(1, 2), 0);
        Near(table, row, "rotor_steel_loss_W_per_m", field.Loss(1), 0);
        if (!torqueIsSound) return;
        // the bars on this mesh, made for the highest speed
        var answers = AdaptiveField.Judge(field, [new ForceGoal("torque", [1, 2], ForceComponent.Torque), new LossGoal("loss", [1, 2])]);
        Bars.Reach("induction motors, torque", answers[0].Value, answers[0].ErrorBar, table.Number(row, "torque_Nm_per_m"), (Tolerance * Math.Abs(answers[0].Value)) + (speed == 0 ? 1e-3 : 0));
        Bars.Reach("induction motors, loss", answers[1].Value, answers[1].ErrorBar, table.Number(row, "rotor_loss_W_per_m"), Tolerance * answers[1].Value);
    }

    private static void Near(PublishedTable table, int row, string column, double found, double floor)
    {
        var expected = table.Number(row, column);
        Assert.True(Math.Abs(found - expected) <= (Tolerance * Math.Abs(expected)) + floor, $"{column} at {table.Text(row, "speed_rad_s")} rad/s: printed {expected}, found {found}");
    }

    /// <summary>A mesh fit for the highest speed, where the layers are thinnest, and at standstill.</summary>
    private static MeshedModel Mesh(FieldModel model, double highest) => AdaptiveField.Solve(
        AtSpeed(model, highest),
        [new ForceGoal("torque", [1, 2], ForceComponent.Torque), new LossGoal("loss", [1, 2]), new LossGoal("steel", [1])],
        new(5e-4),
        cancellation: TestContext.Current.CancellationToken).Field.Meshed;

    private static FieldModel AtSpeed(FieldModel model, double speed) => model with
    {
        Motion = new Dictionary<int, RigidMotion> { [1] = new(default, speed), [2] = new(default, speed) },
    };

    private static FieldModel ThreePhase => Model(
        [Winding("a", 0, (0, 1), (3, -1)), Winding("b", 120, (1, -1), (4, 1)), Winding("c", 240, (2, 1), (5, -1))]);

    private static FieldModel SinglePhase => Model([Winding("a", 0, (0, 1), (3, -1))]);

    private static FieldWinding Winding(string name, double degrees, params (int Sector, double Turns)[] sides) =>
        new(name, [.. sides.Select(s => new WindingSide(10 + s.Sector, s.Turns))], new ImposedCurrent(Complex.FromPolarCoordinates(Current, degrees * Math.PI / 180)));

    private static FieldModel Model(IReadOnlyList<FieldWinding> windings)
    {
        Point centre = new(0, 0);
        return new FieldModel
        {
            Symmetry = Symmetry.Long,
            Frequency = 60,
            Parts =
            [
                Outline.Circle(3, centre, 0.057),
                Outline.Circle(4, centre, 0.052),
                Outline.Circle(2, centre, 0.030),
                Outline.Circle(1, centre, 0.020),
                .. Enumerable.Range(0, 6).Select(k => Outline.AnnulusSector(10 + k, centre, 0.032, 0.052, (60 * k) - 22.5, 45)),
            ],
            Matter = new Dictionary<int, RegionMatter> { [1] = new("rotor steel", 1.6e6, 30), [2] = new("aluminium", 3.72e7), [3] = new("stator", 0, 30) },
            Windings = windings,
            Conductors = [new("rotor", [1, 2], new OpenCircuit())],
        };
    }
}
