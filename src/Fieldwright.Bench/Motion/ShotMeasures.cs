using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Travelling;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Motion;

/// <summary>What is asked of a part that is thrown: a slug in a row of polyphase coils, by its steady thrust; a ring, disc or tube before a capacitor bank or the mains, followed in time.</summary>
internal sealed class ShotMeasures : MeasureFamily
{
    private const double CatcherWeights = 10;

    private static readonly MeasureKind
        Speed = new("mouth speed", "of", SubjectKind.Part, "m/s", false, "Speed at which a thrown part, started from rest where it lies, leaves its tube or its row of coils."),
        ShotTime = new("shot time", "of", SubjectKind.Part, "ms", false, "Time from switching on until it has left."),
        Heat = new("heat per shot", "in", SubjectKind.Part, "J", false, "Heat that a shot leaves in a part, until it has left."),
        WindingHeat = new("heat per shot", "in", SubjectKind.Winding, "J", false, "Heat that a shot leaves in the wire of a winding, until the part has left."),
        Climb = new("climb", "of", SubjectKind.Part, "mm", false, "Height that a thrown part rises above the mouth, air left out."),
        Jump = new("jump height", "of", SubjectKind.Part, "mm", false, "Height that a thrown part rises above where it lay, whether it leaves or falls back, air left out."),
        Energy = new("energy of motion", "of", SubjectKind.Part, "J", false, "Energy of motion of a thrown part as it leaves."),
        Catch = new("stopping distance", "of", SubjectKind.Part, "mm", false, "Way that the catcher needs to stop a thrown part, caught at the mouth."),
        Sensitivity = new("start sensitivity", "of", SubjectKind.Part, "1/s", false, "How the speed at the mouth changes with the height it starts from: 1/s is a millimetre a second for each millimetre."),
        Left = new("energy left", "in", SubjectKind.Supply, "J", false, "Energy left in a capacitor bank when the part has left."),
        Efficiency = new("shot efficiency", "of", SubjectKind.Part, "%", false, "Energy of motion of a thrown part as it leaves, over the energy that the capacitor banks gave for it."),
        Interval = new("shot interval", "of", SubjectKind.Winding, "s", false, "Least time from shot to shot, shot after shot, at which a winding stays within its insulation class.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Speed, ShotTime, Heat, WindingHeat, Climb, Jump, Energy, Catch, Sensitivity, Left, Efficiency, Interval];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) =>
        Shots.Suits(apparatus) ? Wanted.Shot : kind.Subject == SubjectKind.Winding ? Wanted.Forces | Wanted.Heat | Wanted.Impedance | Wanted.Curve : Wanted.Forces | Wanted.Heat | Wanted.Curve;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus)
    {
        var thrown = apparatus.Parts.FirstOrDefault(p => p.GoesWith is null && p.Freedom == Freedom.UpAndDown);
        var part = kind.Subject == SubjectKind.Part ? apparatus.Part(subject!)! : thrown;
        bool bank = Shots.Suits(apparatus), row = thrown is not null && LaunchMeasures.Suits(thrown, apparatus);
        const string Wants = "a part with 'moves: up and down' over or in round coils, fed by a capacitor bank or the mains, or a slug in a row of coils that drives it upwards";
        if (part is null || !(bank || row))
            return Wants;
        if (kind.Subject == SubjectKind.Part && kind != Heat && part.Freedom != Freedom.UpAndDown)
            return Wants;
        if (kind == Heat && !FieldModels.Conducts(part))
            return "metal in which currents can flow";
        bool banked = apparatus.Supplies.Any(s => s.Capacitance is not null);
        if (kind == Left && apparatus.Supply(subject!)!.Capacitance is null || (kind == Efficiency && !banked))
            return "a capacitor bank";
        if ((kind == Jump || kind == Left || kind == Efficiency || kind == Sensitivity) && !bank)
            return "a part before a capacitor bank or the mains; of a row of polyphase coils ask 'climb'";
        return null;
    }

    /// <inheritdoc/>
    public override Answer Answer(Asked asked) => Shots.Suits(asked.Apparatus) ? Thrown(asked) : ByRow(asked);

    // A row of polyphase coils.
    private static Answer ByRow(Asked asked)
    {
        var apparatus = asked.Apparatus;
        var part = asked.Kind.Subject == SubjectKind.Part ? apparatus.Part(asked.Measure.Subject!)! : apparatus.Parts.First(p => p.GoesWith is null && p.Freedom == Freedom.UpAndDown);
        var shot = LaunchMeasures.Of(part, asked.Circumstances, asked.Session!);
        if (asked.Kind == Heat)
            return asked.Answer(shot.Heat.Value, shot.Heat.Bar, shot.Remark);
        if (asked.Kind.Subject != SubjectKind.Winding)
            return OfSpeed(asked, shot.Speed, shot.Time, apparatus.LeadOf(part), shot.Mass, shot.Remark);
        var point = asked.Point(Wanted.Impedance);
        double peak = point.Currents[asked.Winding.Name].Magnitude, watts = 0.5 * peak * peak * Warming.Resistance(asked.Winding, apparatus);
        var heat = new Estimate(watts * shot.Time.Value, watts * shot.Time.Value * (shot.Time.RelativeBar + 2 * point.CurrentRelativeBar));
        return asked.Kind == WindingHeat ? asked.Answer(heat.Value, heat.Bar, shot.Remark) : IntervalOf(asked, heat, shot.Remark);
    }

