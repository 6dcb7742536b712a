using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Routes.Travel;

namespace Fieldwright.Bench.Travelling;

/// <summary>What is asked of travelling fields: tracks, stators, rotation testers.</summary>
internal static class TravelMeasures
{
    private const string Steady = "From the steady thrust at each speed; the lag of the induced currents is left out.";

    private static readonly double RootTwo = Math.Sqrt(2);

    /// <summary>The kinds of measure, in the order they are listed to people.</summary>
    public static IReadOnlyList<MeasureKind> Kinds { get; } =
    [
        new("thrust", "on", SubjectKind.Part, "N", false, "Mean force along the travel: x in a long apparatus, z in a round one."),
        new("standstill thrust", "on", SubjectKind.Part, "N", false, "Thrust while the part stands still."),
        new("acceleration", "of", SubjectKind.Part, "m/s²", false, "Acceleration of a loose part at the speed it has, at rest if none is given: thrust less drag over mass, along the travel."),
        new("greatest thrust", "on", SubjectKind.Part, "N", false, "Greatest thrust at any speed between standstill and that of the field."),
        new("best slip", "of", SubjectKind.Part, "%", false, "Slip at which the thrust is greatest: 100 % is standstill."),
        new("goodness", "of", SubjectKind.Part, "", false, "Goodness factor of a sheet in a track: its own field over the one it stands in, at standstill."),
        new("top speed", "of", SubjectKind.Part, "m/s", false, "Speed that a loose part reaches from rest against its drag."),
        new("time to top speed", "of", SubjectKind.Part, "s", false, "Time from rest to 95 % of the top speed."),
        new("running speed", "of", SubjectKind.Part, "m/s", true, "Speed of a loose part after a time from rest."),
        new("spin torque", "on", SubjectKind.Part, "mN m", false, "Mean torque on a cylinder about its own axis; positive turns it counter-clockwise."),
        new("gain", "from", SubjectKind.Part, "", false, "Thrust with a piece of steel over thrust with air in its place."),
        new("field speed", "of", SubjectKind.Row, "m/s", false, "Speed of the field that a row of coils or slots sends along; negative when it travels backwards."),
        new("forward share", "of", SubjectKind.Row, "%", false, "Ampere-turns of the working wave that travel forwards, over those that travel either way: a check of phase order and coil senses."),
        new("induced voltage", "in", SubjectKind.Winding, "V", false, "Voltage induced in a winding, the resistance of its wire left out, rms."),
        .. PumpMeasures.Kinds,
    ];

    /// <summary>What a kind needs of an operating point; null for the kinds of others.</summary>
    public static Wanted? NeedsOf(MeasureKind kind) => (kind.Name, kind.Subject) switch
    {
        ("thrust" or "standstill thrust" or "acceleration" or "gain", SubjectKind.Part) => Wanted.Forces,
        ("greatest thrust" or "best slip" or "top speed" or "time to top speed" or "running speed", SubjectKind.Part) => Wanted.Forces | Wanted.Curve,
        ("spin torque", SubjectKind.Part) => Wanted.Torque,
        ("induced voltage", SubjectKind.Winding) => Wanted.Impedance,
        ("goodness", SubjectKind.Part) or (_, SubjectKind.Row) => Wanted.None,
        _ => PumpMeasures.NeedsOf(kind),
    };

