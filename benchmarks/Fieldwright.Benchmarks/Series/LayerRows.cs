using Fieldwright.Series.Layers;
using static Fieldwright.Benchmarks.Series.SeriesTable;

namespace Fieldwright.Benchmarks.Series;

/// <summary>Travelling fields: thrust–slip curves of 100 points with 40 harmonics, and what 40 harmonics leave out.</summary>
internal static class LayerRows
{
    public static void Run()
    {
        Head("travelling fields, 40 harmonics");
        Curve("thrust–slip curve, 100 points, flat: sheet over a row of slots, back iron (400 harmonics)", StackShape.Flat, 0.24);
        Curve("the same, tubular: tube in a row of coils (400 harmonics)", StackShape.Tubular, 0.24);
        Curve("the same, rotating: tube in a stator (400 harmonics)", StackShape.Rotating, 2 * Math.PI);
        var winding = Winding(0.24);
        var currents = winding.BalancedCurrents(10);
        var field = Field(StackShape.Flat, winding, 40);
        var answer = field.Evaluate(currents, 50, 3);
        Row("thrust, normal force, heat, voltages at one speed (power in against heat and motion)", Off(answer.Loss + answer.MechanicalPower, answer.InputPower), () => field.Evaluate(currents, 50, 3));
        Row("impedance of each phase (400 harmonics)", (field.Impedances(currents, 50, 3)[0] / Field(StackShape.Flat, winding, 400).Impedances(currents, 50, 3)[0] - 1).Magnitude, () => field.Impedances(currents, 50, 3));
        (double, double)[] points = [(0.05, 0.0035)];
        var there = Field(StackShape.Flat, winding, 400).Field(currents, 50, 3, points)[0].Potential;
        Row("field at a point (400 harmonics)", (field.Field(currents, 50, 3, points)[0].Potential / there - 1).Magnitude, () => field.Field(currents, 50, 3, points));
        Row("heat in a layer by its volume (against the flow of power)", Off(field.LossByVolume(1, currents, 50, 3), answer.LossByLayer[1]), () => field.LossByVolume(1, currents, 50, 3));
        // Full pitch, q = 1, three phases of thin wires: ν P_ν = 2N/period for odd ν (closed form).
        var plain = Fieldwright.Series.Layers.Winding.Slotted(3, 1, 2, 0.02, 0, 1);
        Row("spectrum of a winding, one harmonic (closed form)", Off(plain.Spectrum(0, 1).Magnitude, 4 / 0.12), () => winding.Spectrum(0, 7));
        Row("Carter's factor (table, six digits)", Off(LinearMotorFactors.Carter(0.01, 0.02, 0.005), 1.162361), () => LinearMotorFactors.Carter(0.01, 0.02, 0.005));
        Row("transverse-edge factor (table, six digits)", Off(LinearMotorFactors.TransverseEdge(0.05, 0.0125, 0.05), 0.635410), () => LinearMotorFactors.TransverseEdge(0.05, 0.0125, 0.05));
        Row("sheet of finite width with its own field (the factor, field feeble)", Off(SheetOfFiniteWidth.ThrustRatio(1e-6, 0.05, 0.0125, 0.05), LinearMotorFactors.TransverseEdge(0.05, 0.0125, 0.05)), () => SheetOfFiniteWidth.ThrustRatio(0.7, 0.05, 0.0125, 0.05));
        Row("goodness and thrust of a thin sheet (by hand, three digits)", Off(LinearMotorFactors.Goodness(50, 0.05, 35e6, 0.002, 0.01), 0.700), () => LinearMotorFactors.ThrustOverGreatest(0.5, LinearMotorFactors.Goodness(50, 0.05, 35e6, 0.002, 0.01)));
    }

    private static void Curve(string what, StackShape shape, double period)
    {
        var winding = Winding(period);
        var currents = winding.BalancedCurrents(10);
        var field = Field(shape, winding, 40);
        double speed = field.SynchronousSpeed(2, 50);
        double reached = field.Evaluate(currents, 50, 0.5 * speed).Thrust, limit = Field(shape, winding, 400).Evaluate(currents, 50, 0.5 * speed).Thrust;
        Row(what, Off(reached, limit), () =>
        {
            double sum = 0;
            for (int i = 0; i < 100; i++)
                sum += field.Evaluate(currents, 50, speed * i / 100).Thrust;
            return sum;
        });
    }

    private static Winding Winding(double period) => Fieldwright.Series.Layers.Winding.Slotted(3, 2, 4, period / 24, 0.7 * period / 24, 40, coilPitch: 5);

    private static TravellingField Field(StackShape shape, Winding winding, int harmonics)
    {
        Layer first = shape == StackShape.Flat ? new(double.PositiveInfinity) : new(0.02, 0, 100);
        return new TravellingField(shape, [first, new(0.003, 3.5e7, 1, true), new(0.004), new(0.010), new(0.012, 0, 800), new(double.PositiveInfinity)], [new(winding, 3, shape != StackShape.Tubular)], 0.06, harmonics);
    }
}
