using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Duty;

/// <summary>Temperatures after a time and for good, how long it may stay on, how long it must rest.</summary>
/// <remarks>The field route follows heat by finite elements in the section where it can; every other answer comes from the lumped network. Beside them stands the adiabatic answer as a bound: an upper one of
/// temperatures, a lower one of times.</remarks>
internal sealed class DutyMeasures : MeasureFamily
{
    private const string Lumped = "Cooled as a lumped network: still air and bare surfaces; draughts, neighbours and iron loss are left out.";
    private const string ByField = "Heat followed through the section: still air and bare surfaces, near bodies warming one another; draughts and iron loss are left out.";
    private const string OrLonger = "Or longer: it does not get there within a day.";

    // Within this of the hall a body has cooled, K.
    private const double Cool = 10;

    private static readonly MeasureKind
        TemperatureOfPart = new("temperature", "of", SubjectKind.Part, "°C", true, "Temperature after a time; with no cooling at all as a bound."),
        TemperatureOfWinding = new("temperature", "of", SubjectKind.Winding, "°C", true, "Mean temperature of the wire after a time; with no cooling at all as a bound."),
        HotSpot = new("hot spot", "of", SubjectKind.Winding, "°C", true, "Temperature of the hottest turn after a time, inside the packing; with no cooling at all as a bound."),
        Hottest = new("hottest winding", "", SubjectKind.Nothing, "°C", true, "Temperature of the hottest winding after a time; with no cooling at all as a bound."),
        SteadyOfPart = new("steady temperature", "of", SubjectKind.Part, "°C", false, "Temperature when everything has settled."),
        SteadyOfWinding = new("steady temperature", "of", SubjectKind.Winding, "°C", false, "Mean temperature of the wire when everything has settled."),
        OnTime = new("longest on-time", "of", SubjectKind.Winding, "s", false, "Time from cold until its hottest turn reaches its insulation class; a day at most."),
        SoftenPart = new("time to soften", "of", SubjectKind.Part, "s", false, "Time from cold until the metal goes soft; a day at most."),
        MeltPart = new("time to melt", "of", SubjectKind.Part, "s", false, "Time from cold to the melting point; a day at most."),
        MeltWinding = new("time to melt", "of", SubjectKind.Winding, "s", false, "Time from cold until bare wire reaches its melting point; a day at most."),
        RestOfPart = new("cooling time", "of", SubjectKind.Part, "s", true, "Time after an on-time until it is within 10 K of the hall; a day at most."),
        RestOfWinding = new("cooling time", "of", SubjectKind.Winding, "s", true, "Time after an on-time until it is within 10 K of the hall; a day at most."),
        Duty = new("steady duty", "of", SubjectKind.Winding, "%", false, "Share of the time it may be on, in goes much shorter than it takes to warm, without its hottest turn passing its insulation class.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } =
        [TemperatureOfPart, TemperatureOfWinding, HotSpot, Hottest, SteadyOfPart, SteadyOfWinding, OnTime, SoftenPart, MeltPart, MeltWinding, RestOfPart, RestOfWinding, Duty];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) =>
        kind.Subject == SubjectKind.Part && apparatus.Frequency > 0 && apparatus.Parts.Any(FieldModels.Conducts) ? Wanted.Heat : UnlessImposed(apparatus);

    /// <inheritdoc/>
    public override Wanted Beside(MeasureKind kind) => Wanted.Warmth;