    /// <summary>Whether a kind means something for a part; null for the kinds of others.</summary>
    public static bool? MakesSense(MeasureKind kind, Part part, Apparatus apparatus) => kind.Name switch
    {
        "thrust" or "standstill thrust" => Runs(part, apparatus),
        "acceleration" => Runs(part, apparatus) && part.Freedom != Freedom.Fixed && apparatus.Body(part).All(Floats.MassIsKnown),
        "greatest thrust" or "best slip" => Runs(part, apparatus) && apparatus.FieldSpeed() is not null,
        "top speed" or "time to top speed" or "running speed" => Runs(part, apparatus) && part.Freedom != Freedom.Fixed && apparatus.FieldSpeed() is not null && apparatus.Body(part).All(Floats.MassIsKnown),
        "spin torque" => part.Shape is CylinderShape && Model.Travel.Leads(part) && apparatus.Frequency > 0,
        "gain" => !Model.Travel.Leads(part) && part.GoesWith is null && apparatus.Parts.Count(p => Runs(p, apparatus)) == 1 && (part.Material.RelativePermeability > 1 || part.Material.Curve is not null),
        "goodness" => Goodness.Of(apparatus, part) is not null,
        _ => PumpMeasures.MakesSense(kind, part),
    };

    /// <summary>What a kind is asked of, for a mistake in a file.</summary>
    public static string Asks(MeasureKind kind) => kind.Name switch
    {
        "thrust" or "standstill thrust" => "a part that moves or may move along a track, such as one with 'moves: sideways'",
        "acceleration" => "a loose part of known mass in a travelling field",
        "greatest thrust" or "best slip" => "a part that moves or may move, and a polyphase winding with its supply",
        "top speed" or "time to top speed" or "running speed" => "a loose part of known mass, and a polyphase winding with its supply",
        "spin torque" => "a cylinder with 'moves: turning' or a turning speed, and alternating current",
        "gain" => "a piece of steel at rest beside a single part that moves",
        "goodness" => "a sheet that conducts, in a flat track",
        _ => "a part with 'channel' in a flat track, or a pump channel in a free apparatus, of a liquid whose density and viscosity are known",
    };

    /// <summary>An answer from an operating point; null for the kinds of others.</summary>
    /// <exception cref="RouteFailedException">The route could not answer.</exception>
    public static Answer? Of(MeasureKind kind, Measure measure, Circumstances circumstances, RouteSession session)
    {
        var apparatus = circumstances.Apparatus;
        var route = session.Route.Name;
        if (kind.Subject == SubjectKind.Supply && apparatus.Supply(measure.Subject!) is { Phases: > 1 } supply)
            return OfSupply(kind, supply, apparatus, session.At(circumstances, Wanted.Impedance), route);
        if (NeedsOf(kind) is null)
            return null;
        if (kind.Subject == SubjectKind.Winding)
            return InducedVoltage(measure, apparatus, session.At(circumstances, Wanted.Impedance), route);
        if (PumpMeasures.Of(kind, measure, circumstances, session) is { } other)
            return other;
        var part = apparatus.Part(measure.Subject!)!;
        switch (kind.Name)
        {
            case "thrust":
                return Make(Thrust(session, circumstances, part), route);
            case "standstill thrust":
                return Make(Thrust(session, AtSpeed(circumstances, part, 0), part), route);
            case "acceleration":
                return Acceleration(session, circumstances, part, route);
            case "spin torque":
                var point = session.At(circumstances, Wanted.Torque);
                var torque = point.Torque.TryGetValue(part.Name, out var found) ? found : throw new RouteFailedException($"The route gave no torque on '{part.Name}'.");
                string sense = Math.Abs(torque.Value) <= torque.Bar ? "Which way it turns cannot be told." : torque.Value > 0 ? "It turns counter-clockwise." : "It turns clockwise.";
                return new Answer(torque.Value, torque.Bar, route, Join(point.Remark, sense));
            case "gain":
                var mover = apparatus.Parts.First(p => Runs(p, apparatus));
                var with = Thrust(session, circumstances, mover).Estimate;
                var without = Thrust(session, circumstances.With(new Setting(new InputName("material", part.Name, "material of " + part.Name), double.NaN, "air")), mover).Estimate;
                double gain = with.Value / without.Value;
                return new Answer(gain, Math.Abs(gain) * (with.RelativeBar + without.RelativeBar), route);
            default:
                return OfCurve(kind, measure, circumstances, part, session);
        }
    }

