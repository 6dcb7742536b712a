using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Liquids;

namespace Fieldwright.Bench.Travelling;

/// <summary>What is asked of a channel of liquid metal in a travelling field.</summary>
/// <remarks>The liquid is taken to move as one piece; friction is that of the duct and pipes without a field, which a strong field across the channel only calms.</remarks>
internal static class PumpMeasures
{
    // Darcy's factor of a rectangular duct by the formula for pipes: ±10 % (common practice, no source).
    internal const double FrictionSpread = 0.1;

    private const int Samples = 32;

    internal const string NoNozzle = "No nozzle is given: this is the height at which the column stands, nothing flowing.";

    internal const string CannotLift = "It cannot even hold the lift.";

    private const string AsOnePiece = "The liquid is taken to move as one piece, with the friction of ducts without a field.";

    /// <summary>The kinds of measure.</summary>
    public static IReadOnlyList<MeasureKind> Kinds { get; } =
    [
        new("standstill pressure", "of", SubjectKind.Part, "kPa", false, "Pressure that the field makes along a channel while nothing flows."),
        new("pressure", "of", SubjectKind.Part, "kPa", false, "Pressure that the field makes along a channel at the flow that is set."),
        new("head", "of", SubjectKind.Part, "mm", false, "Height of liquid that the standstill pressure carries."),
        new("flow", "of", SubjectKind.Part, "L/min", false, "Flow at which the pressure is used up by friction, pipes and lift."),
        new("fountain height", "of", SubjectKind.Part, "mm", false, "Height of the jet above the nozzle, the friction of ducts and pipes counted and that of air left out."),
        new("Hartmann number", "of", SubjectKind.Part, "", false, "How strongly the field across a channel holds its liquid, against viscosity."),
        ConductionPumpMeasures.ElectrodeVoltage,
    ];

    /// <summary>What a kind needs of an operating point; null for the kinds of others.</summary>
    public static Wanted? NeedsOf(MeasureKind kind) => kind.Name switch
    {
        "standstill pressure" or "pressure" or "head" => Wanted.Forces,
        "electrode voltage" => Wanted.Heat,
        "flow" or "fountain height" or "Hartmann number" => Wanted.Forces | Wanted.Curve,
        _ => null,
    };

    /// <summary>Whether a kind means something for a part; null for the kinds of others.</summary>
    public static bool? MakesSense(MeasureKind kind, Part part) => NeedsOf(kind) is null ? null
        : (part.Shape is PumpChannelShape || (part is { Channel: not null, Shape: RectangleShape } && kind != ConductionPumpMeasures.ElectrodeVoltage)) && (kind.Name is "standstill pressure" or "pressure" or "electrode voltage" || part.Material.Density is not null)
            && (part.Material.DynamicViscosity is not null || !(kind.Name is "flow" or "Hartmann number" || (kind.Name == "fountain height" && part.Channel?.NozzleBore is not null)));

