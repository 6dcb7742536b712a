using System.Numerics;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;
using static Fieldwright.Benchmarks.Series.SeriesTable;

namespace Fieldwright.Benchmarks.Series;

/// <summary>Discs, rings and plates on the axis: the coils and the disc of TEAM 28.</summary>
internal static class RingRows
{
    public static void Run()
    {
        Head("discs, rings, plates");
        ThickCoil[] coils = [new(0.027, 0.055, -0.052, 0, 960), new(0.080, 0.095, -0.052, 0, -576)];
        Complex[] currents = [20, 20];
        CoupledRings Disc(double tolerance) => new([new RingBody(0, 0.065, 0.0038, 0.0068, 3.4e7)], coils, 50, tolerance);
        CoupledRings rings = Disc(1e-4), fine = Disc(1e-7);
        double lift = fine.At().With(currents).Lift(0).Value;
        Row("disc over two coils, set up and solved, to 1e-4 (to 1e-7)", Off(rings.At().With(currents).Lift(0).Value, lift), () => Disc(1e-4).At().With(currents).Lift(0));
        Row("the same at another height, coils known", Off(rings.At(0.002).With(currents).Lift(0).Value, fine.At(0.002).With(currents).Lift(0).Value), () => rings.At(0.002).With(currents).Lift(0));
        Row("its stiffness", Off(rings.Stiffness(0, currents).Value, fine.Stiffness(0, currents).Value), () => rings.Stiffness(0, currents));
        RingMotion motion = new(Disc(1e-3), 0.107, -0.107 * 9.80665, 0, 0.03);
        RingCircuit[] fed = [new([(0, 1), (1, 1)], t => 20 * Math.Sin(2 * Math.PI * 50 * t))];
        var let = motion.Release(fed, 0, 0.04, 2e-4);
        Row("let go, followed for 40 ms (half the steps)", let.Lift.Error / Math.Abs(let.Lift.Value), () => motion.Release(fed, 0, 0.04, 2e-4));
        ThickCoil coil = new(0.02, 0.04, 0.005, 0.025, 400);
        var plate = new InfinitePlate(35e6, double.PositiveInfinity);
        Row("coil over a plate, impedance (the printed value, six digits)", Off(plate.Reflect([coil], 50).Impedance(0, 0).Value.Imaginary, -0.387520), () => plate.Reflect([coil], 50));
    }
}
