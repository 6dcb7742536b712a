using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Duty;

/// <summary>How the losses of an apparatus change as it warms: found at the temperatures it will have, and a straight line from there to the hall's.</summary>
/// <remarks>Currents that follow from a voltage or a load fall as the wire warms, its impedances otherwise held; currents that are given stay. Heat in parts is found anew at their conductivity there, and goes with the
/// square of the currents. A line between two ends is wrong in between by the second order of the rise.</remarks>
internal static class WarmLosses
{
    // Changes of heat below this share are not worth a field of their own; they go into the bar.
    private const double Small = 0.005;

    /// <summary>The input with its coefficients, and the relative bar that changes not looked into bring to its currents.</summary>
    /// <param name="asked">The question.</param>
    /// <param name="point">The cold operating point.</param>
    /// <param name="cold">The cold input.</param>
    /// <param name="temperatures">Temperatures towards which the line is drawn, K, by body; a body that is not named stays cold.</param>
    public static (HeatInput Input, double Bar) Of(Asked asked, OperatingPoint point, HeatInput cold, IReadOnlyDictionary<string, double> temperatures)
    {
        var apparatus = asked.Apparatus;
        double RiseOf(string body) => temperatures.TryGetValue(body, out double there) ? there - apparatus.Ambient : 0;
        var coefficients = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase);
        double drive = 1, bar = 0;
        if (point.Impedance is { } z && !SupplyNetwork.IsImposed(apparatus))
        {
            var warm = (Complex[,])z.Clone();
            for (int i = 0; i < apparatus.Windings.Count; i++)
                warm[i, i] += Warming.Resistance(apparatus.Windings[i], apparatus) * Alpha(apparatus.Windings[i], apparatus) * RiseOf(apparatus.Windings[i].Name);
            var currents = SupplyNetwork.Currents(apparatus, warm);
            double before = 0, after = 0;
            foreach (var winding in apparatus.Windings.Where(w => cold.Currents.GetValueOrDefault(w.Name) > 0))
            {
                double share = Math.Pow(currents[winding.Name].Magnitude / point.Currents[winding.Name].Magnitude, 2), rise = RiseOf(winding.Name);
                before += Math.Pow(winding.Turns * point.Currents[winding.Name].Magnitude, 2);
                after += Math.Pow(winding.Turns * currents[winding.Name].Magnitude, 2);
                if (Math.Abs(rise) > 0.1)
                    coefficients[winding.Name] = (share * (1 + Alpha(winding, apparatus) * rise) - 1) / rise;
            }

            if (before > 0)
                drive = after / before;
        }

        foreach (string name in cold.Parts.Keys)
        {
            var part = apparatus.Part(name)!;
            double rise = RiseOf(name), heat = drive;
            double most = Math.Abs(part.Material.TemperatureCoefficientAt(apparatus.Ambient) * rise);
            if (most > Small && asked.Session is not null && cold.Parts[name] > 0)
                heat *= asked.Session.At(WarmLiftMeasures.Warm(asked.Circumstances, part, apparatus.Ambient + rise), Wanted.Heat, name).Heat[name].Value / cold.Parts[name];
            else
                bar = Math.Max(bar, 0.5 * most);
            if (Math.Abs(rise) > 0.1)
                coefficients[name] = (heat - 1) / rise;
        }

        return (cold with { Coefficients = coefficients }, bar);
    }

    private static double Alpha(Winding winding, Apparatus apparatus) => winding.Wire.Metal.TemperatureCoefficientAt(apparatus.Ambient);
}
