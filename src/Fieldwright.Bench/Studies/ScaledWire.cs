using System.Globalization;
using System.Text.RegularExpressions;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Studies;

/// <summary>Wire for a larger or smaller winding of the same turns: the preferred size, or several strands of it, that comes nearest to the section wanted and still fits.</summary>
internal static partial class ScaledWire
{
    private const int MostStrands = 64;

    /// <summary>The wire as the file states it, and its section over the section wanted.</summary>
    /// <param name="wire">The wire of the original.</param>
    /// <param name="factor">How many times larger every length becomes.</param>
    public static (string Text, double Share) Of(WireChoice wire, double factor)
    {
        double wanted = wire.BareDiameter * factor;
        string rest = Rest().Match(wire.Text).Groups["rest"].Value;
        string litz = wire.Twist > 1 ? "litz " : "";
        bool enamelled = wire.OverallDiameter > wire.BareDiameter;
        if (!enamelled)
            return (litz + Write(wire.Strands, wanted, rest), 1);
        int grade = rest.StartsWith("grade 2", StringComparison.Ordinal) ? 2 : 1;
        double room = wire.Strands * Math.Pow(wire.OverallDiameter * factor, 2), section = wire.Strands * wanted * wanted;
        (int Strands, double Diameter, double Share) best = (wire.Strands, WireTable.Sizes[0].Diameter, 0);
        for (int strands = 1; strands <= MostStrands * wire.Strands; strands++)
            foreach (var size in WireTable.Sizes)
            {
                double share = strands * size.Diameter * size.Diameter / section;
                double overall = grade == 1 ? size.OverallGrade1 : size.OverallGrade2;
                // A little more metal for one strand more is not worth it.
                if (strands * overall * overall <= room * (1 + 1e-6) && share > best.Share + (strands > best.Strands ? 0.04 : 0))
                    best = (strands, size.Diameter, share);
            }

        return ((best.Strands > 2 ? litz : "") + Write(best.Strands, best.Diameter, rest), best.Share == 0 ? WireTable.Sizes[0].Diameter * WireTable.Sizes[0].Diameter / section : best.Share);
    }

    private static string Write(int strands, double diameter, string rest) =>
        (strands > 1 ? strands.ToString(CultureInfo.InvariantCulture) + " x " : "") + (diameter * 1e3).ToString("G6", CultureInfo.InvariantCulture) + " mm" + (rest.Length > 0 ? " " + rest : "");

    [GeneratedRegex(@"^(litz\s+)?(\d+\s*[x×]\s*)?[\d.eE+-]+\s*[^\d\s]+\s*(?<rest>.*)$", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Rest();
}
