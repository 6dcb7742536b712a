using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Travelling;
using Fieldwright.Circuits.Loads;
using Fieldwright.Numerics;

namespace Fieldwright.Bench.Routes;

/// <summary>Answers each kind of measure from the operating points of one route.</summary>
internal static class MeasureOnRoute
{
    /// <summary>What inductances and the energy of the field need.</summary>
    public const Wanted Inductances = Wanted.Impedance | Wanted.Inductance;

    private static readonly double RootTwo = Math.Sqrt(2);

    /// <summary>What each kind needs of an operating point; a kind that is missing needs no route.</summary>
    private static readonly Dictionary<(string, SubjectKind), Wanted> Needs = new()
    {
        [("lift", SubjectKind.Part)] = Wanted.Forces,
        [("rest height", SubjectKind.Part)] = Wanted.Forces,
        [("vertical stiffness", SubjectKind.Part)] = Wanted.Forces,
        [("swing period", SubjectKind.Part)] = Wanted.Forces,
        [("height", SubjectKind.Part)] = Wanted.Release,
        [("speed", SubjectKind.Part)] = Wanted.Release,
        [("sideways stiffness", SubjectKind.Part)] = Wanted.Sideways,
        [("tilting stiffness", SubjectKind.Part)] = Wanted.Sideways,
        [("force along x", SubjectKind.Part)] = Wanted.Forces,
        [("force along y", SubjectKind.Part)] = Wanted.Forces,
        [("pull across gap", SubjectKind.Part)] = Wanted.Flux,
        [("heat", SubjectKind.Part)] = Wanted.Heat,
        [("flux", SubjectKind.Part)] = Wanted.Flux,
        [("flux density", SubjectKind.Part)] = Wanted.Flux,
        [("current", SubjectKind.Winding)] = Wanted.Impedance,
        [("voltage", SubjectKind.Winding)] = Wanted.Impedance,
        [("inductance", SubjectKind.Winding)] = Inductances,
        [("reluctance", SubjectKind.Winding)] = Inductances,
        [("stored energy", SubjectKind.Nothing)] = Inductances,
        [("mutual inductance", SubjectKind.TwoWindings)] = Inductances,
        [("coupling", SubjectKind.TwoWindings)] = Inductances,
        [("copper loss", SubjectKind.Winding)] = Wanted.Impedance,
        [("voltage needed", SubjectKind.Supply)] = Wanted.Impedance,
        [("current", SubjectKind.Supply)] = Wanted.Impedance,
        [("power", SubjectKind.Supply)] = Wanted.Impedance,
        [("power factor", SubjectKind.Supply)] = Wanted.Impedance,
        [("voltage", SubjectKind.Load)] = Wanted.Impedance,
        [("current", SubjectKind.Load)] = Wanted.Impedance,
        [("power", SubjectKind.Load)] = Wanted.Impedance,
        [("brightness", SubjectKind.Load)] = Wanted.Impedance,
    };

    private static readonly HashSet<string> OfCurrentsOnly = ["current", "copper loss"];

    /// <summary>What a kind needs of an operating point for this apparatus; none when no field enters.</summary>
    public static Wanted NeedsOf(MeasureKind kind, Apparatus apparatus)
    {
        if (MeasureFamily.Of(kind) is { } family)
            return family.Needs(kind, apparatus);
        if (kind is { Name: "stored energy", Subject: SubjectKind.Nothing } && apparatus.Windings.Count == 0)
            return Wanted.Inductance;
        if (OfCurrentsOnly.Contains(kind.Name) && kind.Subject == SubjectKind.Winding && SupplyNetwork.IsImposed(apparatus))
            return Wanted.None;
        if (TravelMeasures.NeedsOf(kind) is { } travelling)
            return travelling;
        if (GasMeasures.Kinds.Contains(kind))
            return Wanted.Gas;
        return Needs.TryGetValue((kind.Name, kind.Subject), out var needs) ? needs : FreeMeasures.NeedsOf(kind);
    }

