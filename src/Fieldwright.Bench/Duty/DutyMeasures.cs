using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Duty;

/// <summary>Temperatures after a time and for good, how long it may stay on, how long it must rest.</summary>
/// <remarks>Each answer comes from the lumped network of heat, with the adiabatic answer beside it as a bound: an upper one of temperatures, a lower one of times.</remarks>
internal sealed class DutyMeasures : MeasureFamily
{
    private const string Lumped = "Cooled as a lumped network: still air and bare surfaces; draughts, neighbours and iron loss are left out.";
    private const string OrLonger = "Or longer: it does not get there within a day.";

    // Within this of the hall a body has cooled, K.
    private const double Cool = 10;

    private static readonly MeasureKind
        TemperatureOfPart = new("temperature", "of", SubjectKind.Part, "°C", true, "Temperature after a time, cooled as a lumped network; with no cooling at all as a bound."),
        TemperatureOfWinding = new("temperature", "of", SubjectKind.Winding, "°C", true, "Mean temperature of the wire after a time, cooled as a lumped network; with no cooling at all as a bound."),
        HotSpot = new("hot spot", "of", SubjectKind.Winding, "°C", true, "Temperature of the hottest turn after a time, inside the packing; with no cooling at all as a bound."),
        Hottest = new("hottest winding", "", SubjectKind.Nothing, "°C", true, "Temperature of the hottest winding after a time, cooled as a lumped network; with no cooling at all as a bound."),
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
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => kind.Subject == SubjectKind.Part ? Wanted.Heat : UnlessImposed(apparatus);

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
        if (apparatus.Frequency == 0 || !FieldModels.Conducts(part))
            return "an alternating supply, and metal in which currents can flow";
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
        bool given = asked.Session is null;
        var point = asked.Point(given ? Wanted.None : asked.Kind.Subject == SubjectKind.Part ? Wanted.Heat : Wanted.Impedance);
        var cooled = Of(asked, point);
        if (asked.Kind == Hottest)
        {
            double time = asked.Measure.After!.Value;
            string hottest = cooled.Input.Currents.Keys.MaxBy(w => new HeatNetwork(asked.Apparatus, cooled.Input, Cooling.AsReckoned).After(time)[w])
                ?? throw new RouteFailedException("No winding carries a current.");
            return Temperature(asked, point, cooled, hottest, time, $"It is '{hottest}'.");
        }

