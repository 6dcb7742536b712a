using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Validation.MagnetFallingInPipe;

/// <summary>A magnet falling in a pipe, seen from the magnet: the pipe falls past it, followed in time; see source-field.md.</summary>
public class PipeFallingPastMagnet
{
    /// <summary>
    /// With drag k per speed, as in <see cref="MagnetFallingInPipeByField"/>, a pipe let go falls with v = v∞(1 − exp(−t/T)), v∞ = mg/k, T = m/k: its mass is chosen for 0.05 m/s. The reaction of its currents,
    /// μ0σvw = 0.4 %, enters squared; the mesh and the steps are good to some thousandths, which is what the last speed is held to.
    /// </summary>
    [Fact]
    public void PipeLetGo_PastABallMagnet_ReachesTheSpeedOfTheDipoleDrag()
    {
        const double a = 0.01, b = 0.011, ball = 0.003, sigma = 5.8e7, remanence = 1.2, speed = 0.05;
        var moment = remanence / PhysicalConstants.MagneticConstant * 4 / 3 * Math.PI * Math.Pow(ball, 3);
        var drag = 45 * Math.Pow(PhysicalConstants.MagneticConstant * moment, 2) * sigma / 1024 * (Math.Pow(a, -3) - Math.Pow(b, -3)) / 3;
        double weight = drag * speed, mass = weight / PhysicalConstants.StandardGravity, time = mass / drag;
        var run = TransientSolver.Follow(
            new()
            {
                Field = new()
                {
                    Symmetry = Symmetry.Round,
                    Parts = [Outline.HalfDisc(1, ball), Outline.Rectangle(2, a, -5 * a, b, 5 * a)],
                    Matter = new Dictionary<int, RegionMatter> { [1] = new("magnet") { Remanence = new(0, remanence) }, [2] = new("copper", sigma) },
                },
                Bodies = [new MovingBody("pipe", [2], mass) { SteadyForce = -weight, ForceFromCurrents = true }],
            },
            new(6 * time) { LargestStep = time / 5 },
            null,
            TestContext.Current.CancellationToken);
        Told.Line($"speed after one time constant {100 * ((-run.Motion(0, time).Speed / speed / (1 - Math.Exp(-1))) - 1):+0.00;-0.00} % off, at the end {100 * ((-run.Steps[^1].Speeds[0] / speed / (1 - Math.Exp(-6))) - 1):+0.00;-0.00} % off");
        // the closed form knows no lag; the pipe's currents follow within some μ0σwa/2 = 0.4 ms of T = 5 ms, and meanwhile it runs ahead by no more than that share
        var lag = PhysicalConstants.MagneticConstant * sigma * (b - a) * a / 2 / time;
        Assert.InRange(-run.Motion(0, time).Speed / speed / (1 - Math.Exp(-1)), 0.995, 1.005 + lag);
        Assert.Equal(1 - Math.Exp(-6), -run.Steps[^1].Speeds[0] / speed, 0.005);
    }
}
