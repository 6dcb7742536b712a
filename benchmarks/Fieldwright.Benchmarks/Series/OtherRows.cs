using System.Numerics;
using Fieldwright.Series.Currents;
using Fieldwright.Series.Cylinders;
using Fieldwright.Series.Foil;
using Fieldwright.Series.Gases;
using Fieldwright.Series.Liquids;
using Fieldwright.Series.Magnets;
using static Fieldwright.Benchmarks.Series.SeriesTable;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Benchmarks.Series;

/// <summary>Cylinders in turning and elliptic fields.</summary>
internal static class CylinderRows
{
    public static void Run()
    {
        Head("cylinders in turning fields");
        var solid = CylinderBody.Solid(0.01, 35e6);
        // a/δ = 1: C/a² = −0.07449435 − 0.22441027j (table, eight digits).
        double frequency = 1 / (Math.PI * Matter.PhysicalConstants.MagneticConstant * 35e6 * 1e-4);
        Row("solid cylinder, reflection (table, eight digits)", Off(Math.Abs(solid.Reflection(frequency).Imaginary), 0.22441027), () => solid.Reflection(frequency));
        var turning = new FieldEllipse(0.01, new Complex(0, -0.01));
        var (torque, loss) = solid.PerMetre(turning, frequency);
        Row("solid cylinder, torque and heat (heat = torque × field's speed)", Off(Math.Abs(torque) * 2 * Math.PI * frequency, loss), () => solid.PerMetre(turning, frequency));
        var tube = CylinderBody.Tube(0.01, 0.001, 35e6);
        var (spin, heat) = tube.PerMetre(turning, frequency);
        Row("tube, torque and heat (heat = torque × field's speed)", Off(Math.Abs(spin) * 2 * Math.PI * frequency, heat), () => tube.PerMetre(turning, frequency));
        Row("ellipse of a field, sense and area (by hand)", Off(Math.Abs(turning.SignedArea), Math.PI * 1e-4), () => turning.Sense());
    }
}

/// <summary>Magnets on magnets, on iron, in tubes.</summary>
internal static class MagnetRows
{
    public static void Run()
    {
        Head("magnets");
        CylinderMagnet low = new(0.01, 0.01, 1.2), high = new(0.01, 0.01, 1.2, new Vector(0, 0, 0.015)), aside = new(0.008, 0.006, 1.2, new Vector(0.005, 0, 0.012), new Vector(0.2, 0, 1));
        double closed = CylinderMagnet.Load(low, high).Force.Z;
        Row("cylinders on one axis, closed form (table, eight digits)", Off(Math.Abs(closed), 36.701721), () => CylinderMagnet.Load(low, high));
        Row("the same by sheets, to 1e-7 (closed form)", Off(Loads.Between(low, high).Force.Z, closed), () => Loads.Between(low, high));
        var load = Loads.Between(low, aside, 1e-6);
        Row("cylinders askew, to 1e-6 (tighter tolerance)", (load.Force - Loads.Between(low, aside, 1e-10).Force).Length / load.Force.Length, () => Loads.Between(low, aside, 1e-6));
        var onIron = new CylinderMagnet(0.01, 0.01, 1.2, new Vector(0, 0, 0.0075));
        Row("cylinder on an ideal iron plane (table, eight digits)", Off(onIron.LoadFromIronPlane().Force.Length, 36.701721), () => onIron.LoadFromIronPlane());
        BarMagnet block = new(new Vector(0.02, 0.012, 0.006), new Vector(0, 0, 1.2)), above = new(new Vector(0.015, 0.01, 0.006), new Vector(0, 0, 1), new Vector(0.004, 0.002, 0.012));
        BarMagnet other = new(new Vector(0.015, 0.01, 0.006), new Vector(0.5, 0, 1), new Vector(0.004, 0.002, 0.012), new Vector(1, 0.3, 0));
        var parallel = BarMagnet.ParallelForce(block, above);
        Row("blocks side by side, closed form (by poles, summed)", (parallel - BarMagnet.Load(block, above).Force).Length / parallel.Length, () => BarMagnet.ParallelForce(block, above));
        load = Loads.Between(block, other, 1e-6);
        Row("blocks askew by current sheets, to 1e-6 (by poles)", (load.Force - BarMagnet.Load(block, other).Force).Length / load.Force.Length, () => Loads.Between(block, other, 1e-6));
        Row("blocks askew by poles (tighter sheets)", (Loads.Between(block, other, 1e-9).Force - BarMagnet.Load(block, other).Force).Length / load.Force.Length, () => BarMagnet.Load(block, other));
        var far = new Vector(0.4, 0.1, 0.6);
        Row("field of a cylinder (dipole, 70 radii off)", (low.FluxDensity(far) - Dipole.FluxDensity(low.Moment, far)).Length / low.FluxDensity(far).Length, () => low.FluxDensity(far));
        Row("field of a block (dipole, 40 lengths off)", (block.FluxDensity(far) - Dipole.FluxDensity(block.Moment, far)).Length / block.FluxDensity(far).Length, () => block.FluxDensity(far));
        double behind = 3 * Matter.PhysicalConstants.MagneticConstant / (2 * Math.PI) * 1e0 / Math.Pow(0.05, 4);
        Row("dipole on dipole (3μ₀m²/2πd⁴)", Off(Dipole.Force(new Vector(0, 0, 1), new Vector(0, 0, 1), new Vector(0, 0, 0.05)).Length, behind), () => Dipole.Force(new Vector(0, 0, 1), new Vector(0, 0, 1), new Vector(0, 0, 0.05)));
        Row("drag of a dipole in a thin tube (printed, six digits)", Off(TubeDrag.OfDipole(1, 0.01, 0.001, 58e6), 0.402495), () => TubeDrag.OfDipole(1, 0.01, 0.001, 58e6));
        var small = new CylinderMagnet(0.0005, 0.0005, 1.2);
        Row("drag of a magnet in a tube (small magnet, thin wall: the dipole, to (1/20)²)", Off(TubeDrag.OfMagnet(small, 0.00995, 0.01005, 58e6), TubeDrag.OfDipole(small.Moment.Length, 0.01, 1e-4, 58e6)), () => TubeDrag.OfMagnet(small, 0.00995, 0.01005, 58e6));
    }
}