    /// <summary>The answer of a route to a measure.</summary>
    /// <exception cref="RouteFailedException">The route could not answer.</exception>
    public static Answer Of(MeasureKind kind, Measure measure, Circumstances circumstances, RouteSession session, bool quick = false)
    {
        if (!measure.AtRest)
            return There(kind, measure, circumstances, session, quick);
        var apparatus = circumstances.Apparatus;
        var resting = apparatus.Part(measure.Subject ?? "") is { Freedom: not Freedom.Fixed } subject ? subject
            : apparatus.Parts.FirstOrDefault(p => p.Freedom != Freedom.Fixed)
            ?? throw new RouteFailedException("Nothing is free to move, so nothing comes to rest.");
        var rest = session.Rest(circumstances, resting);
        var answer = There(kind, measure, RouteSession.AtHeight(circumstances, resting, rest.Height.Value), session, quick);
        if (rest.Height.Bar == 0)
            return answer;
        // The height itself is known to a bar only; what that does to the answer is found a little higher up.
        double step = Math.Max(rest.Height.Bar, 0.01 * Floats.Of(apparatus, resting).Span);
        // A bar on a bar: the quick way serves, where there is one.
        bool rough = quick || MeasureFamily.Of(kind)?.HasQuick(kind) == true;
        double here = rough ? There(kind, measure, RouteSession.AtHeight(circumstances, resting, rest.Height.Value), session, true).Value : answer.Value;
        double above = There(kind, measure, RouteSession.AtHeight(circumstances, resting, rest.Height.Value + step), session, rough).Value;
        return answer with { ErrorBar = answer.ErrorBar + Math.Abs(above - here) * rest.Height.Bar / step };
    }

    private static Answer There(MeasureKind kind, Measure measure, Circumstances circumstances, RouteSession session, bool quick)
    {
        var apparatus = circumstances.Apparatus;
        if (MeasureFamily.Of(kind) is { } family)
            return family.Answer(new Asked(kind, measure, circumstances, session.Route.Name, session, quick));
        if (TravelMeasures.Of(kind, measure, circumstances, session) is { } travelling)
            return travelling;
        return kind.Subject switch
        {
            SubjectKind.Part => OfPart(kind, measure, circumstances, apparatus.Part(measure.Subject!)!, session),
            SubjectKind.Winding when FreeMeasures.NeedsOf(kind) is var needs and not Wanted.None =>
                Make(session.At(circumstances, needs), FreeMeasures.Of(kind, apparatus.Winding(measure.Subject!)!.Name, apparatus, session.At(circumstances, needs))!.Value, session),
            SubjectKind.Winding => OfWinding(kind, measure, apparatus, session.At(circumstances, Needs[(kind.Name, kind.Subject)]), session.Route.Name),
            SubjectKind.TwoWindings => OfPair(kind, measure, apparatus, session.At(circumstances, Inductances), session.Route.Name),
            SubjectKind.Supply => OfSupply(kind, measure, apparatus, session.At(circumstances, Wanted.Impedance), session.Route.Name),
            SubjectKind.Load => OfLoad(kind, measure, apparatus, session.At(circumstances, Wanted.Impedance), session.Route.Name),
            _ when kind.Name == "stored energy" => StoredEnergy.Of(apparatus, session.At(circumstances, Inductances), session.Route.Name),
            _ when GasMeasures.Kinds.Contains(kind) => session.At(circumstances, Wanted.Gas) is var gas && gas.Gas.TryGetValue(kind.Name, out var found) ? Make(gas, found, session)
                : throw new RouteFailedException($"This box has no {kind.Name} that this route could find."),
            _ => throw new ArgumentException($"No measure is called '{kind.Name}'.", nameof(kind)),
        };
    }