        string body = asked.Measure.Subject!;
        return asked.Kind switch
        {
            _ when asked.Kind == HotSpot => HotSpotOf(asked, point, cooled, body, asked.Measure.After!.Value),
            { NeedsTime: true, Name: "temperature" } => Temperature(asked, point, cooled, body, asked.Measure.After!.Value, ""),
            { Name: "steady temperature" } => cooled.Ask(n => n.Steady()[body]) is var steady ? asked.Answer(steady.Value, steady.Bar, point.Remark, Lumped) : null!,
            { Name: "cooling time" } => Rest(asked, point, cooled, body),
            _ when asked.Kind == Duty => DutyOf(asked, point, cooled, HeatNetwork.HotSpot(body)),
            _ => TimeTo(asked, point, cooled, body),
        };
    }

    /// <summary>The heat network of a question, from the currents or the heat of an operating point.</summary>
    private static Cooled Of(Asked asked, OperatingPoint point)
    {
        var currents = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase);
        var parts = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase);
        double bar = point.CurrentRelativeBar;
        if (asked.Kind.Subject == SubjectKind.Part)
        {
            var heat = point.Heat[asked.Measure.Subject!];
            parts[asked.Measure.Subject!] = Math.Max(0, heat.Value);
            // Heats go with the square of what scales them.
            bar = heat.Value > 0 ? 0.5 * heat.RelativeBar : 0;
        }
        else
            foreach (var winding in asked.Apparatus.Windings.Where(w => point.Currents[w.Name] != 0))
                currents[winding.Name] = point.Currents[winding.Name].Magnitude / asked.Root;
        if (asked.Kind.Subject == SubjectKind.Winding && !currents.ContainsKey(asked.Measure.Subject!))
            currents[asked.Measure.Subject!] = 0;
        return new Cooled(asked.Apparatus, new HeatInput(currents, parts), bar);
    }

    private static Answer Temperature(Asked asked, OperatingPoint point, Cooled cooled, string body, double time, string which)
    {
        var after = cooled.Ask(n => n.After(time)[body]);
        return asked.Answer(after.Value, after.Bar, which, point.Remark, Lumped) with { Bound = cooled.Uncooled(n => n.After(time)[body]), BoundRemark = Warming.NoCooling };
    }

    private static Answer HotSpotOf(Asked asked, OperatingPoint point, Cooled cooled, string body, double time)
    {
        var after = cooled.Ask(n => n.HotSpotAfter(body, time));
        return asked.Answer(after.Value, after.Bar, "Even heat in its packing, cooled on one side.", point.Remark, Lumped) with { Bound = cooled.Uncooled(n => n.After(time)[body]), BoundRemark = Warming.NoCooling };
    }

    private static Answer TimeTo(Asked asked, OperatingPoint point, Cooled cooled, string body)
    {
        var (limit, remark) = Limit(asked);
        double Time(HeatNetwork n) => Math.Min(Cooled.Day, asked.Kind == OnTime ? n.HotSpotTimeTo(body, limit, Cooled.Day) : n.TimeTo(body, limit, Cooled.Day));
        var time = cooled.Ask(Time);
        double bound = cooled.Uncooled(Time);
        if (time.Value >= Cooled.Day)
            return asked.Answer(time.Value, time.Bar, remark, OrLonger, bound < Cooled.Day ? string.Create(CultureInfo.InvariantCulture, $"With no cooling at all it would take {bound:0} s.") : "", point.Remark, Lumped);
        return asked.Answer(time.Value, time.Bar, remark, point.Remark, Lumped) with
        {
            Bound = bound, BoundRemark = "No cooling is counted, so this is a lower bound.",
        };
    }

    private static (double Temperature, string Remark) Limit(Asked asked)
    {
        if (asked.Kind == OnTime)
        {
            double limit = InsulationClasses.Limit(asked.Winding.ThermalClass);
            return (limit, string.Create(CultureInfo.InvariantCulture, $"To {limit - PhysicalConstants.ZeroCelsius:0} °C, class {asked.Winding.ThermalClass} of IEC 60085, in the hottest turn."));
        }

        var metal = asked.Kind == MeltWinding ? asked.Winding.Wire.Metal : asked.Apparatus.Part(asked.Measure.Subject!)!.Material;
        double at = asked.Kind == SoftenPart ? metal.SofteningPoint!.Value : metal.MeltingPoint!.Value;
        return (at, string.Create(CultureInfo.InvariantCulture, $"To {at - PhysicalConstants.ZeroCelsius:0} °C{(asked.Kind == SoftenPart ? ", where work-hardened metal goes soft within minutes (common practice, no source)" : "; melting itself takes some longer")}."));
    }

    private static Answer Rest(Asked asked, OperatingPoint point, Cooled cooled, string body)
    {
        double on = asked.Measure.After!.Value, ambient = asked.Apparatus.Ambient;
        double Time(Cooling how, double factor)
        {
            var hot = new HeatNetwork(asked.Apparatus, cooled.Input.Times(factor), how).After(on);
            if (hot[body] <= ambient + Cool)
                return 0;
            return Math.Min(Cooled.Day, new HeatNetwork(asked.Apparatus, cooled.Input.Times(0), how, hot).TimeTo(body, ambient + Cool, Cooled.Day));
        }

        double value = Time(Cooling.AsReckoned, 1);
        double bar = Math.Max(Math.Abs(Time(Cooling.Better, 1) - value), Math.Abs(Time(Cooling.Worse, 1) - value));
        return asked.Answer(value, bar, value == 0 ? "It never got further than 10 K from the hall." : value >= Cooled.Day ? OrLonger : "", point.Remark, Lumped);
    }

    private static Answer DutyOf(Asked asked, OperatingPoint point, Cooled cooled, string body)
    {
        double limit = InsulationClasses.Limit(asked.Winding.ThermalClass);
        // Mean heat goes with the share of the time, and with the square of the factor on the current.
        double Share(Cooling how, double scale)
        {
            bool Stays(double share)
            {
                try
                {
                    return new HeatNetwork(asked.Apparatus, cooled.Input.Times(scale * Math.Sqrt(share)), how).Steady()[body] <= limit;
                }
                catch (RouteFailedException)
                {
                    return false;
                }
            }

            if (Stays(1))
                return 1;
            double low = 0, high = 1;
            for (int i = 0; i < 20; i++)
            {
                double middle = 0.5 * (low + high);
                (low, high) = Stays(middle) ? (middle, high) : (low, middle);
            }

            return low;
        }

        double value = Share(Cooling.AsReckoned, 1), bar = Math.Max(Math.Abs(Share(Cooling.Better, 1) - value), Math.Abs(Share(Cooling.Worse, 1) - value));
        if (point.CurrentRelativeBar > 0)
            bar += Math.Abs(Share(Cooling.AsReckoned, 1 + point.CurrentRelativeBar) - value);
        return asked.Answer(value, bar, point.Remark, Lumped, value == 1 ? "It may stay on." : "In goes much shorter than it takes to warm; a long go asks for 'longest on-time' and 'cooling time'.");
    }
}
