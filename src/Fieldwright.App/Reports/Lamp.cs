using Fieldwright.Bench.Claims;

namespace Fieldwright.App.Reports;

/// <summary>The cue lamp of a claim: a shape, a word and a tone, so that colour is never alone.</summary>
/// <param name="Shape">● filled, ✕ crossed, ○ hollow, ◌ dotted.</param>
/// <param name="Word">The outcome in a word or two.</param>
/// <param name="Tone">How it is coloured.</param>
internal readonly record struct Lamp(string Shape, string Word, Tone Tone)
{
    /// <summary>The lamp of an outcome.</summary>
    public static Lamp Of(Outcome outcome) => outcome switch
    {
        Outcome.Holds => new Lamp("●", "holds", Tone.Good),
        Outcome.Fails => new Lamp("✕", "fails", Tone.Bad),
        Outcome.TooClose => new Lamp("○", "too close", Tone.Unsure),
        _ => new Lamp("◌", "no answer", Tone.Unsure),
    };
}
