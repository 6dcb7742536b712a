using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Fieldwright.Series.Coils;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Transients against circuits in closed form, against the harmonic and the static field, against free fall, and against their own books of energy.</summary>
public class TransientTests
{
    private const double Turns = 200, Ohms = 2;

    private static readonly FieldModel Coil = new()
    {
        Symmetry = Symmetry.Round,
        Parts = [Outline.Rectangle(1, 0.02, -0.01, 0.03, 0.01)],
        Matter = Solved.Matter(),
        Windings = [FieldWinding.InOneRegion("coil", 1, Turns, new OpenCircuit(), Ohms)],
    };

    /// <summary>i = (U/R)(1 − exp(−Rt/L)), L of the static field on the same mesh: the error in time alone, of second order.</summary>
    [Fact]
    public void CoilOnABattery_FixedSteps_RisesExponentiallyAtSecondOrder()
    {
        double Error(int steps)
        {
            var run = Follow(new() { Field = Coil, Circuits = [WindingCircuit.FedByVoltage("coil", _ => 12)] }, new(0.004) { FirstStep = 0.004 / steps, FixedStep = true });
            var inductance = run.Steps[^1].FluxLinkages[0] / run.Steps[^1].CircuitCurrents[0];
            var exact = 12 / Ohms * (1 - Math.Exp(-0.004 * Ohms / inductance));
            return Math.Abs(run.Steps[^1].CircuitCurrents[0] - exact) / exact;
        }

        double coarse = Error(10), fine = Error(20);
        Assert.InRange(Solved.Rate(coarse, fine), 1.8, 2.4);
        Assert.True(fine < 2e-4);
    }

    /// <summary>The same against the exact inductance of a thick coil: mesh and steps err, and the bars of current and heat reach the truth without being endless.</summary>
    [Fact]
    public void Bars_OfACoilOnABattery_ReachTheClosedForm()
    {
        const double end = 0.004, volts = 12;
        var answers = TransientSolver.FollowWithBars(
            new() { Field = Coil, Circuits = [WindingCircuit.FedByVoltage("coil", _ => volts)] }, new(end) { Fineness = 2 },
            [run => run.Steps[^1].CircuitCurrents[0], run => run.Steps[^1].Balance.WireHeat], TestContext.Current.CancellationToken).Answers;
        var tau = new ThickCoil(0.02, 0.03, -0.01, 0.01, Turns).SelfInductance() / Ohms;
        double one = 1 - Math.Exp(-end / tau), two = 1 - Math.Exp(-2 * end / tau);
        double[] exact = [volts / Ohms * one, volts * volts / Ohms * (end - (2 * tau * one) + (0.5 * tau * two))];
        for (var k = 0; k < exact.Length; k++)
        {
            Assert.InRange(Math.Abs(answers[k].Value - exact[k]), 0, answers[k].ErrorBar);
            Assert.InRange(answers[k].ErrorBar, 1e-7 * exact[k], 5e-3 * exact[k]);
        }
    }

    /// <summary>u = U·exp(−βt)(cos ω't + (β/ω') sin ω't), β = R/2L, ω'² = 1/LC − β².</summary>
    [Fact]
    public void CapacitorBehindACoil_Discharged_RingsAsItsClosedForm()
    {
        const double farads = 200e-6, end = 0.01;
        var circuit = new WindingCircuit("bank", [("coil", 1)]) { Capacitance = farads, CapacitorVoltage = 100 };
        var run = Follow(new() { Field = Coil, Circuits = [circuit] }, new(end) { RelativeError = 1e-4 });
        var last = run.Steps[^1];
        var inductance = last.FluxLinkages[0] / last.CircuitCurrents[0];
        double beta = Ohms / (2 * inductance), omega = Math.Sqrt((1 / (inductance * farads)) - (beta * beta));
        foreach (var step in run.Steps)
        {
            var exact = 100 / (omega * inductance) * Math.Exp(-beta * step.Time) * Math.Sin(omega * step.Time);
            Assert.Equal(exact, step.CircuitCurrents[0], 2e-3 * 100 / (omega * inductance));
        }
        Assert.True(last.Balance.WireHeat > 0.1);
        // each step may miss the energy by twice its relative error
        Assert.True(Math.Abs(last.Balance.Residual) < 2e-4 * run.Steps.Count * 0.5 * farads * 1e4, $"{last.Balance} {run.Steps.Count}");
    }

