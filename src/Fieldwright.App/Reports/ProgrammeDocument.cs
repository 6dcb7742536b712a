using System.ComponentModel;

namespace Fieldwright.App.Reports;

[Description("An evening with its times, temperatures, energy and people.")]
internal sealed record ProgrammeDocument(
    [property: Description("Name and version of this form: fieldwright-programme/1.")] string Schema,
    [property: Description("What the evening is called.")] string Evening,
    [property: Description("Where it is held; may be empty.")] string Hall,
    [property: Description("When it begins.")] string Begins,
    [property: Description("When it ends.")] string Ends,
    [property: Description("Whether every step may be shown: claims hold and no go is too long.")] bool Ready,
    [property: Description("Energy drawn from all supplies, Wh.")] double WattHours,
    [property: Description("Steps in order.")] IReadOnlyList<ProgrammeStepEntry> Steps,
    [property: Description("The sentence that belongs under every list of cautions.")] string Deferral);

internal sealed record ProgrammeStepEntry(
    [property: Description("When it begins.")] string From,
    [property: Description("How long it takes, s.")] double Seconds,
    [property: Description("The apparatus; null for a pause.")] string? Apparatus,
    [property: Description("Who shows it.")] string? ShownBy,
    [property: Description("Who stands at the switch.")] string? SwitchedBy,
    [property: Description("Goes.")] int Goes,
    [property: Description("Length of a go, s.")] double On,
    [property: Description("Least pause between goes, s.")] double Pause,
    [property: Description("Energy, Wh; null when no route can tell.")] double? WattHours,
    [property: Description("Claims that hold.")] int ClaimsThatHold,
    [property: Description("Claims in all.")] int Claims,
    [property: Description("Windings: name and temperature at the end of each go, °C.")] IReadOnlyList<GoesEntry> Windings,
    [property: Description("Names of its cautions.")] IReadOnlyList<string> Cautions,
    [property: Description("The order in which it is switched on.")] IReadOnlyList<string> SafeOrder);

internal sealed record GoesEntry(
    [property: Description("The winding.")] string Winding,
    [property: Description("Temperature at the end of each go, °C.")] IReadOnlyList<double> Peaks,
    [property: Description("What its insulation bears, °C.")] double Limit,
    [property: Description("Longest go from where it starts, s.")] double Longest,
    [property: Description("Time after the last go until it may be touched, s.")] double UntilTouch);
