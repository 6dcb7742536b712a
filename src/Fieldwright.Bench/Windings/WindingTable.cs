using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;
using Fieldwright.Matter.Windings;

namespace Fieldwright.Bench.Windings;

/// <summary>What a person needs at the winding lathe; SI.</summary>
/// <param name="Winding">Name of the winding.</param>
/// <param name="Wire">Its wire, as people write it.</param>
/// <param name="Turns">Turns.</param>
/// <param name="TurnsPerLayer">Turns that lie in a layer.</param>
/// <param name="Layers">Layers, the last one perhaps not full.</param>
/// <param name="Fill">Metal over space.</param>
/// <param name="Length">Length of wire, m.</param>
/// <param name="Mass">Mass of metal, kg; null when its density is not known.</param>
/// <param name="ColdResistance">At the temperature of the hall, ohm.</param>
/// <param name="HotResistance">At <paramref name="Hot"/>, ohm.</param>
/// <param name="Hot">Temperature of the hot resistance, K.</param>
/// <param name="Remark">What must be known; empty when nothing.</param>
public sealed record WindingTable(
    string Winding, string Wire, double Turns, int TurnsPerLayer, int Layers, double Fill, double Length, double? Mass, double ColdResistance, double HotResistance, double Hot, string Remark)
{
    /// <summary>Table of a winding as the file has it, hot at the limit of its insulation class.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    public static WindingTable Of(Winding winding, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        return Of(winding.Name, winding.Wire.Text, WindingMeasures.Analysis(winding, apparatus, out _, out string remark), apparatus.Ambient, InsulationClasses.Limit(winding.ThermalClass), remark);
    }

    internal static WindingTable Of(string name, string wire, WindingAnalysis a, double cold, double hot, string remark) =>
        new(name, wire, a.Turns, a.TurnsPerLayer, a.Layers, a.Fill, a.Length, a.Mass, a.Resistance(cold), a.Resistance(hot), hot, remark);
}

/// <summary>A winding proposed for the space of one in the file.</summary>
/// <param name="Table">The winding.</param>
/// <param name="Current">Current at the voltage when hot, A rms.</param>
/// <param name="AmpereTurns">Ampere-turns it then makes.</param>
/// <param name="Power">Heat in it, W.</param>
/// <param name="OnTime">Time from cold to its insulation class with no cooling, s.</param>
public sealed record WindingProposal(WindingTable Table, double Current, double AmpereTurns, double Power, double OnTime)
{
    /// <summary>Chooses copper wire and turns that fill the space of a winding and make given ampere-turns on a given voltage; null when no wire does.</summary>
    /// <param name="winding">The winding whose space is to be filled.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    /// <param name="ampereTurns">Ampere-turns wanted, A rms.</param>
    /// <param name="voltage">Voltage over its resistance, V rms; on alternating current what the reactance leaves of the supply's.</param>
    /// <param name="hot">Temperature at work, K.</param>
    /// <param name="grade">Grade of enamel, 1 or 2.</param>
    /// <param name="inStock">Bare diameters at hand, m; null for all preferred sizes.</param>
    public static WindingProposal? For(Winding winding, Apparatus apparatus, double ampereTurns, double voltage, double hot, int grade = 1, IReadOnlyList<double>? inStock = null)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        var (build, length) = WindingMeasures.Space(winding);
        if (WindingChoice.In(build, length, Warming.MeanTurn(winding, apparatus), ampereTurns, voltage, hot, grade, inStock) is not { } choice)
            return null;
        var analysis = choice.Analysis;
        string wire = FormattableString.Invariant($"{analysis.Conductor.BareDiameter * 1e3:0.###} mm grade {grade}");
        double limit = InsulationClasses.Limit(winding.ThermalClass);
        double onTime = Matter.Heat.AdiabaticRise.TimeTo(analysis.Conductor.Metal, choice.Current / analysis.Conductor.Section, apparatus.Ambient, limit);
        return new(WindingTable.Of(winding.Name, wire, analysis, apparatus.Ambient, hot, ""), choice.Current, choice.AmpereTurns, choice.Power, onTime);
    }
}
