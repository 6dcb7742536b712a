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

    /// <summary>Supplies that feed the phases of polyphase windings, each phase by its own.</summary>
    public static IReadOnlyList<Supply> Supplies(IReadOnlyList<Supply> supplies, IReadOnlyList<Winding> windings, Named file, List<Mistake> mistakes)
    {
        var joined = new List<Supply>();
        foreach (var supply in supplies)
        {
            var feeds = new List<string>();
            foreach (string name in supply.Feeds)
            {
                var phases = windings.Where(w => w.Space is PhaseSpace p && Apparatus.Same(p.Of.Name, name)).ToList();
                feeds.AddRange(phases.Count > 0 ? phases.Select(p => p.Name) : [name]);
                int count = phases.Count > 0 ? phases.Count : 1;
                bool known = phases.Count > 0 || windings.Any(w => Apparatus.Same(w.Name, name));
                if (known && count != (supply.ThreePhase && count == 3 ? 3 : supply.Phases) && file.Entries.FirstOrDefault(e => Apparatus.Same(e.Name.Text, supply.Name)).Value is Section section)
                    mistakes.Add(new Mistake(section.At("feeds").Line, section.At("feeds").Column,
                        $"'{name}' has {Words.Count(count)} {(count == 1 ? "phase" : "phases")} and '{supply.Name}' has {Words.Count(supply.Phases)}", "as many phases in the winding as in its supply"));
            }

            joined.Add(supply with { Feeds = feeds });
        }

        return joined;
    }

    /// <summary>What a channel of liquid feeds.</summary>
    public static Channel Channel(Section s) => new(s.Number("pipe length", 0), s.Number("pipe bore", 0.01), s.Number("fittings", 0), s.Number("lift", 0), s.Number("nozzle bore"));

    private static double Degrees(double radians) => radians * 180 / Math.PI;
}