    /// <summary>After the start has died away a sine gives the loss and force of the harmonic field of the same mesh: mean over the last period.</summary>
    [Fact]
    public void DiscOverACoil_AlternatingCurrent_SettlesToTheHarmonicField()
    {
        var model = Coil with { Parts = [.. Coil.Parts, Outline.Rectangle(2, 0, 0.013, 0.03, 0.015)], Matter = Solved.Matter((2, new RegionMatter("disc", 3.5e7))) };
        const double frequency = 400;
        var transient = new TransientModel
        {
            Field = model,
            Circuits = [WindingCircuit.FedByCurrent("coil", t => 10 * Math.Sin(2 * Math.PI * frequency * t))],
            Bodies = [new MovingBody("disc", [2], 1e9)],
            ResolvedFrequency = frequency,
        };
        var run = Follow(transient, new(5 / frequency) { RelativeError = 1e-4, LargestStep = 1 / (60 * frequency), FirstStep = 1e-5, Breaks = [4 / frequency] });
        var before = run.Steps.Last(s => s.Time <= (4 / frequency) * (1 + 1e-9));
        var loss = (run.Steps[^1].Balance.SolidHeat - before.Balance.SolidHeat) * frequency;
        var force = Mean(run, before.Time, s => s.Forces[0]);
        var meshed = run.Last.Meshed.With(run.Last.Model with { Frequency = frequency, Windings = [.. model.Windings.Select(w => w with { Drive = new ImposedCurrent(10) })] });
        var harmonic = Solved.Harmonic(meshed);
        Assert.Equal(harmonic.Loss(2), loss, 2e-3 * loss);
        Assert.Equal(harmonic.Force(2).Y, force, 2e-3 * force);
        Assert.True(Math.Abs(run.Steps[^1].Balance.Residual) < 1e-3 * run.Steps[^1].Balance.Delivered);
    }

    /// <summary>Slowly enough, saturated steel under a rising current is at each instant in the static field of that current.</summary>
    [Fact]
    public void SteelCore_SlowRamp_FollowsTheStaticCurve()
    {
        var steel = new RegionMatter("steel") { Curve = Materials.Find("mild steel")!.Curve };
        var model = Coil with { Parts = [.. Coil.Parts, Outline.Rectangle(2, 0, -0.015, 0.015, 0.015)], Matter = Solved.Matter((2, steel)) };
        var run = Follow(new() { Field = model, Circuits = [WindingCircuit.FedByCurrent("coil", t => 60 * t)] }, new(1));
        foreach (var step in new[] { run.Steps[run.Steps.Count / 2], run.Steps[^1] })
        {
            var driven = run.Last.Model with { Windings = [.. model.Windings.Select(w => w with { Drive = new ImposedCurrent(new Complex(step.CircuitCurrents[0], 0)) })] };
            Assert.Equal(Solved.Static(run.Last.Meshed.With(driven)).FluxLinkage("coil"), step.FluxLinkages[0], 1e-7 * step.FluxLinkages[0]);
        }
        // the work of the source is the energy of the field, the rest is heat in the wire
        var books = run.Steps[^1].Balance;
        Assert.Equal(books.Delivered - books.WireHeat, books.Field, 2e-3 * books.Field);
    }

