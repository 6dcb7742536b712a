using System.ComponentModel;
using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.App.Reports;

[Description("A circuit redrawn in another domain, or the board of resistance wires of a flux; one of the two is null.")]
internal sealed record AnalogueDocument(
    [property: Description("Name and version of this form: fieldwright-analogue/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("The state; null for the apparatus as it stands.")] string? State,
    [property: Description("The circuit redrawn.")] LikenessEntry? Circuit,
    [property: Description("The wire board.")] WireBoardEntry? Board);

[Description("A circuit and what stands for it.")]
internal sealed record LikenessEntry(
    [property: Description("The domain it was in.")] string Of,
    [property: Description("The domain it is redrawn in.")] string As,
    [property: Description("Potential of the redrawn circuit for each unit of the original's, SI over SI.")] double PotentialScale,
    [property: Description("Flow of the redrawn circuit for each unit of the original's, SI over SI.")] double FlowScale,
    [property: Description("The elements.")] IReadOnlyList<CounterpartEntry> Elements,
    [property: Description("Where the likeness breaks.")] IReadOnlyList<BreakEntry> Breaks,
    [property: Description("What must be known about the original.")] IReadOnlyList<string> Remarks);

[Description("An element and its counterpart.")]
internal sealed record CounterpartEntry(
    [property: Description("Its name.")] string Name,
    [property: Description("First node.")] string From,
    [property: Description("Second node.")] string To,
    [property: Description("What it is.")] string Is,
    [property: Description("Drop along it.")] double Drop,
    [property: Description("Flow through it.")] double Flow,
    [property: Description("Unit of the drop.")] string DropUnit,
    [property: Description("Unit of the flow.")] string FlowUnit,
    [property: Description("What stands for it.")] string Becomes,
    [property: Description("Drop along that.")] double RedrawnDrop,
    [property: Description("Flow through that.")] double RedrawnFlow,
    [property: Description("Unit of that drop.")] string RedrawnDropUnit,
    [property: Description("Unit of that flow.")] string RedrawnFlowUnit);

[Description("A place where the likeness breaks.")]
internal sealed record BreakEntry(
    [property: Description("In a few words.")] string What,
    [property: Description("Why.")] string Why,
    [property: Description("What the numbers are of.")] string Of,
    [property: Description("The number at which it breaks.")] double At,
    [property: Description("Where it stands here.")] double Now,
    [property: Description("Unit of both.")] string Unit,
    [property: Description("Whether the likeness still holds here.")] bool Holds);

[Description("Resistance wires in parallel, one for each tube of equal flux.")]
internal sealed record WireBoardEntry(
    [property: Description("Ampere-turns that the voltage between the rails stands for, A.")] double AmpereTurns,
    [property: Description("Voltage between the rails, V.")] double Voltage,
    [property: Description("Diameter of the constantan wire, mm.")] double WireDiameter,
    [property: Description("Distance of the rails, m.")] double Span,
    [property: Description("How much of each wire the copper bar covers, m.")] double BarWidth,
    [property: Description("Flux of a tube, µWb.")] double FluxOfTube,
    [property: Description("Flux for each ampere, µWb/A.")] double FluxPerAmpere,
    [property: Description("Current of the whole board, mA.")] double Current,
    [property: Description("Flux it stands for, µWb.")] double Flux,
    [property: Description("Mean flux of a turn by the field, µWb.")] double FluxOfField,
    [property: Description("Reluctance that the wires in parallel stand for, MA/Wb.")] double Reluctance,
    [property: Description("The same by way of the inductances of each route.")] IReadOnlyList<BoardCheckEntry> Checks,
    [property: Description("The cut list.")] IReadOnlyList<BoardWireEntry> Wires,
    [property: Description("Reading of the meter with the bar over none, one, two … of the wires, mA.")] IReadOnlyList<double> Readings);

[Description("A wire.")]
internal sealed record BoardWireEntry(
    [property: Description("Its number.")] int Number,
    [property: Description("Ampere-turns that its line of flux goes round, A.")] double AmpereTurns,
    [property: Description("Length to cut, m; null when it is left off.")] double? Length,
    [property: Description("Resistance, ohm; null when it is left off.")] double? Resistance,
    [property: Description("Current, mA.")] double Current);

[Description("What a route says.")]
internal sealed record BoardCheckEntry(
    [property: Description("The route.")] string Route,
    [property: Description("Reluctance, MA/Wb.")] double Reluctance,
    [property: Description("Its error bar, MA/Wb.")] double Bar);

/// <summary>Analogues for machines.</summary>
internal static class AnalogueJson
{
    private const string Form = "fieldwright-analogue/1";

    /// <summary>A circuit redrawn.</summary>
    public static string Of(Apparatus apparatus, string? state, Likeness likeness)
    {
        var (f, t) = (likeness.From, likeness.To);
        static double In(string unit, double si) => Shown.In(unit).Of(si);
        return JsonReport.Write(new AnalogueDocument(Form, apparatus.Name, state, new LikenessEntry(f.Word, t.Word, likeness.PotentialScale, likeness.FlowScale,
            [.. likeness.Counterparts.Select(c => new CounterpartEntry(
                c.Name, likeness.Original.Element(c.Name)!.From, likeness.Original.Element(c.Name)!.To, c.Is, In(f.PotentialUnit, c.Drop), In(f.FlowUnit, c.Flow), f.PotentialUnit, f.FlowUnit,
                c.Becomes, In(t.PotentialUnit, c.RedrawnDrop), In(t.FlowUnit, c.RedrawnFlow), t.PotentialUnit, t.FlowUnit))],
            [.. likeness.Breaks.Select(b => new BreakEntry(b.What, b.Why, b.Of, b.At, b.Now, b.Unit, b.Holds))], likeness.Remarks), null));
    }

    /// <summary>A wire board.</summary>
    public static string Of(Apparatus apparatus, string? state, WireBoard b) => JsonReport.Write(new AnalogueDocument(Form, apparatus.Name, state, null, new WireBoardEntry(
        b.AmpereTurns, b.Options.Voltage, 1e3 * b.Options.WireDiameter, b.Options.Span, b.Options.BarWidth, 1e6 * b.FluxOfTube, 1e6 * b.Scale, 1e3 * b.Current, 1e6 * b.Flux, 1e6 * b.FluxOfField, 1e-6 * b.Reluctance,
        [.. b.Checks.Select(c => new BoardCheckEntry(Judge.Word(c.Route), 1e-6 * c.Reluctance, 1e-6 * c.Bar))],
        [.. b.Wires.Select(w => new BoardWireEntry(w.Number, w.AmpereTurns, w.Length, JsonReport.Finite(w.Resistance), 1e3 * w.Current))],
        [.. b.Readings.Select(r => 1e3 * r)])));
}
