using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Duty;

/// <summary>A question about warmth with all it needs: the heat put in, and the warmth that answers.</summary>
/// <param name="Cooled">The warmth with its doubts.</param>
/// <param name="Uncooled">The same heat with no cooling at all, each body by itself.</param>
/// <param name="Hotter">Bodies whose heat may reach the one asked about, itself among them: none can get hotter than the hottest of them without cooling. Null for itself alone.</param>
/// <param name="IsField">Whether heat is followed through the section.</param>
/// <param name="Remark">What a reader must know about the heat.</param>
internal sealed record Warmed(Cooled Cooled, Warmth Uncooled, IReadOnlyList<string>? Hotter, bool IsField, string Remark)
{
    // Rises, K: one to begin with where nothing is known, and one that changes no loss much.
    private const double SomewhereWarm = 100, Hardly = 30;

    // Steps of time within these shares of the rise; the mesh of the close answer by this much finer.
    private const double QuickStep = 1e-2, CloseStep = 1e-3, Finer = 1.5;

    /// <summary>The warmth of a question.</summary>
    /// <exception cref="RouteFailedException">The heat is not known.</exception>
    public static Warmed Of(Asked asked)
    {
        var apparatus = asked.Apparatus;
        bool field = asked is { Route: RouteName.Field, Quick: false };
        // What cannot be followed in a section is cooled as a network, the losses being the field's.
        var round = apparatus.Layout == Layout.Free ? OnAxisRoute.Round(apparatus) : apparatus;
        field &= round is not null && FieldWarmth.WhyNot(round) is null;
        var point = field ? PointOfAll(asked) : asked.Point(asked.Session is null ? Wanted.None : asked.Kind.Subject == SubjectKind.Part ? NeedsOfPart(asked) : Wanted.Impedance);
        var (cold, bar) = Cold(asked, point, field);
        Warmth Lumped(HeatInput input, Cooling how) => new HeatNetwork(apparatus, input, how);
        Func<HeatInput, Cooling, Warmth> make = Lumped, close = Lumped;
        if (field)
        {
            var (section, coarse, fine) = asked.Session!.Keep(asked.Circumstances, () => Meshed.Of(round!, asked.Session.Cancellation));
            if (asked.Kind.Subject != SubjectKind.Nothing && !section.Bodies.Contains(asked.Measure.Subject!, StringComparer.OrdinalIgnoreCase))
                throw new RouteFailedException($"What '{asked.Measure.Subject}' conducts and stores is not known, or it does not stand still.");
            make = coarse.Under;
            close = (input, how) => fine.Value.Under(input, how);
        }

        var (following, more) = Following(asked, point, cold, make);
        var held = cold with { Coefficients = following.Coefficients.Where(c => c.Value > 0).ToDictionary(c => c.Key, c => c.Value, StringComparer.OrdinalIgnoreCase) };
        return new Warmed(new Cooled(make, following, bar + more, field ? close : null), new HeatNetwork(apparatus, held, Cooling.None), field ? [.. cold.Currents.Keys, .. cold.Parts.Keys] : null, field, point.Remark);
    }

    /// <summary>A temperature without cooling that a body cannot pass, K.</summary>
    public double BoundAfter(string body, double time) => Uncooled.After(time) is var all && Hotter is null ? all[body] : Hotter!.Append(body).Where(all.ContainsKey).Max(b => all[b]);

    /// <summary>A time without cooling before which a body does not pass a temperature, s.</summary>
    public double BoundTo(string body, double temperature) => (Hotter ?? []).Append(body).Distinct(StringComparer.OrdinalIgnoreCase).Min(b => Math.Min(Cooled.Day, Uncooled.TimeTo(b, temperature, Cooled.Day)));

    /// <summary>Parts that a coil on a limb warms although no current need flow in them.</summary>
    public static bool IsWarmedCore(Part part, Apparatus apparatus) => part is { Shape: CoreShape, Material: { SpecificHeat: not null, Density: not null } }
        && apparatus.Windings.Any(w => w.Space is LimbSpace l && Apparatus.Same(l.Core, part.Name) && (apparatus.SupplyOf(w.Name) is not null || apparatus.Loads.Any(o => Apparatus.Same(o.On, w.Name))));

    /// <summary>What the temperature of a part needs of an operating point.</summary>
    public static Wanted NeedsOfPart(Part part, Apparatus apparatus)
    {
        bool heat = apparatus.Frequency > 0 && FieldModels.Conducts(part);
        return (heat || part.Shape is FoilLoopShape ? Wanted.Heat : Wanted.None) | (SupplyNetwork.IsImposed(apparatus) ? Wanted.None : Wanted.Impedance);
    }

    private static Wanted NeedsOfPart(Asked asked) => NeedsOfPart(asked.Apparatus.Part(asked.Measure.Subject!)!, asked.Apparatus);