    // At rest drag holds it until the thrust is greater; when it runs, drag is against its speed.
    private static Answer Acceleration(RouteSession session, Circumstances circumstances, Part part, RouteName route)
    {
        var apparatus = circumstances.Apparatus;
        var (thrust, remark) = Thrust(session, circumstances, part);
        double mass = apparatus.Body(part).Sum(p => Floats.Mass(p, apparatus.Depth)), drag = part.Drag;
        if (part.Speed == 0 && Math.Abs(thrust.Value) <= drag)
            return new Answer(0, Math.Abs(thrust.Value) + thrust.Bar > drag ? thrust.Bar / mass : 0, route,
                Join(remark, string.Create(System.Globalization.CultureInfo.InvariantCulture, $"It does not start: the drag of {drag:G3} N holds it.")));
        double against = drag * Math.Sign(part.Speed == 0 ? thrust.Value : part.Speed);
        return new Answer((thrust.Value - against) / mass, thrust.Bar / mass, route, Join(remark, Steady));
    }

    /// <summary>An answer that follows from the file alone; null for the kinds of others.</summary>
    public static Answer? Given(MeasureKind kind, Measure measure, Apparatus apparatus)
    {
        if (kind.Name == "goodness")
        {
            double goodness = Goodness.Of(apparatus, apparatus.Part(measure.Subject!)!) ?? double.NaN;
            return new Answer(goodness, 0.02 * goodness, RouteName.Series, "For a thin sheet and the fundamental wave alone; the bar is a guess (common practice, no source). Thrust is greatest near slip 1/G at a given current.");
        }

        if (kind.Subject != SubjectKind.Row)
            return null;
        var winding = apparatus.Polyphases().First(p => Apparatus.Same(p.Name, measure.Subject!));
        return kind.Name == "field speed" ? FieldSpeed(winding, apparatus) : PhaseOrder.ForwardShare(winding, apparatus);
    }

    /// <summary>Thrust on a part under circumstances.</summary>
    internal static (Estimate Estimate, string Remark) Thrust(RouteSession session, Circumstances circumstances, Part part)
    {
        var point = session.At(circumstances, Wanted.Forces);
        var forces = circumstances.Apparatus.Layout == Layout.Long ? point.ForceX : point.ForceUp;
        return forces.TryGetValue(part.Name, out var force) ? (force, point.Remark) : throw new RouteFailedException($"The route gave no thrust on '{part.Name}'.");
    }

    /// <summary>The same circumstances with a part at another speed, m/s.</summary>
    internal static Circumstances AtSpeed(Circumstances circumstances, Part part, double speed) =>
        circumstances.With(new Setting(new InputName("speed", part.Name, "speed of " + part.Name), speed));

    internal static string Join(string a, string b) => a.Length == 0 ? b : b.Length == 0 ? a : a + " " + b;

    /// <summary>Whether a part may run along a travel.</summary>
    internal static bool Runs(Part part, Apparatus apparatus) => Model.Travel.Leads(part) && part.Shape is not CylinderShape
        && (apparatus.Layout == Layout.Long || (apparatus.Polyphases().Count > 0 && apparatus.Layout == Layout.Round));

    private static Answer OfCurve(MeasureKind kind, Measure measure, Circumstances circumstances, Part part, RouteSession session)
    {
        var apparatus = circumstances.Apparatus;
        double field = apparatus.FieldSpeed() ?? throw new RouteFailedException("Nothing travels here.");
        var route = session.Route.Name;
        Estimate At(double speed) => Thrust(session, AtSpeed(circumstances, part, speed), part).Estimate;
        string remark = Thrust(session, AtSpeed(circumstances, part, 0), part).Remark;
        if (kind.Name is "greatest thrust" or "best slip")
        {
            var (speed, force, spread) = ThrustCurve.Greatest(At, field);
            return kind.Name == "greatest thrust" ? new Answer(force.Value, force.Bar, route, remark) : new Answer(1 - speed / field, spread / Math.Abs(field), route, remark);
        }

        double mass = apparatus.Body(part).Sum(p => Floats.Mass(p, apparatus.Depth));
        var run = Run.FromRest(At, field, mass, part.Drag);
        var value = kind.Name switch
        {
            "top speed" => run.TopSpeed,
            "time to top speed" => run.TimeToTop,
            _ => run.SpeedAfter(measure.After!.Value),
        };
        return new Answer(value.Value, value.Bar, route, Join(remark, Steady));
    }

