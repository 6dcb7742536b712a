using Fieldwright.Bench.File;

namespace Fieldwright.Bench.Programmes;

/// <summary>An evening: apparatus in order, who does what, how long.</summary>
/// <param name="Name">What the evening is called.</param>
/// <param name="Hall">Where it is held; may be empty.</param>
/// <param name="Begins">When it begins, seconds after midnight.</param>
/// <param name="People">Names with what each is there for, in file order.</param>
/// <param name="Steps">What happens, in order.</param>
public sealed record Programme(string Name, string Hall, double Begins, IReadOnlyList<(string Name, string Part)> People, IReadOnlyList<ProgrammeStep> Steps);

/// <summary>One step of an evening: an apparatus shown, or a pause.</summary>
/// <param name="Apparatus">Path of the apparatus file, relative to the programme's; null for a pause.</param>
/// <param name="State">The state it is shown in; null as the file stands.</param>
/// <param name="ShownBy">Who shows it; null when nobody is named.</param>
/// <param name="SwitchedBy">Who stands at the switch; null when nobody is named.</param>
/// <param name="SetUp">Time to set it up before the audience, s.</param>
/// <param name="Talk">Time it is spoken about, goes included, s; of a pause its length.</param>
/// <param name="On">How long it is on at a go, s.</param>
/// <param name="Goes">How many goes.</param>
/// <param name="Note">What else is to be said; may be empty.</param>
public sealed record ProgrammeStep(string? Apparatus, string? State, string? ShownBy, string? SwitchedBy, double SetUp, double Talk, double On, int Goes, string Note);

/// <summary>Reads programme files.</summary>
public static class ProgrammeFile
{
    private static readonly QuantityKind Time = new("a time", "s", "30 s", Bench.File.Range.NotNegative(86400));
    private static readonly TextKind Person = new("the name of one of the people");

    private static readonly MappingKind Step = new("step", "One step of the evening.",
    [
        new("note", new TextKind("a sentence"), "What else is to be said."),
    ],
        new Alternative("apparatus", "apparatus", null, "An apparatus is shown.",
            new Key("apparatus", new TextKind("the path of an apparatus file"), "The apparatus file.", Required: true),
            new Key("in", new TextKind("the name of a state"), "The state it is shown in."),
            new Key("shown by", Person, "Who shows it."),
            new Key("switched by", Person, "Who stands at the switch."),
            new Key("set up", Time, "Time to set it up.", Default: "0 s"),
            new Key("talk", Time, "Time it is spoken about, its goes included.", Default: "0 s"),
            new Key("on", Time, "How long it is on at a go.", Required: true),
            new Key("goes", new NumberKind("a number of goes", "2", Bench.File.Range.Positive(1000)), "How many goes.", Default: "1")),
        new Alternative("pause", "pause", null, "A pause.", new Key("pause", Time, "Its length.", Required: true)));

    private static readonly MappingKind Whole = new("programme", "An evening.",
    [
        new("evening", new TextKind("the name of the evening"), "What it is called.", Required: true),
        new("hall", new TextKind("the name of the hall"), "Where it is held."),
        new("begins", new TextKind("a time of day such as 19:30", @"^([01]?\d|2[0-3]):[0-5]\d$"), "When it begins.", Required: true),
        new("people", new NamedKind("people, each with what they are there for", new TextKind("what they are there for"), true), "Who takes part."),
        new("steps", new ListKind("a list of steps", Step, 1, 100), "What happens, in order.", Required: true),
    ]);

    /// <summary>Reads a programme; every mistake is gathered.</summary>
    /// <param name="text">The text of the file.</param>
    /// <param name="mistakes">Takes what is wrong.</param>
    /// <returns>The programme; null when anything is wrong.</returns>
    public static Programme? Read(string text, ICollection<Mistake> mistakes)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(mistakes);
        var found = new List<Mistake>();
        var section = YamlTree.Read(text, found) is { } root ? new Walk(found).Read(Whole, root) as Section : null;
        var programme = section is null || found.Count > 0 ? null : Built(section, found);
        foreach (var mistake in found.OrderBy(m => m.Line).ThenBy(m => m.Column))
            mistakes.Add(mistake);
        return found.Count == 0 ? programme : null;
    }

    private static Programme Built(Section file, List<Mistake> mistakes)
    {
        var people = file.Entries("people").Entries.Select(p => (p.Name.Text, ((Phrase)p.Value!).Text)).ToList();
        string? Who(Section step, string key)
        {
            if (step.Phrase(key) is not { } person)
                return null;
            string? known = people.Select(p => p.Item1).FirstOrDefault(n => Model.Apparatus.Same(n, person.Text));
            if (known is null)
                mistakes.Add(new Mistake(person.Node.Line, person.Node.Column, $"'{Words.Shorten(person.Text)}' is none of the people", people.Count == 0 ? "people: a name with what they are there for" : Words.Or(people.Select(p => p.Item1)),
                    Matter.NearestWord.To(person.Text, people.Select(p => p.Item1))));
            return known;
        }

        var steps = new List<ProgrammeStep>();
        foreach (var step in file.List("steps").Cast<Section>())
        {
            bool pause = step.Has("pause");
            double goes = step.Number("goes", 1);
            if (goes != Math.Floor(goes))
                mistakes.Add(new Mistake(step.At("goes").Line, step.At("goes").Column, "goes come in whole numbers", "a number of goes such as 2"));
            steps.Add(new ProgrammeStep(step.Text("apparatus"), step.Text("in"), Who(step, "shown by"), Who(step, "switched by"), step.Number("set up", 0),
                pause ? step.Number("pause", 0) : step.Number("talk", 0), step.Number("on", 0), pause ? 0 : (int)goes, step.Text("note") ?? ""));
        }

        string[] clock = file.Text("begins")!.Split(':');
        double begins = 3600 * double.Parse(clock[0], System.Globalization.CultureInfo.InvariantCulture) + 60 * double.Parse(clock[1], System.Globalization.CultureInfo.InvariantCulture);
        return new Programme(file.Text("evening")!, file.Text("hall") ?? "", begins, people, steps);
    }
}