    // A bank or the mains, followed in time.
    private static Answer Thrown(Asked asked)
    {
        var apparatus = asked.Apparatus;
        var part = Releases.Part(apparatus);
        var shot = asked.Session!.Throw(asked.Circumstances);
        double mass = Floats.Mass(part);
        if (asked.Kind == Jump)
            return JumpOf(asked, shot, part, mass);
        if (!shot.Left)
            throw new RouteFailedException(FormattableString.Invariant(
                $"It does not leave: in {shot.Time.Value * 1e3:0} ms it gets no higher than {(shot.Top.Value - part.Place.Z) * 1e3:0.#} mm above where it lay, and the mouth is {Shots.Way(apparatus) * 1e3:0.#} mm above it."));
        if (asked.Kind == Heat)
            return HeatOf(asked, shot);
        if (asked.Kind == WindingHeat || asked.Kind == Interval)
        {
            var heat = shot.WindingHeat[asked.Winding.Name];
            // What is left in bank and field ends in the wire too unless it is switched off: the interval counts it.
            string rest = FormattableString.Invariant($"What bank and field still hold then, {shot.InBanks.Value + shot.InField.Value:G3} J, is not in it.");
            return asked.Kind == WindingHeat ? asked.Answer(heat.Value, heat.Bar, rest, Shots.Remark)
                : IntervalOf(asked, new Estimate(heat.Value + shot.InBanks.Value + shot.InField.Value, heat.Bar + shot.InBanks.Bar + shot.InField.Bar), "What bank and field still hold as it leaves is counted as heat of this winding.");
        }

        if (asked.Kind == Left)
            return apparatus.Supplies.Count(s => s.Capacitance is not null) == 1 ? asked.Answer(shot.InBanks.Value, shot.InBanks.Bar, Shots.Remark)
                : throw new RouteFailedException(FormattableString.Invariant($"Several banks are fired; together they keep {shot.InBanks.Value:G3} J."));
        if (asked.Kind == Efficiency)
        {
            double gave = Shots.BankEnergy(apparatus) - shot.InBanks.Value, motion = 0.5 * mass * shot.Speed.Value * shot.Speed.Value, share = motion / gave;
            return asked.Answer(share, share * (2 * shot.Speed.RelativeBar + shot.InBanks.Bar / gave), Balance(apparatus, shot, mass), Shots.Remark);
        }

        if (asked.Kind == Sensitivity)
            return SensitivityOf(asked, shot, part);
        return OfSpeed(asked, shot.Speed, shot.Time, part, mass, asked.Kind == Speed ? TravelMeasures.Join(Balance(apparatus, shot, mass), Shots.Remark) : Shots.Remark, shot.Force);
    }

    private static Answer OfSpeed(Asked asked, Estimate speed, Estimate time, Part part, double mass, string remark, double force = 0)
    {
        double weight = mass * PhysicalConstants.StandardGravity, energy = 0.5 * mass * speed.Value * speed.Value, relative = 2 * speed.RelativeBar;
        if (asked.Kind == Speed)
            return asked.Answer(speed.Value, speed.Bar, remark);
        if (asked.Kind == ShotTime)
            return asked.Answer(time.Value, time.Bar, remark);
        if (asked.Kind == Energy)
            return asked.Answer(energy, relative * energy, remark);
        if (asked.Kind == Climb)
            // The field still pushes a little beyond the mouth, over about the radius of the part.
            return asked.Answer(energy / weight, relative * energy / weight + Math.Abs(force) * Radius(part.Shape) / weight, remark);
        double grip = part.Catcher ?? CatcherWeights * weight, net = grip + weight;
        double way = energy / net;
        string says = part.Catcher is null ? FormattableString.Invariant($"A catcher that brakes with ten times its weight, {grip:G3} N.") : FormattableString.Invariant($"With {grip:G3} N.");
        return asked.Answer(way, relative * way, says, "Its weight helps; a catcher that lies level, or catches it on the way down, needs more.", remark);
    }