    private static Answer OfPart(MeasureKind kind, Measure measure, Circumstances circumstances, Part part, RouteSession session)
    {
        var apparatus = circumstances.Apparatus;
        OperatingPoint At() => session.At(circumstances, NeedsOf(kind, apparatus), part.Name);
        if (NeedsOf(kind, apparatus) != Wanted.None && kind.Name is not ("rest height" or "vertical stiffness" or "swing period") && FreeMeasures.Of(kind, part.Name, apparatus, At()) is { } free)
            return Make(At(), free, session);
        switch (kind.Name)
        {
            case "height" or "speed":
                var flight = session.Release(circumstances, measure.After!.Value);
                var there = kind.Name == "height" ? flight.Height : flight.Speed;
                return new Answer(there.Value, there.Bar, session.Route.Name, flight.Remark);
            case "lift":
            case "force along y":
                return Make(At(), Known(At().ForceUp, part.Name), session);
            case "force along x":
                return Make(At(), Known(At().ForceX, part.Name), session);
            case "sideways stiffness":
                return At().Strays.TryGetValue(part.Name, out var stray) ? Make(At(), stray.Value.Sideways, session, stray.Value.Remark)
                    : Make(At(), Known(At().Sideways, part.Name), session, "The least over all horizontal directions; below zero it runs away.");
            case "tilting stiffness":
                return At().Strays.TryGetValue(part.Name, out var turned) ? Make(At(), turned.Value.Tilting, session, "For each radian, held in the middle.")
                    : throw new RouteFailedException($"This route finds no tilting stiffness of '{part.Name}'.");
            case "heat":
                return Make(At(), Known(At().Heat, part.Name), session);
            case "flux":
                return Make(At(), Known(At().Flux, part.Name), session);
            case "flux density":
                var core = (CoreShape)part.Shape;
                return Make(At(), Known(At().Flux, part.Name).Times(1 / ((core.OuterRadius - core.InnerRadius) * apparatus.Depth!.Value)), session);
            case "pull across gap":
                return Make(At(), Known(At().GapPull, part.Name), session);
        }

        var rest = session.Rest(circumstances, part);
        if (kind.Name == "rest height")
            return new Answer(rest.Height.Value, rest.Height.Bar, session.Route.Name, rest.Floats ? ""
                : FormattableString.Invariant($"It does not lift: at its lowest place the lift is {rest.LowestLift!.Value.Value:G3} N against a weight of {Floats.Weight(part, apparatus.Depth):G3} N."));
        if (rest.Stiffness is not { } stiffness)
            throw new RouteFailedException($"'{part.Name}' does not lift, so it has no stiffness about a rest.");
        if (kind.Name == "vertical stiffness")
            return new Answer(stiffness.Value, stiffness.Bar, session.Route.Name);
        double period = 2 * Math.PI * Math.Sqrt(Floats.Mass(part, apparatus.Depth) / stiffness.Value);
        return new Answer(period, 0.5 * period * stiffness.RelativeBar, session.Route.Name, "From the steady stiffness; the lag of the induced currents is left out.");
    }

    public static Answer OfWinding(MeasureKind kind, Measure measure, Apparatus apparatus, OperatingPoint point, RouteName route)
    {
        int i = apparatus.IndexOf(apparatus.Winding(measure.Subject!)!);
        var winding = apparatus.Windings[i];
        double current = point.Currents[winding.Name].Magnitude, bar = point.CurrentRelativeBar;
        bool alternating = apparatus.Frequency > 0;
        double rms = alternating ? current / RootTwo : current;
        switch (kind.Name)
        {
            case "current":
                return new Answer(rms, rms * bar, route, point.Remark);
            case "copper loss":
                double loss = rms * rms * Warming.Resistance(winding, apparatus);
                return new Answer(loss, 2 * loss * bar, route, point.Remark);
            case "inductance":
                double l = Inductance(point)[i, i];
                return new Answer(l, Math.Abs(l) * point.ImpedanceRelativeBar, route, point.Remark).Within(point.InductanceBounds?[i, i], StaticMagnetics.WhyUnbounded(apparatus, route, winding.Name));
            case "reluctance":
                double inductance = Inductance(point)[i, i], reluctance = winding.Turns * winding.Turns / inductance;
                Bracket? bounds = point.InductanceBounds?[i, i] is { Lower: > 0 } b ? new(winding.Turns * winding.Turns / b.Upper, winding.Turns * winding.Turns / b.Lower) : null;
                return new Answer(reluctance, Math.Abs(reluctance) * point.ImpedanceRelativeBar, route, point.Remark).Within(bounds, StaticMagnetics.WhyUnbounded(apparatus, route, winding.Name));
            default:
                var voltage = VoltageAcross(apparatus, point, i);
                return new Answer(voltage.Value / (alternating ? RootTwo : 1), voltage.Bar / (alternating ? RootTwo : 1), route, point.Remark);
        }
    }