    /// <summary>Two bars that carry one current there and back: it is kept at every instant, and at last it is spread evenly and the voltage is I/G.</summary>
    [Fact]
    public void SolidBars_ImposedCurrent_KeepItAndEndAtTheirResistance()
    {
        const double sigma = 5.8e7, side = 0.01, depth = 0.5;
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long,
            Depth = depth,
            Parts = [Outline.Rectangle(1, 0, 0, side, side), Outline.Rectangle(2, 0.02, 0, 0.02 + side, side)],
            Matter = Solved.Matter((1, new RegionMatter("there", sigma)), (2, new RegionMatter("back", sigma))),
            Conductors = [new SolidConductor("there", [1], new OpenCircuit()), new SolidConductor("back", [2], new OpenCircuit())],
        };
        double Current(double t) => 100 * (1 - Math.Exp(-t / 1e-3));
        var run = TransientSolver.Follow(
            new() { Field = model, ConductorCurrents = new Dictionary<string, Func<double, double>> { ["there"] = Current, ["back"] = t => -Current(t) } },
            new(0.1),
            field =>
            {
                Assert.Equal(Current(field.Time), field.NetCurrent(1), 1e-6);
                Assert.Equal(-Current(field.Time), field.NetCurrent(2), 1e-6);
            },
            TestContext.Current.CancellationToken);
        Assert.Equal(100 * depth / (sigma * side * side), run.Steps[^1].ConductorVoltages[0], 1e-3 * 100 * depth / (sigma * side * side));
        Assert.True(Math.Abs(run.Steps[^1].Balance.Residual) < 2e-3 * run.Steps[^1].Balance.Delivered);
    }

    /// <summary>With no field a body falls freely, meets its stop at √(2h/g) and rises to the square of its restitution.</summary>
    [Fact]
    public void FreeBody_WithoutCurrent_FallsLandsAndLeapsBack()
    {
        var model = Coil with { Parts = [.. Coil.Parts, Outline.Rectangle(2, 0, 0.03, 0.03, 0.032)] };
        const double g = PhysicalConstants.StandardGravity, drop = 0.01, mass = 0.05;
        var fall = Math.Sqrt(2 * drop / g);
        var run = Follow(
            new() { Field = model, Bodies = [new MovingBody("disc", [2], mass) { SteadyForce = -mass * g, LowestDisplacement = -drop, Restitution = 0.5 }] },
            new(1.5 * fall));
        Assert.Equal(-drop, run.Motion(0, fall).Displacement, 1e-6);
        Assert.Equal(-0.75 * drop, run.Steps[^1].Displacements[0], 1e-4 * drop);
        Assert.Equal(0.75 * mass * g * drop, run.Steps[^1].Balance.Impact, 1e-4 * mass * g * drop);
        Assert.Equal(0, run.Steps[^1].Balance.Residual, 1e-5 * mass * g * drop);
    }

    /// <summary>A disc thrown up by a pulse: energy delivered is found again in field, heat and motion, with an error of second order in the step; forces come from the same
    /// stretched triangles as the energy, so nothing but time can be missing.</summary>
    [Fact]
    public void ThrownDisc_EnergyBalance_ClosesAtSecondOrder()
    {
        var model = Coil with { Parts = [.. Coil.Parts, Outline.Rectangle(2, 0, 0.012, 0.03, 0.014)], Matter = Solved.Matter((2, new RegionMatter("disc", 3.5e7))) };
        (double Residual, EnergyBalance Books) Missing(int steps)
        {
            var run = Follow(
                new()
                {
                    Field = model,
                    Circuits = [new WindingCircuit("bank", [("coil", 1)]) { Capacitance = 100e-6, CapacitorVoltage = 300, Resistance = 0.5 }],
                    Bodies = [new MovingBody("disc", [2], 0.02) { SteadyForce = -0.2, LowestDisplacement = 0 }],
                    ResolvedFrequency = 300,
                },
                new(0.004) { FirstStep = 0.004 / steps, FixedStep = true });
            return (Math.Abs(run.Steps[^1].Balance.Residual), run.Steps[^1].Balance);
        }

        var (coarse, _) = Missing(80);
        var (fine, books) = Missing(160);
        Assert.InRange(Solved.Rate(coarse, fine), 1.6, 3.2);
        Assert.True(books.Kinetic > 1e-3, $"{books}");
        Assert.True(fine < 2e-3 * books.WireHeat, $"{fine} {books}");
        Assert.Equal(0, books.Remeshing);
    }

    /// <summary>The same disc thrown far: new meshes are made, and the energy that costs is told and small.</summary>
    [Fact]
    public void DiscThrownFar_MeshedAnew_LosesLittleToIt()
    {
        var model = Coil with { Parts = [.. Coil.Parts, Outline.Rectangle(2, 0, 0.012, 0.03, 0.014)], Matter = Solved.Matter((2, new RegionMatter("disc", 3.5e7))) };
        var run = Follow(
            new()
            {
                Field = model,
                Circuits = [new WindingCircuit("bank", [("coil", 1)]) { Capacitance = 100e-6, CapacitorVoltage = 1200, Resistance = 0.5 }],
                Bodies = [new MovingBody("disc", [2], 0.02) { SteadyForce = -0.2, LowestDisplacement = 0 }],
                ResolvedFrequency = 300,
            },
            new(0.006) { RelativeError = 1e-4 });
        var books = run.Steps[^1].Balance;
        Assert.True(run.Meshes > 1);
        Assert.True(run.Steps[^1].Displacements[0] > 0.01);
        Assert.True(Math.Abs(books.Remeshing) < 2e-3 * books.SolidHeat, $"{books}");
        Assert.True(Math.Abs(books.Residual) < 2e-4 * run.Steps.Count * 72, $"{books} {run.Steps.Count}");
    }

    private static TransientSolution Follow(TransientModel model, TransientOptions options) => TransientSolver.Follow(model, options, null, TestContext.Current.CancellationToken);

    private static double Mean(TransientSolution run, double from, Func<TransientStep, double> of)
    {
        var sum = 0.0;
        for (var k = 1; k < run.Steps.Count; k++)
            if (run.Steps[k - 1].Time >= from * (1 - 1e-12)) sum += 0.5 * (run.Steps[k].Time - run.Steps[k - 1].Time) * (of(run.Steps[k]) + of(run.Steps[k - 1]));
        return sum / (run.Steps[^1].Time - from);
    }
}
