using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Builds polyphase windings from their sections, splits them into phases, and joins them with polyphase supplies.</summary>
internal static class PolyphaseOfFile
{
    /// <summary>The space of a polyphase winding as a whole, its first phase standing for all; null when the section describes another kind.</summary>
    public static WindingSpace? Space(string name, Section s)
    {
        double N(string key) => s.Number(key)!.Value;
        int Whole(string key, int fallback) => (int)Math.Round(s.Number(key, fallback));
        IReadOnlyList<int> reversed = [.. s.List("reversed coils").OfType<Amount>().Select(a => (int)Math.Round(a.Value))];
        int phases = Whole("phases", 3);
        switch (s.Alternative!.Marker)
        {
            case "slots":
                return Belts(Whole("slots", 1), new FlatRow(s.Number("x", 0), s.Number("y", 0), N("slot pitch"), N("slot width"), N("slot height")));
            case "sectors":
                return Belts(Whole("sectors", 1), new RingRow(s.Number("x", 0), s.Number("y", 0), N("inner radius"), N("outer radius"), Degrees(s.Number("first at", 0)), Degrees(N("sector angle"))));
            case "coils":
                int each = Whole("coils a pole and phase", 1);
                return new PhaseSpace(new Polyphase(name, phases, Whole("coils", 1), each, phases * each, false, reversed,
                    new TubeRow(s.Number("from z", 0), N("coil pitch"), N("coil length"), N("inner radius"), N("build")), null), 0);
            default:
                return null;
        }

        PhaseSpace Belts(int slots, Row row)
        {
            int each = Whole("slots a pole and phase", 1);
            return new PhaseSpace(new Polyphase(name, phases, slots, each, Whole("coil span", phases * each), s.Text("layers") != "single", reversed, row, s.Number("end length")), 0);
        }
    }

    /// <summary>A winding's phases, each a winding; the winding itself when it has one.</summary>
    public static IEnumerable<Winding> PhasesOf(Winding winding) => winding.Space is PhaseSpace { Of: var whole }
        ? Enumerable.Range(0, whole.Phases).Select(p => winding with { Name = whole.NameOf(p), Space = new PhaseSpace(whole, p) })
        : [winding];

    /// <summary>Supplies that feed the phases of polyphase windings, each phase by its own, and how many phases each has.</summary>
    public static IReadOnlyList<Supply> Supplies(IReadOnlyList<Supply> supplies, IReadOnlyList<Winding> windings, Named file, List<Mistake> mistakes)
    {
        var joined = new List<Supply>();
        foreach (var supply in supplies)
        {
            var fed = supply.Feeds.Select(name => (Name: name, Of: windings.Where(w => w.Space is PhaseSpace p && Apparatus.Same(p.Of.Name, name)).Select(w => w.Name).ToList())).ToList();
            bool inStar = supply.Connection == Connection.Star, polyphase = inStar || supply.Connection == Connection.Delta;
            var rows = fed.Where(f => f.Of.Count > 1).ToList();
            int phases = !polyphase ? 1 : rows.Count > 0 ? rows[0].Of.Count : 3;
            var feeds = fed.SelectMany(f => f.Of.Count > 0 ? f.Of : [f.Name]).ToList();
            if (file.Entries.FirstOrDefault(e => Apparatus.Same(e.Name.Text, supply.Name)).Value is Section section)
            {
                void Add(string key, string finding, string expectation) => mistakes.Add(new Mistake(section.At(key).Line, section.At(key).Column, finding, expectation));
                if (!polyphase && rows.Count > 0)
                    Add("feeds", $"'{rows[0].Name}' has {Words.Count(rows[0].Of.Count)} phases and '{supply.Name}' has one", "connection: star, or delta");
                else if (rows.FirstOrDefault(r => r.Of.Count != phases) is { Name: { } odd } other)
                    Add("feeds", $"'{rows[0].Name}' has {Words.Count(phases)} phases and '{odd}' has {Words.Count(other.Of.Count)}", "windings of as many phases under one supply");
                else if (polyphase && feeds.Count % phases != 0)
                    Add("feeds", $"{Words.Count(feeds.Count)} windings in {section.Text("connection")}", phases == 3 ? "three windings, or a multiple of three" : $"a multiple of {Words.Count(phases)}");
                else if (polyphase && !inStar && phases != 3)
                    Add("connection", $"{Words.Count(phases)} phases in delta", "connection: star");
            }

            joined.Add(supply with { Feeds = feeds, Phases = phases });
        }

        return joined;
    }

    /// <summary>What a channel of liquid feeds.</summary>
    public static Channel Channel(Section s) => new(s.Number("pipe length", 0), s.Number("pipe bore", 0.01), s.Number("fittings", 0), s.Number("lift", 0), s.Number("nozzle bore"));

    private static double Degrees(double radians) => radians * 180 / Math.PI;
}
