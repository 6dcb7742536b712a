using Fieldwright.Particles;
using Xunit;

namespace Fieldwright.Tests.Particles;

/// <summary>The gas as a whole against what statistical mechanics says of it.</summary>
public class GasTests
{
    private const double Radius = 0.5, Mass = 2, Thermal = 1;

    private static (HardDiscs Discs, double Side) Gas(int count, double packing, int seed)
    {
        double side = Math.Sqrt(count * Math.PI * Radius * Radius / packing);
        var discs = new HardDiscs(new BoxDescription { Width = side, Height = side, Sides = Sides.Endless }, Placement.Lattice(count, Radius, Mass, side, side, Thermal, seed, Sides.Endless));
        discs.RunMeetings(20L * count);
        return (discs, side);
    }

    // P A / N k T = 1 + virial / (2 N k T t).
    private static double Compressibility(HardDiscs discs, int count, int meetings, out double deviation)
    {
        const int Blocks = 20;
        double[] found = new double[Blocks];
        for (int b = 0; b < Blocks; b++)
        {
            double virial = discs.Virial, time = discs.Now;
            discs.RunMeetings(meetings / Blocks);
            found[b] = 1 + (discs.Virial - virial) / (2 * count * Thermal * (discs.Now - time));
        }

        double mean = found.Average();
        deviation = Math.Sqrt(found.Sum(z => (z - mean) * (z - mean)) / (Blocks - 1) / Blocks);
        return mean;
    }

    /// <remarks>Ten virial coefficients, exact to the digits shown up to a packing of 0.3.</remarks>
    /// <source key="ClisbyMcCoy2006"/>
    [Theory]
    [InlineData(0.05, 1.108388)]
    [InlineData(0.1, 1.236144)]
    [InlineData(0.2, 1.570365)]
    [InlineData(0.3, 2.063163)]
    public void Pressure_OfTheGas_IsThatOfTheVirialSeries(double packing, double expected)
    {
        const int Count = 400;
        var (discs, _) = Gas(Count, packing, 11);
        double z = Compressibility(discs, Count, 200_000, out double deviation);
        // A box without walls that holds its energy differs from an endless one by a few parts in N.
        Assert.Equal(expected, z, 4 * deviation + 2 * (expected - 1) / Count);
        Assert.True(deviation < 0.01 * expected);
    }

    [Fact]
    public void Pressure_OnHalvingTheArea_RisesByMoreThanTwo()
    {
        const int Count = 400;
        double before = Compressibility(Gas(Count, 0.1, 5).Discs, Count, 200_000, out double s1), after = Compressibility(Gas(Count, 0.2, 5).Discs, Count, 200_000, out double s2);
        double factor = 2 * after / before;
        // 2 × 1.570365 / 1.236144.
        Assert.Equal(2.5408, factor, 4 * factor * Math.Sqrt(Math.Pow(s1 / before, 2) + Math.Pow(s2 / after, 2)) + 0.002);
        Assert.True(factor > 2.4);
    }

    [Fact]
    public void Speeds_OfTheGas_AreThoseOfMaxwellAndBoltzmann()
    {
        const int Count = 400;
        var (discs, _) = Gas(Count, 0.2, 3);
        var energies = new List<double>();
        var speeds = new List<double>();
        for (int i = 0; i < 100; i++)
        {
            discs.RunMeetings(2 * Count);
            foreach (var d in discs.States)
            {
                double v2 = d.Vx * d.Vx + d.Vy * d.Vy;
                energies.Add(0.5 * Mass * v2);
                speeds.Add(Math.Sqrt(v2));
            }
        }

        double unit = Math.Sqrt(Thermal / Mass), mean = speeds.Average();
        // 40 000 speeds, some of them kin: half a per cent is three standard deviations.
        Assert.Equal(1.253314, mean / unit, 0.007);
        Assert.Equal(0.886227, mean / Math.Sqrt(speeds.Average(v => v * v)), 0.005);
        Assert.Equal(0.135335, speeds.Count(v => v > 2 * unit) / (double)speeds.Count, 0.008);
        // Energies are spread like e^(−E/kT): variance (kT)².
        Assert.Equal(1, energies.Average(e => (e - Thermal) * (e - Thermal)), 0.05);
    }

