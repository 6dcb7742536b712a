using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Liquids;

namespace Fieldwright.Bench.Travelling;

/// <summary>What is asked of a channel of liquid metal with direct current across it.</summary>
/// <remarks>Positive along the channel's own x. A steady field across a channel calms turbulence and thickens the wall layers: the greater of Hartmann's friction and the duct's own is taken, and the lesser goes into the bar.</remarks>
internal static class ConductionPumpMeasures
{
    /// <summary>The voltage of the electrodes, which only such a channel has.</summary>
    public static MeasureKind ElectrodeVoltage { get; } =
        new("electrode voltage", "of", SubjectKind.Part, "mV", false, "Voltage between the electrodes of a pump channel while nothing flows, that of leads and contacts left out.");

    /// <summary>An answer to any measure of a pump.</summary>
    /// <exception cref="RouteFailedException">The route could not answer.</exception>
    public static Answer Of(MeasureKind kind, Part part, Circumstances circumstances, RouteSession session)
    {
        var apparatus = circumstances.Apparatus;
        var shape = (PumpChannelShape)part.Shape;
        if (kind == ElectrodeVoltage)
        {
            // Nothing flows, so all power in is heat.
            var warmed = session.At(circumstances, Wanted.Heat);
            var heat = warmed.Heat[part.Name];
            return shape.Carries == 0 ? new Answer(0, 0, session.Route.Name, warmed.Remark) : new Answer(heat.Value / shape.Carries, heat.Bar / Math.Abs(shape.Carries), session.Route.Name, warmed.Remark);
        }

        var point = session.At(circumstances, Wanted.Forces);
        var field = point.FieldAcross.Value.TryGetValue(part.Name, out var found) ? found : throw new RouteFailedException($"The route gave no field across '{part.Name}'.");
        Answer Make(double value, double bar, string remark = "") => new(value, Math.Abs(bar), session.Route.Name, TravelMeasures.Join(point.Remark, remark));
        var material = part.Material;
        var still = Pressure(field.Value, 0);
        double Pressure(double fluxDensity, double speed) => ConductionPumpRoute.Pump(apparatus, part, fluxDensity).At(shape.Carries, speed).Pressure;
        switch (kind.Name)
        {
            case "standstill pressure" or "pressure":
                return Make(still, still * field.RelativeBar);
            case "Hartmann number":
                double number = HartmannFlow.Number(Math.Abs(field.Value), 0.5 * shape.Thickness, material.ConductivityAt(apparatus.Ambient), material.DynamicViscosity!.Value);
                return Make(number, number * field.RelativeBar);
        }

        double density = material.Density!.Value, weight = density * PhysicalConstants.StandardGravity, head = still / weight;
        var channel = part.Channel ?? new Channel(0, 0.01, 0, 0, null);
        bool jet = kind.Name == "fountain height";
        if (kind.Name == "head")
            return Make(head, head * field.RelativeBar);
        if (jet && channel.NozzleBore is null)
            return Make(Math.Max(0, head - channel.Lift), head * field.RelativeBar, PumpMeasures.NoNozzle);
        if (still <= 0)
            return Make(0, 0, "It drives the other way.");
        double section = shape.Width * shape.Thickness, viscosity = material.DynamicViscosity ?? 0, nozzle = channel.NozzleBore is { } bore ? PumpMeasures.Area(bore) : double.PositiveInfinity;
        double Speed(double relativeField, bool greater, double spread)
        {
            double Spare(double v)
            {
                double loss = PumpMeasures.PipeLosses(channel, density, viscosity, v * section) * spread;
                if (viscosity > 0 && v > 0)
                {
                    double ha = HartmannFlow.Number(Math.Abs(field.Value), 0.5 * shape.Thickness, material.ConductivityAt(apparatus.Ambient), viscosity);
                    double a = HartmannFlow.PressureLoss(v, shape.Length, 0.5 * shape.Thickness, viscosity, ha), b = spread * DuctFriction.PressureLoss(v, shape.Width, shape.Thickness, shape.Length, density, viscosity);
                    loss += greater ? Math.Max(a, b) : Math.Min(a, b);
                }

                double through = v * section / nozzle;
                return Pressure(relativeField * field.Value, v) - loss - weight * channel.Lift - (jet ? 0.5 * density * through * through : 0);
            }

            double fastest = 0.1;
            while (Spare(fastest) > 0 && fastest < FastestLooked)
                fastest *= 2;
            return LiquidPump.WorkingSpeed(Spare, _ => 0, fastest);
        }

        try
        {
            double share = Math.Min(field.RelativeBar, 0.99), speed = Speed(1, true, 1);
            double bar = Math.Max(Speed(1 + share, false, 1 - PumpMeasures.FrictionSpread) - speed, speed - Speed(1 - share, true, 1 + PumpMeasures.FrictionSpread));
            if (!jet)
                return Make(speed * section, bar * section, speed == 0 ? PumpMeasures.CannotLift : "");
            double through = speed * section / nozzle, rise = through * through / (2 * PhysicalConstants.StandardGravity);
            return Make(rise, speed == 0 ? 0 : rise * ((1 + bar / speed) * (1 + bar / speed) - 1), speed == 0 ? PumpMeasures.CannotLift : "");
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    private const double FastestLooked = 1e3;
}