    private static Answer OfSupply(MeasureKind kind, Supply supply, Apparatus apparatus, OperatingPoint point, RouteName route)
    {
        double real = 0, apparent = 0, current = 0, voltage = 0;
        foreach (var phase in PhaseSupplies.Of(supply, apparatus))
        {
            var at = SupplyNetwork.AtTerminals(apparatus, phase, point);
            (real, apparent) = (real + at.Real, apparent + at.Apparent);
            (current, voltage) = (Math.Max(current, at.Current), Math.Max(voltage, at.Voltage));
        }

        // What the ends add is reactance: it moves voltage and power factor, but no power.
        double own = point.ImpedanceRelativeBar - point.EndRelativeBar, bar = Math.Max(point.CurrentRelativeBar, point.ImpedanceRelativeBar), factor = real / apparent;
        string remark = Join(point.Remark, SupplyNetwork.OfLimit(apparatus, supply, point.Currents));
        return kind.Name switch
        {
            "voltage needed" => new Answer(voltage / RootTwo, voltage / RootTwo * bar, route, Join(remark, supply.ThreePhase ? "Between the two lines that need most." : "Of the phase that needs most, to the star point.")),
            "current" => new Answer(current / RootTwo, current / RootTwo * point.CurrentRelativeBar, route, Join(remark, supply.ThreePhase ? "In the line that takes most." : "In the phase that takes most.")),
            "power" => new Answer(real, Math.Abs(real) * 2 * point.CurrentRelativeBar + apparent * own, route, Join(remark, "Of all phases together.")),
            _ => new Answer(factor, Math.Abs(factor) * bar * Math.Max(0, 1 - factor * factor) + own, route, remark),
        };
    }

    private static Answer InducedVoltage(Measure measure, Apparatus apparatus, OperatingPoint point, RouteName route)
    {
        var z = point.Impedance ?? throw new RouteFailedException("The route gave no impedances.");
        int i = apparatus.IndexOf(apparatus.Winding(measure.Subject!)!);
        Complex voltage = -FieldModels.Resistances(apparatus)[i, i] * point.Currents[apparatus.Windings[i].Name];
        double spread = 0;
        for (int j = 0; j < apparatus.Windings.Count; j++)
        {
            var current = point.Currents[apparatus.Windings[j].Name];
            voltage += z[i, j] * current;
            spread += Math.Sqrt(z[i, i].Magnitude * z[j, j].Magnitude) * current.Magnitude;
        }

        return new Answer(voltage.Magnitude / RootTwo, (spread * point.ImpedanceRelativeBar + voltage.Magnitude * point.CurrentRelativeBar) / RootTwo, route, point.Remark);
    }

    private static Answer FieldSpeed(Polyphase winding, Apparatus apparatus)
    {
        bool backwards = apparatus.SupplyOf(winding.NameOf(0)) is { Backwards: true };
        double speed = (backwards ? -1 : 1) * winding.FieldSpeed(apparatus.Frequency);
        if (winding.Row is not RingRow ring)
            return new Answer(speed, 0, RouteName.Given, "Twice the pole pitch in every cycle.");
        string remark = FormattableString.Invariant($"At the inner radius: the field turns at {speed:0.##} rad/s, {speed * 60 / (2 * Math.PI):0.#} turns a minute.");
        return new Answer(speed * ring.InnerRadius, 0, RouteName.Given, remark);
    }

    private static Answer Make((Estimate Estimate, string Remark) found, RouteName route) => new(found.Estimate.Value, found.Estimate.Bar, route, found.Remark);
}
