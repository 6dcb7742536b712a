using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Validation.MagnetFallingInPipe;

/// <summary>Drag of a pipe that slides past a magnet, by the round field route with steady motion; see source.md.</summary>
public class MagnetFallingInPipeByField
{
    /// <summary>
    /// Thin pipe: F/v = 45μ0²m²σw/(1024a⁴); a thick one is the sum of thin ones as long as the reaction of its currents is small, w/a⁴ → (a⁻³ − b⁻³)/3. The magnet is a ball, whose outer
    /// field is exactly a dipole's. What else differs: μ0σvw = 4e-5 of reaction, enters squared; the pipe ends at ±8a, where the heat per length has fallen by (1/8)⁸.
    /// </summary>
    [Trait(Bars.Trait, "yes")]
    [Fact]
    public void SlowPipe_PastABallMagnet_HasTheDragOfADipole()
    {
        const double a = 0.01, b = 0.011, ball = 0.003, sigma = 5.8e7, speed = 5e-4, remanence = 1.2;
        var moment = remanence / PhysicalConstants.MagneticConstant * 4 / 3 * Math.PI * Math.Pow(ball, 3);
        var drag = 45 * Math.Pow(PhysicalConstants.MagneticConstant * moment, 2) * sigma / 1024 * (Math.Pow(a, -3) - Math.Pow(b, -3)) / 3;
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Outline.HalfDisc(1, ball), Outline.Rectangle(2, a, -8 * a, b, 8 * a)],
            Matter = new Dictionary<int, RegionMatter> { [1] = new("magnet") { Remanence = new(0, remanence) }, [2] = new("copper", sigma) },
            Motion = new Dictionary<int, RigidMotion> { [2] = new(new(0, speed)) },
        };
        // the force is a millionth of the magnet's own stresses: asked for through the heat, which is force times speed
        var result = AdaptiveField.Solve(model, [new LossGoal("heat", [2])], new(1e-3), cancellation: TestContext.Current.CancellationToken);
        Assert.True(result.DemandMet);
        var heat = result.Answers[0];
        Told.Line($"drag by the heat {100 * ((heat.Value / speed / speed / drag) - 1):+0.000;-0.000} % off, bar {100 * heat.ErrorBar / heat.Value:0.000} %; by the force on the currents {100 * ((-result.Field.CurrentForce(2).Y / speed / drag) - 1):+0.000;-0.000} % off");
        Bars.Reach("pipe past a magnet, drag", heat.Value / speed / speed, heat.ErrorBar / speed / speed, drag, 1e-4 * drag);
        Assert.InRange(-result.Field.CurrentForce(2).Y / speed / drag, 0.998, 1.002);
    }
}