    private static Answer OfPair(MeasureKind kind, Measure measure, Apparatus apparatus, OperatingPoint point, RouteName route)
    {
        int i = apparatus.IndexOf(apparatus.Winding(measure.Subject!)!), j = apparatus.IndexOf(apparatus.Winding(measure.Other!)!);
        var l = Inductance(point);
        double mean = Math.Sqrt(Math.Abs(l[i, i] * l[j, j]));
        return kind.Name == "coupling"
            ? new Answer(l[i, j] / mean, 2 * point.ImpedanceRelativeBar, route, point.Remark)
            : new Answer(l[i, j], mean * point.ImpedanceRelativeBar, route, point.Remark).Within(point.InductanceBounds?[i, j], StaticMagnetics.WhyUnbounded(apparatus, route, null));
    }

    private static Answer OfSupply(MeasureKind kind, Measure measure, Apparatus apparatus, OperatingPoint point, RouteName route)
    {
        var supply = apparatus.Supply(measure.Subject!)!;
        var at = SupplyNetwork.AtTerminals(apparatus, supply, point);
        double root = apparatus.Frequency > 0 ? RootTwo : 1;
        double bar = Math.Max(point.CurrentRelativeBar, point.ImpedanceRelativeBar);
        string remark = Join(point.Remark, SupplyNetwork.OfLimit(apparatus, supply, point.Currents));
        return kind.Name switch
        {
            "voltage needed" => new Answer(at.Voltage / root, at.Voltage / root * bar, route, remark),
            "current" => new Answer(at.Current / root, at.Current / root * point.CurrentRelativeBar, route, remark),
            "power" => new Answer(at.Real, Math.Abs(at.Real) * 2 * point.CurrentRelativeBar + at.Apparent * point.ImpedanceRelativeBar, route, remark),
            _ => new Answer(at.Real / at.Apparent, bar, route, remark),
        };
    }

    private static Answer OfLoad(MeasureKind kind, Measure measure, Apparatus apparatus, OperatingPoint point, RouteName route)
    {
        var load = apparatus.Load(measure.Subject!)!;
        double rms = point.Currents[apparatus.Winding(load.On)!.Name].Magnitude / (apparatus.Frequency > 0 ? RootTwo : 1);
        var (voltage, power, light) = SupplyNetwork.LoadAt(load, rms);
        double bar = point.CurrentRelativeBar;
        string remark = kind.Name == "brightness" && voltage < FilamentLamp.TrustedFrom * load.RatedVoltage
            ? Join(point.Remark, "Far below rated voltage the power law of light is stretched; the true light is less.") : point.Remark;
        // A small change of current moves each answer by its own exponent; taken from the load's law itself.
        var above = SupplyNetwork.LoadAt(load, rms * (1 + Math.Max(bar, 1e-9)));
        return kind.Name switch
        {
            "current" => new Answer(rms, rms * bar, route, point.Remark),
            "voltage" => new Answer(voltage, Math.Abs(above.Voltage - voltage), route, point.Remark),
            "power" => new Answer(power, Math.Abs(above.Power - power), route, point.Remark),
            // Where the law is stretched the true light lies anywhere below what it says.
            _ => new Answer(light, Math.Max(Math.Abs(above.Light - light), voltage < FilamentLamp.TrustedFrom * load.RatedVoltage ? light : 0), route, remark),
        };
    }

    private static Estimate VoltageAcross(Apparatus apparatus, OperatingPoint point, int i)
    {
        var z = point.Impedance ?? throw new RouteFailedException("The route gave no impedances.");
        Complex voltage = 0;
        double spread = 0;
        for (int j = 0; j < apparatus.Windings.Count; j++)
        {
            var current = point.Currents[apparatus.Windings[j].Name];
            voltage += z[i, j] * current;
            spread += Math.Sqrt(z[i, i].Magnitude * z[j, j].Magnitude) * current.Magnitude;
        }

        return new Estimate(voltage.Magnitude, spread * point.ImpedanceRelativeBar + voltage.Magnitude * point.CurrentRelativeBar);
    }

    private static Estimate Known(IReadOnlyDictionary<string, Estimate> all, string part) =>
        all.TryGetValue(part, out var value) ? value : throw new RouteFailedException($"This route gives none for '{part}' here.");

    private static double[,] Inductance(OperatingPoint point) => point.Inductance ?? throw new RouteFailedException("The route gave no inductances.");

    private static Answer Make(OperatingPoint point, Estimate estimate, RouteSession session, string remark = "") =>
        new(estimate.Value, estimate.Bar, session.Route.Name, Join(point.Remark, remark));

    private static string Join(string a, string b) => a.Length == 0 ? b : b.Length == 0 ? a : a + " " + b;
}
