using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Duty;

/// <summary>What warming takes from the lift: its resistivity rises, the induced currents fall, and the metal comes down.</summary>
/// <remarks>Quasi-static: at each temperature the field is solved anew with the metal's conductivity there. Coils are taken cold; on a given voltage their own warming lowers the current too.</remarks>
internal sealed class WarmLiftMeasures : MeasureFamily
{
    private const string ColdCoils = "The coils are taken cold; on a given voltage they lose current as they warm.";

    // Share of the span of the lift above its lowest place at which a part counts as still carried; in contact the field's force is not to be trusted.
    private const double Clear = 0.02;

    // How far above the hall it is looked when the melting point is not known, K.
    private const double Far = 600;

    private static readonly MeasureKind
        Drop = new("lift drop", "on", SubjectKind.Part, "%", true, "Share of its lift that it has lost after a time at the same height, because it has warmed."),
        Aloft = new("time aloft", "of", SubjectKind.Part, "s", false, "Time from cold until the warming metal is no longer carried; a day when it settles before.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Drop, Aloft];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Forces | Wanted.Heat;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus)
    {
        var part = apparatus.Part(subject!)!;
        return apparatus.Frequency > 0 && apparatus.Layout != Layout.Long && FieldModels.Conducts(part) && part.Material.TemperatureCoefficient > 0 && part.Freedom is Freedom.UpAndDown or Freedom.Freely
            ? null : "a part of metal with a temperature coefficient, free to move up and down over alternating coils";
    }

    /// <inheritdoc/>
    public override Answer Answer(Asked asked) => asked.Kind == Drop ? Dropped(asked) : Carried(asked);

    private static Answer Dropped(Asked asked)
    {
        var part = asked.Apparatus.Part(asked.Measure.Subject!)!;
        double ambient = asked.Apparatus.Ambient, time = asked.Measure.After!.Value;
        var cold = asked.Point(Wanted.Forces | Wanted.Heat);
        Estimate lift = cold.ForceUp[part.Name], heat = cold.Heat[part.Name];
        var input = Heated(part, heat.Value, 0);
        // Once through with the cold heat says how warm; then the heat follows the temperature in a straight line.
        double first = new HeatNetwork(asked.Apparatus, input, Cooling.AsReckoned).After(time)[part.Name];
        if (first - ambient > 1)
            input = Heated(part, heat.Value, (At(asked, part, first).Heat[part.Name].Value / heat.Value - 1) / (first - ambient));
        var warm = new Cooled((i, how) => new HeatNetwork(asked.Apparatus, i, how), input, 0.5 * heat.RelativeBar).Ask(n => n.After(time)[part.Name]);
        var now = At(asked, part, warm.Value).ForceUp[part.Name];
        double drop = 1 - now.Value / lift.Value, perKelvin = drop / Math.Max(warm.Value - ambient, 1e-9);
        return asked.Answer(drop, Math.Abs(perKelvin) * warm.Bar + 2 * Math.Abs(drop) * (lift.RelativeBar + now.RelativeBar), cold.Remark, string.Create(CultureInfo.InvariantCulture,
            $"The metal then stands at {warm.Value - PhysicalConstants.ZeroCelsius:0.#} °C."), ColdCoils);
    }

    private static Answer Carried(Asked asked)
    {
        var (apparatus, session) = (asked.Apparatus, asked.Session!);
        var part = apparatus.Part(asked.Measure.Subject!)!;
        double weight = Floats.Weight(part, apparatus.Depth), ambient = apparatus.Ambient;
        var place = Floats.Of(apparatus, part);
        double lowest = place.Lowest + Clear * place.Span;
        var rest = session.Rest(asked.Circumstances, part);
        if (!rest.Floats)
            return asked.Answer(0, 0, $"'{part.Name}' does not lift even when cold.");
        var down = RouteSession.AtHeight(asked.Circumstances, part, lowest);
        double Excess(double temperature) => session.At(Warm(down, part, temperature), Wanted.Forces | Wanted.Heat, part.Name).ForceUp[part.Name].Value / weight - 1;
        double most = Math.Min(part.Material.MeltingPoint ?? double.PositiveInfinity, ambient + Far);
        double heatCold = session.At(RouteSession.AtHeight(asked.Circumstances, part, rest.Height.Value), Wanted.Forces | Wanted.Heat, part.Name).Heat[part.Name].Value;
        double over = Excess(most);
        if (over > 0)
            return asked.Answer(Cooled.Day, 0, string.Create(CultureInfo.InvariantCulture, $"It is carried at least as far as {most - PhysicalConstants.ZeroCelsius:0} °C."), ColdCoils);

        // Lift against weight is nearly straight in the temperature; the two ends close in on the fall.
        double low = ambient, high = most, under = Excess(ambient);
        for (int i = 0; i < 12 && high - low > 1; i++)
        {
            double middle = i % 2 == 0 ? low + (high - low) * under / (under - over) : 0.5 * (low + high), there = Excess(middle);
            if (there > 0)
                (low, under) = (middle, there);
            else
                (high, over) = (middle, there);
        }

        double fall = 0.5 * (low + high), middling = 0.5 * (ambient + fall);
        double HeatAt(double height, double temperature) =>
            session.At(Warm(RouteSession.AtHeight(asked.Circumstances, part, height), part, temperature), Wanted.Forces | Wanted.Heat, part.Name).Heat[part.Name].Value;
        // It sinks slowly at first and fast at the end: its mean heat by Simpson's rule over cold, half way and the fall, then as a straight line of that mean.
        double heatMiddling = HeatAt(session.Rest(Warm(asked.Circumstances, part, middling), part).Height.Value, middling), heatWarm = HeatAt(lowest, fall);
        double mean = (heatCold + 4 * heatMiddling + heatWarm) / 6, straight = Math.Abs(mean - heatMiddling) / mean;
        var input = Heated(part, heatCold, 2 * (mean / heatCold - 1) / (fall - ambient));
        double Time(Warmth n) => Math.Min(Cooled.Day, n.TimeTo(part.Name, fall, Cooled.Day));
        // How far the fall itself is unsure: a per cent of the lift, in kelvins of the metal.
        double slope = Math.Abs(Excess(ambient) / (fall - ambient)), spread = 0.01 / Math.Max(slope, 1e-6);
        var cooled = new Cooled((i, how) => new HeatNetwork(apparatus, i, how), input, 0.01);
        var time = cooled.Ask(Time);
        double later = new HeatNetwork(apparatus, input, Cooling.AsReckoned).TimeTo(part.Name, fall + spread, Cooled.Day);
        double bar = time.Bar + straight * time.Value + (double.IsFinite(later) ? later - time.Value : 0), bound = Time(new HeatNetwork(apparatus, input, Cooling.None));
        string remark = string.Create(CultureInfo.InvariantCulture, $"It comes down at {fall - PhysicalConstants.ZeroCelsius:0} °C.");
        return asked.Answer(time.Value, bar, remark, time.Value >= Cooled.Day ? "It settles before." : "", ColdCoils) with
        {
            Bound = time.Value < Cooled.Day ? bound : null, BoundBelow = true, BoundRemark = "No cooling is counted, so this is a lower bound.",
        };
    }

    private static HeatInput Heated(Part part, double heat, double coefficient) =>
        new(new Dictionary<string, double>(), new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase) { [part.Name] = Math.Max(0, heat) }) { Coefficients = new Dictionary<string, double> { [part.Name] = coefficient } };

    private static OperatingPoint At(Asked asked, Part part, double temperature) => asked.Session!.At(Warm(asked.Circumstances, part, temperature), Wanted.Forces | Wanted.Heat, part.Name);

    /// <summary>The circumstances with the conductivity at 20 °C that stands, in the hall, for the metal of a part at its own temperature, K.</summary>
    public static Circumstances Warm(Circumstances circumstances, Part part, double temperature)
    {
        var (metal, ambient) = (part.Material, circumstances.Apparatus.Ambient);
        double stands = metal.ConductivityAt(temperature) * metal.ResistivityAt(ambient) * metal.Conductivity;
        return circumstances.With(new Setting(new InputName("conductivity", part.Name, "conductivity of " + part.Name), stands));
    }
}
