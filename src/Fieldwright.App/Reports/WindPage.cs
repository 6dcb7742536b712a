using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Windings;

namespace Fieldwright.App.Reports;

/// <summary>A winding as a page.</summary>
internal static class WindPage
{
    /// <summary>Sets the page.</summary>
    public static Page Of(Apparatus apparatus, WindingTable? table, WindingProposal? proposal, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(apparatus));
        page.Gap();
        if (table is null)
        {
            page.Prose("", 0, new Run("No wire of the list makes those ampere-turns on that voltage in this space: raise the voltage, enlarge the space, or ask for less.", Tone.Unsure));
            return page;
        }

        void Line(string name, double value, string unit, int digits = 4) => page.Line("  ", name.PadRight(26), new Run(Shown.In(unit).Rounded(value, digits), Tone.Strong));
        page.Line(table.Winding + ", wire " + table.Wire);
        Line("turns", table.Turns, "", 6);
        Line("layers", table.Layers, "");
        Line("turns in a layer", table.TurnsPerLayer, "");
        Line("fill, metal over space", table.Fill, "%", 3);
        Line("length of wire", table.Length, "m");
        if (table.Mass is { } mass)
            Line("mass of metal", mass, "g");
        Line("resistance in the hall", table.ColdResistance, "ohm");
        Line("resistance at " + Shown.Digits(Shown.In("°C").Of(table.Hot), 3) + " °C", table.HotResistance, "ohm");
        if (proposal is not null)
        {
            Line("current, hot", proposal.Current, "A");
            Line("ampere-turns, hot", proposal.AmpereTurns, "A");
            Line("heat, hot", proposal.Power, "W");
            Line("on-time, no cooling", proposal.OnTime, "s", 3);
        }

        if (table.Remark.Length > 0)
            page.Prose("", 0, new Run(table.Remark, Tone.Quiet));
        page.Gap();
        page.Prose("", 0, new Run("Nominal wire, layers wound square, terminals not counted; real wire may lie 2 % off (common practice, no source).", Tone.Quiet));
        return page;
    }
}
