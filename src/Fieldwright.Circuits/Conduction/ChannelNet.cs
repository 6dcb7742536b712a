using System.Globalization;
using Fieldwright.Circuits.Elements;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Conduction;

/// <summary>A long channel of conducting liquid between two electrodes that face one another, as a net of resistances: current spreads beyond the ends of the electrodes.</summary>
/// <remarks>
/// The channel runs on without limit and its other walls insulate; the current does not vary over the height. A quarter stands for the whole by symmetry, cut into cells that grow away from the ends of the electrodes.
/// At those ends the current density is without limit, so what a net of a given fineness misses falls with the size of its cells: two nets are taken and their change is carried on.
/// </remarks>
public static class ChannelNet
{
    // Cells across half the channel in the rougher net, and how far beyond the electrodes it reaches, in widths: less than e^(−8) of the voltage is left there.
    private const int Across = 4;
    private const double Reach = 2.6, Growth = 1.3;

    /// <summary>Conductance between the electrodes over conductivity and height, a pure number.</summary>
    /// <param name="length">Length of the electrodes along the channel, m.</param>
    /// <param name="width">Distance of the electrodes across it, m.</param>
    /// <returns>Conductance × resistivity ÷ height, and the whole change from the rougher net to the finer one, twice what is carried on.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive.</exception>
    public static (double Value, double Bar) Conductance(double length, double width)
    {
        double rough = Net(Guard.Positive(length) / Guard.Positive(width), Across), fine = Net(length / width, 2 * Across);
        return (2 * fine - rough, Math.Abs(fine - rough));
    }

    // In widths. The middle of long electrodes is left out of the net: there the current crosses straight.
    private static double Net(double length, int cells)
    {
        double half = 0.5 * Math.Min(length, 2 * Reach), size = 0.5 / cells;
        var stations = Stations(half, size);
        int electrode = stations.FindIndex(x => x >= half - 1e-12);
        var net = new Network().Add(new PotentialSource("half the voltage", "electrode", Network.Reference, 0.5));
        string Node(int i, int j) => j == 0 ? Network.Reference : j == cells && i <= electrode ? "electrode" : string.Create(CultureInfo.InvariantCulture, $"{i} {j}");
        for (int i = 0; i < stations.Count; i++)
        {
            double before = i > 0 ? stations[i] - stations[i - 1] : 0, after = i + 1 < stations.Count ? stations[i + 1] - stations[i] : 0;
            for (int j = 0; j < cells; j++)
                Add("across", i, j, Node(i, j), Node(i, j + 1), size / (0.5 * (before + after)));
            for (int j = 1; j <= cells && i + 1 < stations.Count; j++)
                if (Node(i, j) != Node(i + 1, j))
                    Add("along", i, j, Node(i, j), Node(i + 1, j), after / (j == cells ? 0.5 * size : size));
        }

        // A quarter: half the current at half the voltage.
        return -2 * net.Steady().Flow("half the voltage") + Math.Max(0, length - 2 * half);

        void Add(string way, int i, int j, string from, string to, double resistance) =>
            net.Add(new Resistor(string.Create(CultureInfo.InvariantCulture, $"{way} {i} {j}"), from, to, resistance));
    }

    // Places along the channel from its middle: cells of one size on either side of the electrode's end, growing away from it.
    private static List<double> Stations(double half, double size)
    {
        List<double> inwards = [0];
        for (double step = size; inwards[^1] < half - 1e-12; step *= Growth)
            inwards.Add(inwards[^1] + step);
        double fit = half / inwards[^1];
        List<double> stations = [.. inwards.Select(x => half - fit * x).Reverse()];
        stations[0] = 0;
        for (double step = size; stations[^1] < half + Reach; step *= Growth)
            stations.Add(stations[^1] + step);
        return stations;
    }
}