    /// <summary>An answer; null for the kinds of others.</summary>
    /// <exception cref="RouteFailedException">The route could not answer.</exception>
    public static Answer? Of(MeasureKind kind, Measure measure, Circumstances circumstances, RouteSession session)
    {
        if (NeedsOf(kind) is null)
            return null;
        var apparatus = circumstances.Apparatus;
        var part = apparatus.Part(measure.Subject!)!;
        if (part.Shape is PumpChannelShape)
            return ConductionPumpMeasures.Of(kind, part, circumstances, session);
        double height = ((RectangleShape)part.Shape).Height, across = part.Across ?? apparatus.Depth!.Value;
        var (force, remark) = TravelMeasures.Thrust(session, kind.Name == "pressure" ? circumstances : TravelMeasures.AtSpeed(circumstances, part, 0), part);
        var pressure = force.Times(1 / (across * height));
        var route = session.Route.Name;
        switch (kind.Name)
        {
            case "standstill pressure" or "pressure":
                return new Answer(pressure.Value, pressure.Bar, route, remark);
            case "head":
                var head = pressure.Times(1 / (part.Material.Density!.Value * PhysicalConstants.StandardGravity));
                return new Answer(head.Value, head.Bar, route, remark);
            case "Hartmann number":
                var point = session.At(circumstances, Wanted.Forces | Wanted.Curve);
                var field = point.FieldAcross.Value.TryGetValue(part.Name, out var found) ? found : throw new RouteFailedException($"The route gave no field across '{part.Name}'.");
                double number = HartmannFlow.Number(field.Value, 0.5 * height, part.Material.ConductivityAt(apparatus.Ambient), part.Material.DynamicViscosity!.Value);
                return new Answer(number, number * field.RelativeBar, route, "With the root mean square of the alternating field across the channel; a guide, for the number is made for a steady field.");
        }

        Estimate At(double speed) => TravelMeasures.Thrust(session, TravelMeasures.AtSpeed(circumstances, part, speed), part).Estimate.Times(1 / (across * height));
        double fastest = Math.Abs(apparatus.FieldSpeed() ?? throw new RouteFailedException("Nothing travels here."));
        double way = Math.Sign(apparatus.FieldSpeed()!.Value), area = across * height;
        var channel = part.Channel!;
        bool jet = kind.Name == "fountain height";
        if (jet && channel.NozzleBore is null)
        {
            var still = pressure.Times(1 / (part.Material.Density!.Value * PhysicalConstants.StandardGravity));
            return new Answer(Math.Max(0, still.Value - channel.Lift), still.Bar, route, TravelMeasures.Join(remark, NoNozzle));
        }

        // Once for all speeds: between them the pressure goes straight, far nearer than friction is known.
        var curve = Enumerable.Range(0, Samples + 1).Select(i => At(way * fastest * i / Samples)).ToArray();
        double Pressure(double v, double sign)
        {
            double place = Math.Clamp(v / fastest, 0, 1) * Samples;
            int i = Math.Min((int)place, Samples - 1);
            double One(Estimate e) => way * e.Value + sign * e.Bar;
            return One(curve[i]) + (place - i) * (One(curve[i + 1]) - One(curve[i]));
        }

        double Speed(double friction, double sign)
        {
            double Needed(double v) => friction * Losses(part, channel, apparatus, v, across, height) + part.Material.Density!.Value * (PhysicalConstants.StandardGravity * channel.Lift + (jet ? 0.5 * Squared(v * area / Area(channel.NozzleBore!.Value)) : 0));
            return LiquidPump.WorkingSpeed(v => Pressure(v, sign), Needed, fastest);
        }

        try
        {
            double speed = Speed(1, 0), bar = 0.5 * Math.Abs(Speed(1 - FrictionSpread, 1) - Speed(1 + FrictionSpread, -1));
            if (!jet)
                return new Answer(speed * area, bar * area, route, TravelMeasures.Join(remark, speed == 0 ? CannotLift : AsOnePiece));
            double out0 = speed * area / Area(channel.NozzleBore!.Value), rise = out0 * out0 / (2 * PhysicalConstants.StandardGravity);
            return new Answer(rise, speed == 0 ? 0 : 2 * rise * bar / speed, route, TravelMeasures.Join(remark, AsOnePiece));
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    // Channel and pipe in series; fittings count in heads of the pipe's speed.
    private static double Losses(Part part, Channel channel, Apparatus apparatus, double speed, double across, double height)
    {
        double density = part.Material.Density!.Value, viscosity = part.Material.DynamicViscosity ?? 0;
        if (speed <= 0 || viscosity == 0)
            return 0;
        double loss = DuctFriction.PressureLoss(speed, across, height, ((RectangleShape)part.Shape).Width, density, viscosity);
        return loss + PipeLosses(channel, density, viscosity, speed * across * height);
    }

    /// <summary>What pipe and fittings take at a flow, Pa.</summary>
    internal static double PipeLosses(Channel channel, double density, double viscosity, double flow)
    {
        if (channel.PipeLength == 0 || viscosity == 0 || flow == 0)
            return 0;
        double v = flow / Area(channel.PipeBore);
        double factor = DuctFriction.Pipe(density * v * channel.PipeBore / viscosity).Factor;
        return (factor * channel.PipeLength / channel.PipeBore + channel.Fittings) * 0.5 * density * v * v;
    }

    internal static double Area(double bore) => 0.25 * Math.PI * bore * bore;

    private static double Squared(double x) => x * x;
}