    /// <inheritdoc/>
    public override bool HasQuick(MeasureKind kind) => true;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus)
    {
        if (kind.Subject == SubjectKind.Nothing)
            return apparatus.Windings.Count > 0 ? null : "a winding";
        if (kind.Subject == SubjectKind.Winding)
            return apparatus.SupplyOf(subject!) is not null || apparatus.Loads.Any(l => Apparatus.Same(l.On, subject!))
                ? kind == MeltWinding && apparatus.Winding(subject!)!.Wire.Metal.MeltingPoint is null ? "a metal whose melting point is known" : null
                : "a supply that feeds it, or a load on it";
        var part = apparatus.Part(subject!)!;
        if (part.Shape is FoilLoopShape)
            return kind == TemperatureOfPart ? null : "a part in which currents are induced; of a foil ask 'melting time' or 'temperature … after'";
        if ((apparatus.Frequency == 0 || !FieldModels.Conducts(part)) && !Warmed.IsWarmedCore(part, apparatus))
            return "an alternating supply, and metal in which currents can flow, or a core that its coil warms";
        return kind switch
        {
            _ when kind == SoftenPart && part.Material.SofteningPoint is null => "a metal whose softening is known",
            _ when kind == MeltPart && part.Material.MeltingPoint is null => "a metal whose melting point is known",
            _ => null,
        };
    }

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        // A foil carries its own current and warms within a second, where cooling hardly enters.
        if (asked.Kind == TemperatureOfPart && asked.Apparatus.Part(asked.Measure.Subject!)! is { Shape: FoilLoopShape } foil)
            return asked.Answer(FoilRoute.TemperatureAfter(foil, asked.Apparatus, asked.Measure.After!.Value), 0, Warming.NoCooling);
        var warmed = Warmed.Of(asked);
        if (asked.Kind == Hottest)
        {
            double time = asked.Measure.After!.Value;
            var after = warmed.Cooled.Quickly.After(time);
            string hottest = warmed.Cooled.Input.Currents.Keys.MaxBy(w => after[w]) ?? throw new RouteFailedException("No winding carries a current.");
            return Temperature(asked, warmed, hottest, time, $"It is '{hottest}'.");
        }

        string body = asked.Measure.Subject!;
        return asked.Kind switch
        {
            _ when asked.Kind == HotSpot => HotSpotOf(asked, warmed, body, asked.Measure.After!.Value),
            { NeedsTime: true, Name: "temperature" } => Temperature(asked, warmed, body, asked.Measure.After!.Value, ""),
            { Name: "steady temperature" } => warmed.Cooled.Ask(w => w.Steady()[body]) is var steady ? asked.Answer(steady.Value, steady.Bar, warmed.Remark, How(warmed)) : null!,
            { Name: "cooling time" } => Rest(asked, warmed, body),
            _ when asked.Kind == Duty => DutyOf(asked, warmed, body),
            _ => TimeTo(asked, warmed, body),
        };
    }

    /// <summary>The temperature a kind of time is counted to, K; null for a kind that counts to none.</summary>
    public static double? LimitOf(Asked asked) => asked.Kind == OnTime || asked.Kind == Duty ? InsulationClasses.Limit(asked.Winding.ThermalClass)
        : asked.Kind == MeltWinding ? asked.Winding.Wire.Metal.MeltingPoint
        : asked.Kind == SoftenPart ? asked.Apparatus.Part(asked.Measure.Subject!)!.Material.SofteningPoint
        : asked.Kind == MeltPart ? asked.Apparatus.Part(asked.Measure.Subject!)!.Material.MeltingPoint : null;

    private static string How(Warmed warmed) => warmed.IsField ? ByField : Lumped;

    private static Answer Temperature(Asked asked, Warmed warmed, string body, double time, string which)
    {
        var after = warmed.Cooled.Ask(w => w.After(time)[body]);
        return asked.Answer(after.Value, after.Bar, which, warmed.Remark, How(warmed)) with { Bound = warmed.BoundAfter(body, time), BoundRemark = Warming.NoCooling };
    }

    private static Answer HotSpotOf(Asked asked, Warmed warmed, string body, double time)
    {
        var after = warmed.Cooled.Ask(w => w.HotSpotAfter(body, time));
        return asked.Answer(Math.Min(after.Value, warmed.BoundAfter(body, time)), after.Bar, warmed.IsField ? "" : "Even heat in its packing, cooled on one side.", warmed.Remark, How(warmed)) with { Bound = warmed.BoundAfter(body, time), BoundRemark = Warming.NoCooling };
    }

    private static Answer TimeTo(Asked asked, Warmed warmed, string body)
    {
        double limit = LimitOf(asked)!.Value;
        string why = asked.Kind == OnTime ? $", class {asked.Winding.ThermalClass} of IEC 60085, in the hottest turn"
            : asked.Kind == SoftenPart ? ", where work-hardened metal goes soft within minutes (common practice, no source)" : "; melting itself takes some longer";
        string remark = string.Create(CultureInfo.InvariantCulture, $"To {limit - PhysicalConstants.ZeroCelsius:0} °C{why}.");
        double Time(Warmth w) => Math.Min(Cooled.Day, asked.Kind == OnTime ? w.HotSpotTimeTo(body, limit, Cooled.Day) : w.TimeTo(body, limit, Cooled.Day));
        var time = warmed.Cooled.Ask(Time);
        double bound = warmed.BoundTo(body, limit);
        // The hottest turn is never there sooner than with no cooling at all: a coarse mesh may say so.
        if (asked.Kind == OnTime)
            time = time with { Value = Math.Max(time.Value, bound) };
        if (time.Value >= Cooled.Day)
            return asked.Answer(time.Value, time.Bar, remark, OrLonger, bound < Cooled.Day ? string.Create(CultureInfo.InvariantCulture, $"With no cooling at all it would take {bound:0} s.") : "", warmed.Remark, How(warmed));
        return asked.Answer(time.Value, time.Bar, remark, warmed.Remark, How(warmed)) with
        {
            Bound = bound, BoundBelow = true, BoundRemark = "No cooling is counted, so this is a lower bound.",
        };
    }

    private static Answer Rest(Asked asked, Warmed warmed, string body)
    {
        double on = asked.Measure.After!.Value, cool = asked.Apparatus.Ambient + Cool;
        var rest = warmed.Cooled.Ask(w => w.After(on)[body] <= cool ? 0 : Math.Min(Cooled.Day, w.OffAfter(on).TimeTo(body, cool, Cooled.Day)));
        return asked.Answer(rest.Value, rest.Bar, rest.Value == 0 ? "It never got further than 10 K from the hall." : rest.Value >= Cooled.Day ? OrLonger : "", warmed.Remark, How(warmed));
    }

    private static Answer DutyOf(Asked asked, Warmed warmed, string body)
    {
        double limit = InsulationClasses.Limit(asked.Winding.ThermalClass), ambient = asked.Apparatus.Ambient;
        // Mean heat goes with the share of the time, and with the square of the factor on the current. What is left to the limit, as a share of the whole rise: positive while it stays below.
        double Left(Warmth w)
        {
            try
            {
                return 1 - (w.Steady()[Warmth.HotSpot(body)] - ambient) / (limit - ambient);
            }
            catch (RouteFailedException)
            {
                return double.NegativeInfinity;
            }
        }

        var share = warmed.Cooled.AskOf(at =>
        {
            if (Left(at(1)) >= 0)
                return 1;
            // Rise over heat is a nearly straight line, so that the next share follows from the one before; what lies outside is halved.
            double low = 0, high = 1, tried = 0.1;
            for (int i = 0; i < 40 && high - low > 1e-6 * high; i++)
            {
                double left = Left(at(Math.Sqrt(tried)));
                (low, high) = left >= 0 ? (tried, high) : (low, tried);
                if (Math.Abs(left) < 1e-6)
                    return tried;
                double next = double.IsFinite(left) && left < 1 ? tried / (1 - left) : 0;
                tried = next > low && next < high ? next : 0.5 * (low + high);
            }

            return low;
        });
        return asked.Answer(share.Value, share.Bar, warmed.Remark, How(warmed), share.Value == 1 ? "It may stay on." : "In goes much shorter than it takes to warm; a long go asks for 'longest on-time' and 'cooling time'.");
    }
}