    /// <remarks>A disc among heavier neighbours forgets its direction over some meetings. Einstein: the mean square path grows as 4 D t. D is set
    /// beside the kinetic theory of a dense gas after Enskog, which shares nothing with the run.</remarks>
    /// <source key="Gass1971"/>
    [Fact]
    public void Path_OfADisc_GrowsAsDiffusionSays()
    {
        const int Count = 200;
        const double Packing = 0.1;
        var (discs, side) = Gas(Count, Packing, 9);
        // Enskog in two dimensions: D = (1/(2 n d g)) √(kT/(π m)), g = (1 − 7η/16)/(1 − η)² at contact (Henderson).
        double density = Packing / (Math.PI * Radius * Radius), contact = (1 - 7 * Packing / 16) / Math.Pow(1 - Packing, 2);
        double enskog = Math.Sqrt(Thermal / (Math.PI * Mass)) / (2 * density * 2 * Radius * contact);
        double step = 0.25, sum = 0;
        const int Steps = 4000, Lag = 160;
        double[][] x = new double[Steps][], y = new double[Steps][];
        var last = discs.States;
        double[] px = new double[Count], py = new double[Count];
        for (int s = 0; s < Steps; s++)
        {
            discs.Run(discs.Now + step);
            var now = discs.States;
            for (int i = 0; i < Count; i++)
            {
                double dx = now[i].X - last[i].X, dy = now[i].Y - last[i].Y;
                px[i] += dx - side * Math.Round(dx / side);
                py[i] += dy - side * Math.Round(dy / side);
            }

            (x[s], y[s], last) = ([.. px], [.. py], now);
        }

        int count = 0;
        for (int s = 0; s + 2 * Lag < Steps; s += Lag / 2)
            for (int i = 0; i < Count; i++, count++)
            {
                double Square(int from, int to) => Math.Pow(x[to][i] - x[from][i], 2) + Math.Pow(y[to][i] - y[from][i], 2);
                // The slope between two lags, so that the first, ballistic stretch does not count.
                sum += (Square(s, s + 2 * Lag) - Square(s, s + Lag)) / (4 * Lag * step);
            }

        double einstein = sum / count;
        // Simulations lie within some per cent of Enskog's value at this packing.
        Assert.Equal(1, einstein / enskog, 0.12);
    }

    [Fact]
    public void Lid_OfTheGas_CarriesTheWeightThatThePressureCarries()
    {
        // No gravity on the discs; a load presses the lid. Discs and lid together: P (W − d)(h − d) ≈ N kT Z.
        const int Count = 100;
        double width = 30, load = 6;
        var box = new BoxDescription { Width = width, Height = 400, Lid = new Lid(40, load, 30) };
        var discs = new HardDiscs(box, Placement.Lattice(Count, Radius, Mass, width, 30, Thermal, 4));
        discs.RunMeetings(50_000);
        double area = discs.LidHeightIntegral, start = discs.Now, impulse = discs.LidImpulse, energy = 0;
        const int Samples = 400;
        for (int i = 0; i < Samples; i++)
        {
            discs.RunMeetings(1000);
            energy += discs.EnergyOfMotion / Count / Samples;
        }

        double height = (discs.LidHeightIntegral - area) / (discs.Now - start);
        // In the mean the discs' push is the load.
        Assert.Equal(load, (discs.LidImpulse - impulse) / (discs.Now - start), 0.02 * load);
        // The room the centres have; the layer at the walls is the rest of the five per cent.
        double packing = Count * Math.PI * Radius * Radius / ((width - Radius) * (height - Radius));
        double z = (1 + packing * packing / 8) / Math.Pow(1 - packing, 2);
        Assert.Equal(1, load / width * (width - Radius) * (height - Radius) / (Count * energy * z), 0.05);
    }
}
