using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Series.Magnets;
using Fieldwright.Series;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Forces between bodies that touch: those of a crack between them as thin as one likes.</summary>
public class ContactTests
{
    private const double Radius = 0.01, Height = 0.01, Polarisation = 1.2;

    /// <summary>A disc on a coil is lifted by its own currents, and the coil is pressed down as much: under alternating current the coil's and the disc's share differ, so a layer counted twice shows.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1e-4)]
    public void DiscOnACoil_Lift_IsThatOfItsCurrents(double gap)
    {
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Frequency = 50,
            Parts = [Outline.Rectangle(1, 0, gap, 0.06, 0.003 + gap), Outline.Rectangle(2, 0.02, -0.05, 0.05, 0)],
            Matter = Solved.Matter((1, new("disc", 3.4e7))),
            Windings = [FieldWinding.InOneRegion("coil", 2, 700, new ImposedCurrent(20))],
        };
        var result = AdaptiveField.Solve(model, [new ForceGoal("disc", [1]), new ForceGoal("coil", [2])], new(5e-3), null, TestContext.Current.CancellationToken);
        var (disc, coil) = (result.Answers[0], result.Answers[1]);
        // the integral of J×B is the less accurate of the two: a per cent
        Assert.Equal(result.Field.CurrentForce(1).Y, disc.Value, 0.01 * disc.Value);
        Assert.Equal(-coil.Value, disc.Value, disc.ErrorBar + coil.ErrorBar);
    }

    /// <summary>Two equal magnets face to face against the series room at a nanometre, and one on iron against its image: the pull ends at a finite value.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void MagnetInContact_Pull_IsTheLimitOfTheSeries(bool onIron)
    {
        var magnet = new RegionMatter("magnet") { Remanence = new(0, Polarisation) };
        // as in the validation of magnets on iron: a plane of fifteen radii, permeability 1e5, short by less than a per mille
        Outline other = onIron ? Outline.Rectangle(2, 0, -0.05, 0.15, 0) : Outline.Rectangle(2, 0, -Height, Radius, 0);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Outline.Rectangle(1, 0, 0, Radius, Height), other],
            Matter = Solved.Matter((1, magnet), (2, onIron ? new("iron", 0, 1e5) : magnet)),
        };
        var result = AdaptiveField.Solve(model, [new ForceGoal("pull", [1]), new ForceGoal("back", [2])], new(5e-3), null, TestContext.Current.CancellationToken);
        var exact = CylinderMagnet.Load(
            new(Radius, Height, Polarisation, new Vector(0, 0, -0.5 * Height)), new(Radius, Height, Polarisation, new Vector(0, 0, (0.5 * Height) + 1e-9))).Force.Z;
        var (pull, back) = (result.Answers[0], result.Answers[1]);
        Assert.Equal(exact, pull.Value, pull.ErrorBar + (1e-3 * Math.Abs(exact)));
        Assert.Equal(-exact, back.Value, back.ErrorBar + (1e-3 * Math.Abs(exact)));
    }

    /// <summary>A coil lying on thick metal, off its middle: both are pushed and turned alike.</summary>
    [Fact]
    public void CoilOnAPlate_Forces_AreOppositeAndEqual()
    {
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long,
            Depth = 0.1,
            Frequency = 500,
            Parts = [Outline.Rectangle(1, -0.02, -0.006, 0.05, 0), Outline.Rectangle(2, -0.012, 0, -0.004, 0.008), Outline.Rectangle(3, 0.004, 0, 0.012, 0.008)],
            Matter = Solved.Matter((1, new("plate", 3.4e7))),
            Windings = [new("coil", [new(2, -100), new(3, 100)], new ImposedCurrent(10))],
        };
        Goal[] goals = [.. new[] { ForceComponent.Y, ForceComponent.Torque }.SelectMany(c => new[] { new ForceGoal($"{c} plate", [1], c), new ForceGoal($"{c} coil", [2, 3], c) })];
        var answers = AdaptiveField.Solve(model, goals, new(3e-2), null, TestContext.Current.CancellationToken).Answers;
        for (var k = 0; k < answers.Count; k += 2) Assert.Equal(-answers[k + 1].Value, answers[k].Value, answers[k].ErrorBar + answers[k + 1].ErrorBar);
    }

    /// <summary>A disc thrown off the coil it lies on comes away whole: it goes as far as one that starts a twentieth of a millimetre higher, where the lift is a per cent less.</summary>
    [Fact]
    public void DiscOnACoil_ThrownOff_FliesLikeOneJustAboveIt()
    {
        double Height(double gap)
        {
            var model = new FieldModel
            {
                Symmetry = Symmetry.Round,
                Parts = [Outline.Rectangle(1, 0.02, -0.01, 0.03, 0.01), Outline.Rectangle(2, 0, 0.01 + gap, 0.03, 0.012 + gap)],
                Matter = Solved.Matter((2, new("disc", 3.5e7))),
                Windings = [FieldWinding.InOneRegion("coil", 1, 200, new OpenCircuit(), 2)],
            };
            var run = TransientSolver.Follow(
                new()
                {
                    Field = model,
                    Circuits = [new WindingCircuit("bank", [("coil", 1)]) { Capacitance = 100e-6, CapacitorVoltage = 300, Resistance = 0.5 }],
                    Bodies = [new MovingBody("disc", [2], 0.02) { SteadyForce = -0.2, LowestDisplacement = -gap }],
                    ResolvedFrequency = 300,
                },
                new(0.002) { RelativeError = 3e-3 },
                null,
                TestContext.Current.CancellationToken);
            Assert.Equal(0, run.Steps[^1].Balance.Residual, 5e-3 * run.Steps[^1].Balance.WireHeat);
            return run.Steps[^1].Displacements[0];
        }

        var just = Height(0.05e-3);
        Assert.True(just > 1e-4);
        Assert.Equal(just, Height(0), 0.03 * just);
    }
}
