using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Travelling;

namespace Fieldwright.Bench.Routes;

/// <summary>Answers that follow from the file and the tables alone; no field enters.</summary>
internal static class Given
{
    // The tables' own spread: a nominal wire's resistance may lie a per cent or two off (common practice, no source).
    private const double WireSpread = 0.02;

    /// <summary>The answer of a measure that needs no route.</summary>
    public static Answer Answer(MeasureKind kind, Measure measure, Circumstances circumstances)
    {
        var apparatus = circumstances.Apparatus;
        if (MeasureFamily.Of(kind) is { } family)
            return family.Answer(new Asked(kind, measure, circumstances, RouteName.Given, null));
        if (TravelMeasures.Given(kind, measure, apparatus) is { } travelling)
            return travelling;
        switch (kind.Name, kind.Subject)
        {
            case ("weight", _):
                double weight = Floats.Weight(apparatus.Part(measure.Subject!)!, apparatus.Depth);
                return Make(weight, 0);
            case ("melting time", _):
                return Make(FoilRoute.TimeToMelt(apparatus.Part(measure.Subject!)!, apparatus), 0, "No cooling and no heat of melting are counted: it holds at least so long.");
            case ("resistance", _):
                double resistance = Warming.Resistance(apparatus.Winding(measure.Subject!)!, apparatus);
                return Make(resistance, WireSpread * resistance, "Nominal wire; real wire may lie 2 % off (common practice, no source).");
        }

        var point = new OperatingPoint { Currents = SupplyNetwork.ImposedCurrents(apparatus) };
        return MeasureOnRoute.OfWinding(kind, measure, apparatus, point, RouteName.Given);
    }

    private static Answer Make(double value, double bar, string remark = "") => new(value, bar, RouteName.Given, remark);
}
