using Fieldwright.Numerics;

namespace Fieldwright.Matter.Windings;

/// <summary>A winding chosen for its space, ampere-turns and supply.</summary>
/// <param name="Analysis">The winding.</param>
/// <param name="Current">Current at the supply's voltage when hot, A.</param>
/// <param name="AmpereTurns">Ampere-turns it then makes.</param>
/// <param name="Power">Heat in it, W.</param>
/// <param name="TimeConstant">Inductance over resistance, s; null when no inductance was given.</param>
public sealed record WindingChoice(WindingAnalysis Analysis, double Current, double AmpereTurns, double Power, double? TimeConstant)
{
    /// <summary>Chooses wire and turns so that a steady voltage through the winding's own hot resistance makes the ampere-turns wanted.</summary>
    /// <remarks>
    /// The ampere-turns of a coil on a given voltage hang on the wire alone: NI = V s/(ρ l_m), with s the section and l_m the mean turn; the turns then set the current. The
    /// thinnest wire of the list that reaches the ampere-turns is taken, and as many turns as the space holds, which makes the least heat. On alternating voltage the
    /// reactance takes its share: pass the voltage left for the resistance.
    /// </remarks>
    /// <param name="innerRadius">Inner radius of the space, m.</param>
    /// <param name="outerRadius">Outer radius, m.</param>
    /// <param name="length">Length, m.</param>
    /// <param name="ampereTurns">Ampere-turns wanted, A rms.</param>
    /// <param name="voltage">Voltage over the resistance, V rms.</param>
    /// <param name="hot">Temperature of the winding at work, K.</param>
    /// <param name="grade">Grade of enamel.</param>
    /// <param name="inStock">Bare diameters to choose from, m; null for the preferred sizes.</param>
    /// <param name="inductancePerSquareTurn">Inductance over turns squared, H, for the time constant.</param>
    /// <returns>The choice, or null when no wire of the list reaches the ampere-turns in that space.</returns>
    /// <source key="IEC60317"/>
    public static WindingChoice? Round(
        double innerRadius, double outerRadius, double length, double ampereTurns, double voltage, double hot, int grade = 1, IReadOnlyList<double>? inStock = null,
        double? inductancePerSquareTurn = null)
    {
        Guard.NotNegative(innerRadius);
        return In(Guard.Positive(outerRadius - innerRadius, nameof(outerRadius)), length, Math.PI * (innerRadius + outerRadius), ampereTurns, voltage, hot, grade, inStock, inductancePerSquareTurn);
    }

    /// <summary>The same for a coil in any space of even section.</summary>
    /// <param name="build">Thickness of the space, m.</param>
    /// <param name="length">Length of the space, m.</param>
    /// <param name="meanTurn">Mean length of a turn, m.</param>
    /// <param name="ampereTurns">Ampere-turns wanted, A rms.</param>
    /// <param name="voltage">Voltage over the resistance, V rms.</param>
    /// <param name="hot">Temperature of the winding at work, K.</param>
    /// <param name="grade">Grade of enamel.</param>
    /// <param name="inStock">Bare diameters to choose from, m; null for the preferred sizes.</param>
    /// <param name="inductancePerSquareTurn">Inductance over turns squared, H, for the time constant.</param>
    /// <returns>The choice, or null when no wire of the list reaches the ampere-turns in that space.</returns>
    public static WindingChoice? In(
        double build, double length, double meanTurn, double ampereTurns, double voltage, double hot, int grade = 1, IReadOnlyList<double>? inStock = null, double? inductancePerSquareTurn = null)
    {
        Guard.Positive(ampereTurns);
        Guard.Positive(voltage);
        foreach (double diameter in (inStock ?? [.. WireTable.Sizes.Select(w => w.Diameter)]).Order())
        {
            var conductor = Conductor.EnamelledCopper(diameter, grade);
            double turns = WindingAnalysis.RoomIn(conductor, build, length);
            if (turns == 0)
                return null;
            var analysis = WindingAnalysis.In(conductor, turns, build, length, meanTurn);
            double resistance = analysis.Resistance(hot), current = voltage / resistance;
            if (turns * current >= ampereTurns)
                return new(analysis, current, turns * current, voltage * current, inductancePerSquareTurn * turns * turns / resistance);
        }

        return null;
    }
}
