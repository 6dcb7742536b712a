using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Matter;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>What squeezes and what flies.</summary>
internal static class ForceHazards
{
    /// <summary>Strong magnets: the most they can pull when they meet one another or thick steel.</summary>
    /// <remarks>No magnet's pull on whatever it meets is more than its remanence squared over twice the magnetic constant, times the face.</remarks>
    public static IEnumerable<Caution> Magnets(WorstOf worst)
    {
        var limit = BlowLimits.SqueezedFingers;
        foreach (var magnet in worst.Apparatus.Parts.Where(p => p.Magnetised is not null && p.Material.Remanence > 0.1))
        {
            double pressure = magnet.Material.Remanence * magnet.Material.Remanence / (2 * PhysicalConstants.MagneticConstant);
            double? pull = Face(magnet.Shape, worst.Apparatus.Depth) is { } face ? pressure * face : null;
            if (pull <= 0.1 * limit.Value)
                continue;
            yield return new Caution(
                "pinch " + magnet.Name,
                pull is { } force
                    ? Text($"'{magnet.Name}' can snap on to steel or another magnet with up to {Force(force)}, {force / PhysicalConstants.StandardGravity:0.#} kg of weight.")
                    : Text($"'{magnet.Name}' can snap on to steel or another magnet with up to {pressure * 1e-4:0.#} N a square centimetre of its face."),
                Text($"{limit.Value:0} N squeezes a finger as hard as it may be beside a machine"),
                limit.Document, limit.Grade,
                "Handle one at a time with gloves and eye protection, slide magnets apart, keep steel tools, cards and watches a pace away; such magnets splinter.",
                false);
        }
    }

    /// <summary>The faces of a cut core.</summary>
    public static IEnumerable<Caution> AcrossGap(WorstOf worst)
    {
        var limit = BlowLimits.SqueezedFingers;
        foreach (var core in worst.Apparatus.Parts.Where(p => p.Shape is CoreShape))
        {
            if (worst.Most("pull across gap", SubjectKind.Part, core.Name) is not { } pull || pull <= 0.25 * limit.Value)
                continue;
            yield return new Caution(
                "closing gap " + core.Name,
                Text($"The faces of '{core.Name}' pull together with up to {Force(pull)}."),
                Text($"{limit.Value:0} N squeezes a finger as hard as it may be beside a machine"),
                limit.Document, limit.Grade,
                "Wedge the gap with a hard spacer before switching on; keep fingers out of it.",
                false);
        }
    }

    /// <summary>Parts that are thrown: the energy they can take up.</summary>
    public static IEnumerable<Caution> Loose(WorstOf worst)
    {
        var limit = BlowLimits.HardProjectile;
        foreach (var part in worst.Apparatus.Parts.Where(p => p.Freedom != Freedom.Fixed && Floats.MassIsKnown(p)))
        {
            double mass = Floats.Mass(part, worst.Apparatus.Depth);
            // A shot is followed in time, so the quickest route must do; a body that falls back leaves as fast as it has to for its height.
            double? jump = worst.MostQuickly("jump height", SubjectKind.Part, part.Name) is { } high ? Math.Sqrt(2 * PhysicalConstants.StandardGravity * high) : null;
            double? speed = new[] { worst.MostQuickly("mouth speed", SubjectKind.Part, part.Name), worst.Most("top speed", SubjectKind.Part, part.Name), jump }.Max();
            if (speed is { } fast)
            {
                double energy = 0.5 * mass * fast * fast;
                if (energy > limit.Value)
                    yield return new Caution(
                        "projectile " + part.Name,
                        Text($"'{part.Name}' can leave with {fast:0.#} m/s and {energy:0.##} J; flung straight up it would rise {fast * fast / (2 * PhysicalConstants.StandardGravity):0.#} m."),
                        Text($"{limit.Value:0.##} J for a hard body that flies freely among people"),
                        limit.Document, limit.Grade,
                        "Fire it into a closed catcher, never towards people; eye protection for all within reach; one person only holds the switch.",
                        false);
                continue;
            }

            // What hovers is thrown off its coils at first if it is switched on at full current while it lies low.
            if (worst.Lift(part.Name) is { } lift && lift > 3 * mass * PhysicalConstants.StandardGravity)
                yield return new Caution(
                    "jumping " + part.Name,
                    Text($"The lift on '{part.Name}' where the file puts it is {lift / (mass * PhysicalConstants.StandardGravity):0.#} times its weight: it jumps when switched on."),
                    Text($"three times its weight"),
                    "common practice, no source", 'c',
                    "Bring the current up slowly from nothing, and stand a guard round it that it cannot leave over.",
                    false);
        }
    }

    /// <summary>What is drawn down on to a coil or steel, and on fingers between.</summary>
    public static IEnumerable<Caution> DrawnDown(WorstOf worst)
    {
        var limit = BlowLimits.SqueezedFingers;
        foreach (var part in worst.Apparatus.Parts.Where(p => p.Freedom != Freedom.Fixed))
        {
            if (worst.Lift(part.Name, down: true) is not { } pull || pull <= 0.25 * limit.Value)
                continue;
            yield return new Caution(
                "drawn down " + part.Name,
                Text($"'{part.Name}' is pulled down with up to {Force(pull)} where the file puts it, and harder as it comes nearer."),
                Text($"{limit.Value:0} N squeezes a finger as hard as it may be beside a machine"),
                limit.Document, limit.Grade,
                "Keep fingers from under it; lay a hard spacer where it comes to rest before switching on.",
                false);
        }
    }

    private static string Force(double newtons) => newtons < 1000 ? Text($"{newtons:0} N") : Text($"{newtons / 1000:0.0} kN");

    // The largest flat face, m²; null where a shape has none that is known.
    private static double? Face(Shape shape, double? depth) => shape switch
    {
        DiscShape d => Math.PI * d.Radius * d.Radius,
        RingShape r => Math.PI * (r.OuterRadius * r.OuterRadius - r.InnerRadius * r.InnerRadius),
        RectangleShape r when depth is { } length => Math.Max(r.Width, r.Height) * length,
        BallShape b => Math.PI * b.Radius * b.Radius,
        BlockShape b => Math.Max(b.Length * b.Width, Math.Max(b.Length, b.Width) * b.Thickness),
        _ => null,
    };
}
