using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series.Layers;
using Xunit;

namespace Fieldwright.Tests.Series.Layers;

public class TravellingFieldTests
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;
    private static readonly Layer Open = new(double.PositiveInfinity);
    private static readonly Layer Iron = new(double.PositiveInfinity, 0, 1000);

    // Three phases, two slots a pole and phase, four poles of 60 mm, coils short by one slot.
    private static readonly Winding ThreePhase = Winding.Slotted(3, 2, 4, 0.010, 0.006, 20, coilPitch: 5);

    public static TheoryData<StackShape, bool, double> Machines => new()
    {
        { StackShape.Flat, false, 0 }, { StackShape.Flat, true, 3 }, { StackShape.Flat, false, 9 },
        { StackShape.Tubular, false, 0 }, { StackShape.Tubular, true, 3 }, { StackShape.Rotating, false, 50 }, { StackShape.Rotating, true, 200 },
    };

    [Theory]
    [MemberData(nameof(Machines))]
    public void Power_AnyMachine_BalancesAndHeatAgreesWithItsVolume(StackShape shape, bool fills, double speed)
    {
        var (field, currents) = Machine(shape, fills);
        var answer = field.Evaluate(currents, 50, speed);
        // Windings hand over what becomes heat and motion: voltage from the flux linked, heat and thrust from the faces.
        var scale = Math.Abs(answer.InputPower) + Math.Abs(answer.MechanicalPower) + answer.Loss;
        Assert.Equal(answer.InputPower, answer.Loss + answer.MechanicalPower, 1e-10 * scale);
        foreach (var conductor in new[] { 1, 4 })
            SeriesReference.Close(field.LossByVolume(conductor, currents, 50, speed), answer.LossByLayer[conductor], 1e-9);
    }

    [Theory]
    [InlineData(StackShape.Flat)]
    [InlineData(StackShape.Tubular)]
    [InlineData(StackShape.Rotating)]
    public void Layers_CutInTwo_ChangeNothing(StackShape shape)
    {
        var period = shape == StackShape.Rotating ? 2 * Math.PI : 0.24;
        var winding = TwoPhase(period);
        Layer[] whole = [First(shape, new Layer(0.02, 5e6, 30, true)), new(0.012, 3.5e7, 2, true), new(0.003), Open];
        Layer[] cut = [First(shape, new Layer(0.02, 5e6, 30, true)), new(0.001, 3.5e7, 2, true), new(0.011, 3.5e7, 2, true), new(0.001), new(0.002), Open];
        var a = new TravellingField(shape, whole, [new(winding, 3, false)]).Evaluate(winding.BalancedCurrents(100), 60, 2);
        var b = new TravellingField(shape, cut, [new(winding, 5, false)]).Evaluate(winding.BalancedCurrents(100), 60, 2);
        SeriesReference.Close(a.Thrust, b.Thrust, 1e-11);
        SeriesReference.Close(a.LossByLayer[1], b.LossByLayer[1] + b.LossByLayer[2], 1e-11);
        SeriesReference.Close(a.Voltages[0].Imaginary, b.Voltages[0].Imaginary, 1e-11);
    }

    [Fact]
    public void TubularStack_OfGreatRadius_IsFlat()
    {
        // Radius 300 m: departures of the order of thickness and wavelength over radius.
        const double radius = 300;
        var winding = TwoPhase(0.24);
        Layer sheet = new(0.004, 3.5e7, 1, true), gap = new(0.003);
        var flat = new TravellingField(StackShape.Flat, [Iron, sheet, gap, Iron], [new(winding, 3, false)], 2 * Math.PI * radius, 1).Evaluate(winding.BalancedCurrents(100), 50, 2);
        var tube = new TravellingField(StackShape.Tubular, [new(radius, 0, 1000), sheet, gap, Iron], [new(winding, 3, false)], 1, 1).Evaluate(winding.BalancedCurrents(100), 50, 2);
        SeriesReference.Close(flat.Thrust, tube.Thrust, 1e-4);
        SeriesReference.Close(flat.Voltages[0].Imaginary, tube.Voltages[0].Imaginary, 1e-4);
    }

    [Fact]
    public void TubularStack_InAir_HasTheInductanceOfASheetCoil()
    {
        // Two sheet coils wound against one another and far apart: twice Nagaoka's inductance. Left out: images at 0.6 m, (a/0.6 m)³ = 4e-5, and harmonics above κa = 157, 1/(κa)² = 4e-5.
        const double a = 0.02, length = 0.04;
        var winding = new Winding([new(0, length, 0, 50), new(0.6, length, 0, -50)], 1.2);
        var answer = new TravellingField(StackShape.Tubular, [new(0.01), new(a - 0.01), new(0.005), Open], [new(winding, 2, false)], 1, 1500).Evaluate([3], 50, 0);
        SeriesReference.Close(2 * Fieldwright.Series.Coils.Solenoid.SelfInductance(a, length, 50), answer.Voltages[0].Imaginary / (3 * 2 * Math.PI * 50), 2e-4);
    }

    [Fact]
    public void RotatingStack_OfManyPoles_IsFlat()
    {
        // 120 pole pairs on a radius of 4.6 m: thickness over radius 1.5e-3.
        const double pitch = 0.24, radius = 120 * pitch / (2 * Math.PI);
        var flatWinding = TwoPhase(pitch);
        Layer sheet = new(0.004, 3.5e7, 1, true), gap = new(0.003);
        var flat = new TravellingField(StackShape.Flat, [Iron, sheet, gap, Iron], [new(flatWinding, 3, false)], 1, 1).Evaluate(flatWinding.BalancedCurrents(100), 50, 2);
        var one = TwoPhase(2 * Math.PI / 120);
        var round = new Winding([.. Enumerable.Range(0, 120).SelectMany(w => one.Sides.Select(s => s with { Position = s.Position + w * one.Period }))], 2 * Math.PI);
        var wheel = new TravellingField(StackShape.Rotating, [new(radius, 0, 1000), sheet, gap, Iron], [new(round, 3, false)], 1, 120).Evaluate(round.BalancedCurrents(100), 50, 2 / radius);
        SeriesReference.Close(flat.Thrust * 120 * radius, wheel.Thrust, 5e-3);
    }

    [Theory]
    [InlineData(StackShape.Flat)]
    [InlineData(StackShape.Tubular)]
    [InlineData(StackShape.Rotating)]
    public void FilledLayer_AgreesWithManySheets(StackShape shape)
    {
        var period = shape == StackShape.Rotating ? 2 * Math.PI : 0.12;
        var winding = TwoPhase(period);
        Layer sheet = new(0.004, 3.5e7, 1, true);
        const int parts = 60;
        var filled = new TravellingField(shape, [First(shape, new(0.02, 0, 50)), sheet, new(0.002), new(0.012), Open], [new(winding, 3, true)], 1, 5);
        List<Layer> layers = [First(shape, new(0.02, 0, 50)), sheet, new(0.002)];
        var places = new List<PlacedWinding>();
        layers.Add(new(0.012 / parts / 2));
        for (var i = 0; i < parts; i++)
        {
            layers.Add(new Layer(0.012 / parts * (i < parts - 1 ? 1 : 0.5)));
            var radius = shape == StackShape.Flat ? 1 : 0.026 + 0.012 * (i + 0.5) / parts;
            // An even current density has ampere-turns in proportion to the radius on a rotating stack.
            var share = shape == StackShape.Rotating ? radius / 0.032 / parts : 1.0 / parts;
            places.Add(new(new Winding([.. winding.Sides.Select(s => s with { Turns = s.Turns * share })], period), layers.Count - 1, false));
        }
        layers.Add(Open);
        var many = new TravellingField(shape, layers, places, 1, 5);
        var a = filled.Evaluate(winding.BalancedCurrents(100), 50, 1);
        var b = many.Evaluate(winding.BalancedCurrents(100), 50, 1);
        SeriesReference.Close(b.Thrust, a.Thrust, 1e-4); // midpoint rule: error falls as 1/parts²
        SeriesReference.Close(b.Voltages[0].Imaginary, a.Voltages[0].Imaginary, shape == StackShape.Tubular ? 1e-2 : 1e-3); // six sheets stand for the tubular layer
    }

    [Fact]
    public void Sheet_BetweenIron_FollowsGoodness()
    {
        // Thin sheet, small gap, iron of great permeability: 2sG/(1+s²G²), corrections of order (κg)².
        const double pitch = 0.5, gap = 0.004, thickness = 0.0005, sigma = 3.5e7;
        var winding = TwoPhase(2 * pitch);
        Layer steel = new(double.PositiveInfinity, 0, 1e7);
        var field = new TravellingField(StackShape.Flat, [steel, new(gap - thickness), new(thickness, sigma, 1, true), steel], [new(winding, 3, false)], 1, 1);
        var g = LinearMotorFactors.Goodness(50, pitch, sigma, thickness, gap);
        double Thrust(double slip) => field.Evaluate(winding.BalancedCurrents(100), 50, (1 - slip) * 2 * pitch * 50).Thrust;
        var greatest = Thrust(1 / g);
        foreach (var slip in new[] { 1, 0.5, 0.1, 0.02, -0.3 })
            Assert.Equal(LinearMotorFactors.ThrustOverGreatest(slip, g), Thrust(slip) / greatest, 2e-3);
    }

    /// <source key="BluhmFisherNilsson1964"/>
    [Fact]
    public void Speed_OfAPublishedPump_IsItsWavelengthTimesTheFrequency()
    {
        // Wavelength 21.2 cm at 60 Hz: 12.7 m/s.
        var field = new TravellingField(StackShape.Flat, [Iron, new(0.004, 3.5e7, 1, true), new(0.003), Iron], [new(TwoPhase(0.212), 3, false)]);
        Assert.Equal(12.7, field.SynchronousSpeed(1, 60), 0.05);
        Assert.Equal(-12.7 / 5, field.SynchronousSpeed(-5, 60), 0.01);
    }

    [Fact]
    public void Speed_Synchronous_FundamentalAloneMakesNoThrust()
    {
        var winding = TwoPhase(0.24);
        var field = new TravellingField(StackShape.Flat, [Iron, new(0.004, 3.5e7, 1, true), new(0.003), Iron], [new(winding, 3, false)], 1, 1);
        var still = field.Evaluate(winding.BalancedCurrents(100), 50, 0);
        var there = field.Evaluate(winding.BalancedCurrents(100), 50, field.SynchronousSpeed(1, 50));
        Assert.True(still.Thrust > 0);
        Assert.Equal(0, there.Thrust, 1e-12 * still.Thrust);
        Assert.Equal(0, there.Loss, 1e-12 * still.Loss);
        Assert.True(field.Evaluate(winding.BalancedCurrents(100), 50, 1.2 * field.SynchronousSpeed(1, 50)).Thrust < 0);
        Assert.True(field.Evaluate(winding.BalancedCurrents(100, backwards: true), 50, 0).Thrust < 0);
    }

    [Theory]
    [InlineData(1e18, 1, -1)] // κδ = 2e-6
    [InlineData(0, 1e9, 1)]
    public void NormalForce_OnPerfectConductorOrIron_IsThatOfTheImage(double sigma, double permeability, int sign)
    {
        // ¼μ₀|K|²e^(−2κg) an area, pushing a conductor away and drawing iron: the field at the face is twice the sheet's own.
        var winding = TwoPhase(0.2);
        const double gap = 0.01;
        var field = new TravellingField(StackShape.Flat, [new(double.PositiveInfinity, sigma, permeability, true), new(gap), Open], [new(winding, 2, false)], 0.3, 1);
        var k = winding.BalancedCurrents(100).Select((i, p) => i * winding.Spectrum(p, 1)).Aggregate(Complex.Add);
        var kappa = 2 * Math.PI / 0.2;
        var expected = sign * 0.25 * Mu0 * k.Magnitude * k.Magnitude * Math.Exp(-2 * kappa * gap) * 0.2 * 0.3;
        SeriesReference.Close(expected, field.Evaluate(winding.BalancedCurrents(100), 50, 0).NormalForce!.Value, 1e-4);
    }

    [Fact]
    public void FinitePrimary_LongerWindow_GivesTheSame()
    {
        TravellingFieldAnswer With(double period, int harmonics)
        {
            var winding = Winding.Slotted(3, 1, 3, 0.02, 0.012, 30, doubleLayer: true, period: period);
            return new TravellingField(StackShape.Flat, [Open, new(0.004, 3.5e7, 1, true), new(0.006), Open], [new(winding, 3, false)], 0.1, harmonics).Evaluate(winding.BalancedCurrents(50), 50, 2);
        }
        var near = With(0.9, 120);
        var far = With(1.8, 240);
        SeriesReference.Close(far.Thrust, near.Thrust, 2e-3);
        SeriesReference.Close(far.Voltages[1].Imaginary, near.Voltages[1].Imaginary, 2e-3);
    }

    [Theory]
    [InlineData(StackShape.Flat)]
    [InlineData(StackShape.Tubular)]
    [InlineData(StackShape.Rotating)]
    public void Field_Anywhere_IsTheCurlOfItsPotential(StackShape shape)
    {
        var (field, currents) = Machine(shape, true);
        var offset = shape == StackShape.Flat ? 0 : 0.02;
        foreach (var height in new[] { -0.003, 0.002, 0.0055, 0.012, 0.05 })
        {
            const double h = 1e-6;
            var y = offset + height;
            var p = field.Field(currents, 50, 3, [(0.013, y), (0.013 + h, y), (0.013 - h, y), (0.013, y + h), (0.013, y - h)]);
            var dx = (p[1].Potential - p[2].Potential) / (2 * h);
            var dy = (p[3].Potential - p[4].Potential) / (2 * h);
            var (along, outwards) = shape switch
            {
                StackShape.Flat => (dy, -dx),
                StackShape.Tubular => (dy + p[0].Potential / y, -dx),
                _ => (-dy, dx / y),
            };
            var scale = p[0].Along.Magnitude + p[0].Outwards.Magnitude;
            Assert.True(Complex.Abs(along - p[0].Along) < 1e-5 * scale, FormattableString.Invariant($"{height}: {along} {p[0].Along}"));
            Assert.True(Complex.Abs(outwards - p[0].Outwards) < 1e-5 * scale, FormattableString.Invariant($"{height}: {outwards} {p[0].Outwards}"));
        }
    }

    [Fact]
    public void ManySkinDepths_AndHighHarmonics_StayFinite()
    {
        var winding = TwoPhase(0.05);
        var field = new TravellingField(StackShape.Flat, [Iron, new(0.5, 6e7, 500, true), new(0.2), Open], [new(winding, 3, false)], 1, 400);
        var answer = field.Evaluate(winding.BalancedCurrents(100), 1e4, 0);
        Assert.True(double.IsFinite(answer.Thrust) && double.IsFinite(answer.Loss));
        var wheel = TwoPhase(2 * Math.PI);
        var rotor = new TravellingField(StackShape.Rotating, [new(0.02, 6e7, 500, true), new(0.03, 1e6, 1, true), new(0.001), Open], [new(wheel, 3, false)], 1, 300);
        // A speed at which one harmonic stands still to the rotor but for rounding.
        Assert.True(double.IsFinite(rotor.Evaluate(wheel.BalancedCurrents(100), 50, 2 * Math.PI * 50 / 37 * (1 + 1e-15)).Thrust));
    }

    [Fact]
    public void Winding_WithNetCurrent_IsRefused()
    {
        var one = new Winding([new CoilSide(0, 0.01, 0, 5)], 0.2);
        Assert.Throws<ArgumentException>(() => new TravellingField(StackShape.Flat, [Open, Open], [new(one, 1, false)]).Evaluate([1], 50, 0));
    }

    internal static (TravellingField Field, Complex[] Currents) Machine(StackShape shape, bool fills)
    {
        var winding = shape == StackShape.Rotating ? Winding.Slotted(3, 2, 4, 2 * Math.PI / 24, 0.15, 20, coilPitch: 5) : ThreePhase;
        Layer back = First(shape, new(0.02, 0, 200));
        var field = new TravellingField(shape, [back, new(0.005, 3.5e7, 1, true), new(0.003), new(0.010), new(0.01, 1e6, 100), Open], [new(winding, 3, fills)], 0.15, 30);
        return (field, winding.BalancedCurrents(40));
    }

    private static Layer First(StackShape shape, Layer core) => shape == StackShape.Flat ? core with { Thickness = double.PositiveInfinity } : core;

    private static Winding TwoPhase(double period) => new(
        [new(0, period / 8, 0, 10), new(period / 4, period / 8, 1, 10), new(period / 2, period / 8, 0, -10), new(3 * period / 4, period / 8, 1, -10)], period);
}