    private static Answer JumpOf(Asked asked, Shot shot, Part part, double mass)
    {
        double start = part.Place.Z;
        if (!shot.Left)
            return shot.Speed.Value <= 0 ? asked.Answer(shot.Top.Value - start, shot.Top.Bar, "It falls back before it has passed the mouth.", Shots.Remark)
                : throw new RouteFailedException(FormattableString.Invariant($"After {shot.Time.Value * 1e3:0} ms it has neither left nor fallen back."));
        double above = shot.Speed.Value * shot.Speed.Value / (2 * PhysicalConstants.StandardGravity), weight = mass * PhysicalConstants.StandardGravity;
        return asked.Answer(Shots.Way(asked.Apparatus) + above, 2 * above * shot.Speed.RelativeBar + Math.Abs(shot.Force) * Radius(part.Shape) / weight, Shots.Remark);
    }

    private static Answer HeatOf(Asked asked, Shot shot)
    {
        var metal = asked.Apparatus.Parts.Where(FieldModels.Conducts).ToList();
        return metal.Count == 1 ? asked.Answer(shot.MetalHeat.Value, shot.MetalHeat.Bar, Shots.Remark)
            : throw new RouteFailedException(FormattableString.Invariant($"Currents are induced in several parts; together a shot leaves {shot.MetalHeat.Value:G3} J in them."));
    }

    private static Answer SensitivityOf(Asked asked, Shot shot, Part part)
    {
        double step = 0.05 * Radius(part.Shape), start = part.Place.Z;
        var mouth = new Setting(new InputName("mouth", part.Name, "mouth of " + part.Name), Shots.Mouth(asked.Apparatus));
        Shot At(double up) => asked.Session!.Throw(RouteSession.AtHeight(asked.Circumstances.With(mouth), part, start + up));
        Shot above = At(step), twice = At(2 * step);
        // Upwards only: below it may stand on its coil. Second order, its error from the plain difference.
        double slope = (4 * above.Speed.Value - twice.Speed.Value - 3 * shot.Speed.Value) / (2 * step), plain = (above.Speed.Value - shot.Speed.Value) / step;
        return asked.Answer(slope, Math.Abs(slope - plain) + 4 * (shot.Speed.Bar + above.Speed.Bar) / step, "The mouth stays where it is.", Shots.Remark);
    }

    private static Answer IntervalOf(Asked asked, Estimate heat, string remark)
    {
        double limit = InsulationClasses.Limit(asked.Winding.ThermalClass), resistance = Warming.Resistance(asked.Winding, asked.Apparatus);
        // The steady heat that the winding may give off, cold resistance times the square of the steady current: as the heat of a shot is reckoned.
        double Allowed(Cooling how)
        {
            bool Stays(double current)
            {
                try
                {
                    var input = new HeatInput(new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase) { [asked.Winding.Name] = current }, new Dictionary<string, double>());
                    return new HeatNetwork(asked.Apparatus, input, how).Steady()[asked.Winding.Name] <= limit;
                }
                catch (RouteFailedException)
                {
                    return false;
                }
            }

            double low = 0, high = Math.Sqrt(1 / resistance);
            while (Stays(high))
                (low, high) = (high, 2 * high);
            for (int i = 0; i < 20; i++)
            {
                double middle = 0.5 * (low + high);
                (low, high) = Stays(middle) ? (middle, high) : (low, middle);
            }

            return low * low * resistance;
        }

        double value = heat.Value / Allowed(Cooling.AsReckoned);
        double bar = Math.Max(Math.Abs(heat.Value / Allowed(Cooling.Better) - value), Math.Abs(heat.Value / Allowed(Cooling.Worse) - value)) + value * heat.RelativeBar;
        return asked.Answer(value, bar, remark, "Cooled as a lumped network: still air and bare surfaces. Charging the bank may take longer.");
    }

    private static string Balance(Apparatus apparatus, Shot shot, double mass)
    {
        if (apparatus.Supplies.Any(s => s.Capacitance is null))
            return "";
        double held = Shots.BankEnergy(apparatus), motion = 0.5 * mass * shot.Speed.Value * shot.Speed.Value, part = (Floats.Weight(Releases.Part(apparatus)) + Releases.Part(apparatus).Drag) * Shots.Way(apparatus);
        double open = held - shot.InBanks.Value - shot.CircuitHeat.Value - shot.MetalHeat.Value - shot.InField.Value - motion - part;
        return FormattableString.Invariant(
            $"Of {held:G3} J in the bank {motion:G3} J is motion, {shot.CircuitHeat.Value:G3} J heat in wire and leads, {shot.MetalHeat.Value:G3} J heat in metal, {part:G2} J height and drag, {shot.InField.Value:G2} J still field, {shot.InBanks.Value:G3} J still in the bank; {Math.Abs(open):G1} J is not accounted for.");
    }

    private static double Radius(Shape shape) => shape is DiscShape d ? d.Radius : shape is RingShape r ? r.OuterRadius : 0.01;
}