/// <summary>Foil.</summary>
internal static class FoilRows
{
    public static void Run()
    {
        Head("foil");
        var strip = new FoilStrip(0.3, 0.01, 15e-6, 0.04, 2700, 70e9);
        double fine = FoilLoop.Settle(strip, 20, null, 96).Opening;
        Row("shape at 20 A, 48 links (96 links)", Off(FoilLoop.Settle(strip, 20, null, 48).Opening, fine), () => FoilLoop.Settle(strip, 20, null, 48));
        // Narrow: the sheet of width w is a wire of radius w·e^(−3/2)·… : L = μ₀R(ln(8R/w) − ½), so tension I²/4π·μ₀(ln(8R/w) + ½).
        double narrow = 400 * Matter.PhysicalConstants.MagneticConstant / (4 * Math.PI) * (Math.Log(8 * 0.1 / 1e-4) + 0.5);
        Row("tension of a hoop (narrow strip, formula)", Off(FoilLoop.HoopTension(0.1, 1e-4, 20), narrow), () => FoilLoop.HoopTension(0.1, 0.01, 20));
    }
}

/// <summary>Liquids.</summary>
internal static class LiquidRows
{
    public static void Run()
    {
        Head("liquids");
        Row("Hartmann's mean speed (table)", Off(HartmannFlow.Mean(5), 0.16001816), () => HartmannFlow.Mean(5));
        Row("Hartmann's profile (table)", Off(HartmannFlow.Profile(5, 0), 0.19732286), () => HartmannFlow.Profile(5, 0.3));
        Row("laminar friction of a square duct (table, seven digits)", Off(DuctFriction.LaminarConstant(1), 4 * 14.22708), () => DuctFriction.LaminarConstant(1));
        double f = DuctFriction.Pipe(1e5, 1e-3).Factor;
        Row("turbulent friction (Colebrook's formula put in)", Off(-2 * Math.Log10(1e-3 / 3.7 + 2.51 / (1e5 * Math.Sqrt(f))), 1 / Math.Sqrt(f)), () => DuctFriction.Pipe(1e5, 1e-3));
        var spread = new ElectrodeSpread(0.04, 0.016);
        Row("spread of current beyond electrodes, conductance (limit of long ones)", Off(spread.Conductance, 2.5 + 2 * Math.Log(2) / Math.PI), () => new ElectrodeSpread(0.04, 0.016));
        Row("mean of a field along a channel (an even field)", Off(spread.MeanOf(_ => 0.7).Mean, 0.7), () => spread.MeanOf(x => 0.7));
        var pump = new ConductionPump(0.016, 0.006, 0.04, 3.3e6, 0.4, 1e-4, true);
        var (pressure, voltage, loss) = pump.At(60, 0.3);
        Row("conduction pump (power in against heat and flow)", Off(loss + pressure * 0.3 * 0.016 * 0.006, 60 * voltage), () => pump.At(60, 0.3));
        Row("working point of a pump (root by hand)", Off(LiquidPump.WorkingSpeed(x => 1000 - 500 * x, x => 100 + 200 * x * x, 2), (Math.Sqrt(970000) - 500) / 400), () => LiquidPump.WorkingSpeed(x => 1000 - 500 * x, x => 100 + 200 * x * x, 2));
    }
}

/// <summary>Gases of hard discs.</summary>
internal static class GasRows
{
    public static void Run()
    {
        Head("hard discs");
        Row("pressure over that of an ideal gas, packing 0.2 (table, six digits)", Off(HardDiscGas.Compressibility(0.2).Value, 1.57037), () => HardDiscGas.Compressibility(0.2));
        Row("self-diffusion (a theory good to some per cent, nothing exact to set beside it)", double.NaN, () => HardDiscGas.SelfDiffusion(0.1, 0.001, 1e-5, 1e-6));
    }
}