    // Everything that makes heat anywhere: in the section it may reach what is asked about.
    private static OperatingPoint PointOfAll(Asked asked)
    {
        var apparatus = asked.Apparatus;
        bool imposed = SupplyNetwork.IsImposed(apparatus), induced = apparatus.Frequency > 0 && apparatus.Parts.Any(p => HeatSection.TakesPart(p) && FieldModels.Conducts(p));
        var wanted = (induced ? Wanted.Heat : Wanted.None) | (imposed ? Wanted.None : Wanted.Impedance);
        return wanted == Wanted.None ? new OperatingPoint { Currents = SupplyNetwork.ImposedCurrents(apparatus) } : asked.Session!.At(asked.Circumstances, wanted);
    }

    // Cold currents and heats, and the relative bar of the currents, or half of that of the heats.
    private static (HeatInput Input, double Bar) Cold(Asked asked, OperatingPoint point, bool all)
    {
        var apparatus = asked.Apparatus;
        var currents = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase);
        var parts = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase);
        var subject = asked.Kind.Subject == SubjectKind.Part ? apparatus.Part(asked.Measure.Subject!) : null;
        double bar = 0;
        // A coil that warms takes current, and so heat, from everything where its voltage is given.
        if (all || subject is null || IsWarmedCore(subject, apparatus) || (point.Impedance is not null && !SupplyNetwork.IsImposed(apparatus)))
        {
            foreach (var winding in apparatus.Windings.Where(w => point.Currents[w.Name] != 0))
                currents[winding.Name] = point.Currents[winding.Name].Magnitude / asked.Root;
            bar = subject is null || IsWarmedCore(subject, apparatus) ? point.CurrentRelativeBar : 0;
        }

        foreach (var (name, heat) in point.Heat)
            if (apparatus.Part(name) is { } part && (all ? HeatSection.TakesPart(part) : part == subject))
            {
                parts[part.Name] = Math.Max(0, heat.Value);
                // Heats go with the square of what scales them.
                if (heat.Value > 0 && part == subject)
                    bar = Math.Max(bar, 0.5 * heat.RelativeBar);
            }

        if (asked.Kind.Subject == SubjectKind.Winding && !currents.ContainsKey(asked.Measure.Subject!))
            currents[asked.Measure.Subject!] = 0;
        return (new HeatInput(currents, parts) { Points = point.HeatPoints }, bar);
    }

    // Losses as they will be: once through with the cold ones says how warm it gets, and once more where that is far.
    private static (HeatInput Input, double Bar) Following(Asked asked, OperatingPoint point, HeatInput cold, Func<HeatInput, Cooling, Warmth> make)
    {
        var (input, bar) = (cold, 0.0);
        if (DutyMeasures.LimitOf(asked) is { } limit)
        {
            // All coils at their limits: those of one supply get there together.
            var ends = cold.Currents.Keys.ToDictionary(w => w, w => InsulationClasses.Limit(asked.Apparatus.Winding(w)!.ThermalClass), StringComparer.OrdinalIgnoreCase);
            ends[asked.Measure.Subject!] = limit;
            return WarmLosses.Of(asked, point, cold, ends);
        }

        for (int round = 0; round < 3; round++)
        {
            IReadOnlyDictionary<string, double> there;
            bool lost = false;
            try
            {
                var warmth = make(input, Cooling.AsReckoned);
                there = asked.Measure.After is { } time ? warmth.After(time) : warmth.Steady();
            }
            catch (RouteFailedException) when (round == 0 && !SupplyNetwork.IsImposed(asked.Apparatus))
            {
                // At held currents it runs away; on a given voltage it need not: begin somewhere warm.
                there = cold.Currents.Keys.Concat(cold.Parts.Keys).ToDictionary(b => b, _ => asked.Apparatus.Ambient + SomewhereWarm, StringComparer.OrdinalIgnoreCase);
                lost = true;
            }

            var before = input;
            (input, bar) = WarmLosses.Of(asked, point, cold, there);
            bool settled = input.Coefficients.All(c => Math.Abs(c.Value - before.Coefficients.GetValueOrDefault(c.Key, c.Value)) * Math.Abs(there[c.Key] - asked.Apparatus.Ambient) < 0.01);
            if (!lost && settled && (round > 0 || there.Values.Max() - asked.Apparatus.Ambient < Hardly))
                break;
        }

        return (input, bar);
    }

    // A section on its two meshes, nothing heated yet.
    private sealed record Meshed(HeatSection Section, FieldWarmth Coarse, Lazy<FieldWarmth> Fine)
    {
        public static Meshed Of(Apparatus apparatus, CancellationToken cancellation)
        {
            var section = new HeatSection(apparatus);
            var nothing = new HeatInput(new Dictionary<string, double>(), new Dictionary<string, double>());
            FieldWarmth On(double fineness, double step) => new(section, section.Mesh(fineness, cancellation), nothing, Cooling.AsReckoned, apparatus.Ambient, step, cancellation);
            return new Meshed(section, On(1, QuickStep), new Lazy<FieldWarmth>(() => On(Finer, CloseStep)));
        }
    }
}
