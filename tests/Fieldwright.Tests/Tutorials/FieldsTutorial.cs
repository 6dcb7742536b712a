using System.Globalization;
using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;

namespace Fieldwright.Tests.Tutorials;

/// <summary>The program of docs/tutorials/fields.md.</summary>
internal static class FieldsTutorial
{
    public static void Run(TextWriter output)
    {
        // An aluminium disc over a coil, round about the z axis: outlines in the (r, z) half-plane, in metres, each with a number for its region.
        const int coil = 1, disc = 2;
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Frequency = 50,
            Parts =
            [
                Outline.Rectangle(coil, 0.020, -0.040, 0.040, 0.000),
                Outline.Rectangle(disc, 0.000, 0.004, 0.045, 0.007),
            ],
            Matter = new Dictionary<int, RegionMatter> { [disc] = new("aluminium", Conductivity: 3.4e7) },
            Windings = [FieldWinding.InOneRegion("coil", coil, turns: 800, new ImposedCurrent(20), resistance: 3)],
        };

        // Nothing is said of meshes or of the edge of space. Say what you want to know and how well: the mesh is refined for that.
        var result = AdaptiveField.Solve(model, [new ForceGoal("lift", [disc]), new LossGoal("heat", [disc])], new AdaptiveDemand(RelativeError: 0.01));
        foreach (var answer in result.Answers)
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{answer.Goal.Name}: {answer.Value:F3} ± {answer.ErrorBar:F3}"));

        // The field itself can be asked anything else. Phasors are peak values with exp(+jωt).
        var field = (HarmonicField)result.Field;
        Complex impedance = field.ImpedanceMatrix()[0, 0];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"impedance: {impedance.Real:F2} + j {impedance.Imaginary:F2} ohm"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"flux density on the axis, 20 mm up: {1e3 * field.FluxDensity(0, 0.020).Magnitude:F2} mT"));

        // Same mesh, another current: no new factorisation. Lift goes with the square.
        var weaker = field.WithCurrents([10]);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"lift at half the current: {weaker.Force(disc).Y / field.Force(disc).Y:F4} of the whole"));

        // Now let the disc go as the current is switched on. It weighs 51 g; the boards it lies on stop it from falling.
        const double mass = 0.051;
        var thrown = TransientSolver.Follow(
            new TransientModel
            {
                Field = model with { Frequency = 0 },
                Circuits = [WindingCircuit.FedByCurrent("coil", t => 20 * Math.Sin(2 * Math.PI * 50 * t))],
                Bodies = [new MovingBody("disc", [disc], mass) { SteadyForce = -9.81 * mass, LowestDisplacement = 0 }],
                ResolvedFrequency = 50,
            },
            new TransientOptions(End: 0.02) { LargestStep = 0.0005 });
        var last = thrown.Steps[^1];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"after one period: risen by {1e3 * last.Displacements[0]:F2} mm, {last.Speeds[0]:F2} m/s"));

        // Every step keeps the books of energy; what is delivered and not found again is the error of the steps.
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"delivered {last.Balance.Delivered:F3} J, heat in the disc {last.Balance.SolidHeat:F3} J, in the wire {last.Balance.WireHeat:F3} J"));
    }
}
