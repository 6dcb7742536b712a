using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Series;

namespace Fieldwright.Bench.Motion;

/// <summary>Where a free part goes among magnets, steel and steady coils when it is let go and held back so that it follows the force: to a rest, or against the first thing it meets.</summary>
/// <remarks>The path is followed in steps of a tenth to a half of the part's height along the net force, weight counted. It does not turn, and where it meets something the way ends: it does not slide on.</remarks>
internal sealed class WayMeasures : MeasureFamily
{
    private const int MostSteps = 300;

    // How far it is followed, in its own heights; how near to a thing it counts as touching, m.
    private const double Furthest = 20, Touch = 1e-6;

    // How well it is known where curved bodies touch, m.
    private const double Contact = 2e-5;

    private static readonly MeasureKind
        Height = new("end height", "of", SubjectKind.Part, "mm", false, "Height of the underside of a free part where it ends that is let go where it stands and slowly follows the force: at rest, or against what it meets."),
        Aside = new("end shift", "of", SubjectKind.Part, "mm", false, "How far sideways it has gone by then.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Height, Aside];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => apparatus.Layout == Layout.Free ? Wanted.Space : Wanted.Forces;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        apparatus.Frequency == 0 && apparatus.Layout is Layout.Round or Layout.Free && apparatus.Part(subject!) is { Freedom: Freedom.UpAndDown or Freedom.Freely } part && Floats.MassIsKnown(part)
        && part.Shape is not (FoilLoopShape or PumpChannelShape) && (kind == Height || Roams(apparatus, part))
            ? null : kind == Height ? "a part of known mass that is free to move among magnets or steady coils" : "a part of known mass with 'moves: freely' in a free apparatus";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var part = asked.Apparatus.Part(asked.Measure.Subject!)!;
        var end = Follow(asked, part);
        var way = end.Place - Start(part);
        double aside = double.Hypot(way.X, way.Y);
        string towards = Math.Abs(way.Z) >= aside ? (way.Z > 0 ? "up" : "down")
            : string.Create(CultureInfo.InvariantCulture, $"sideways, {(Math.Atan2(way.Y, way.X) * 180 / Math.PI + 360) % 360:0}° from x towards y");
        string said = way.Length < Touch ? (end.Against is null ? "It stays." : $"It stays where it is, against '{end.Against}'.")
            : end.Against is null ? $"It goes {towards} and comes to rest." : $"It goes {towards} until it meets '{end.Against}'.";
        return asked.Answer(asked.Kind == Height ? end.Place.Z : aside, end.Bar, said, asked.Point(asked.Apparatus.Layout == Layout.Free ? Wanted.Space : Wanted.Forces).Remark);
    }

    private readonly record struct End(Vector Place, double Bar, string? Against);

    private static End Follow(Asked asked, Part part)
    {
        double size = part.Shape.Above, step = 0.1 * size, fall = 0;
        Vector start = Start(part), place = start;
        // On the way a tenth is enough; where it turns round, the whole care.
        var session = asked.Session!.Loosely(0.1);
        var (force, bar) = Force(asked, session, part, place);
        for (int i = 0; i < MostSteps; i++)
        {
            // So near to rest that the force cannot be told from none; how fast it falls there says how near.
            if (force.Length <= bar && session != asked.Session)
            {
                session = asked.Session!;
                (force, bar) = Force(asked, session, part, place);
            }

            if (force.Length <= bar)
                return new End(place, fall > 0 ? (bar + force.Length) / fall : step, null);
            var direction = (1 / force.Length) * force;
            string? met = Meets(asked, part, place + step * direction);
            if (met is not null)
            {
                double clear = Clearance(asked, part, place, step, direction, ref met);
                if (clear <= Touch)
                    return new End(place, Contact, met);
                // Half way to it the force must still point there; if not, it rests between.
                var (near, _) = Force(asked, session, part, place + 0.5 * clear * direction);
                if (Vector.Dot(near, direction) > 0)
                    return new End(place + clear * direction, Contact, met);
                step = 0.5 * clear;
            }

            var next = place + step * direction;
            var (there, barThere) = Force(asked, session, part, next);
            double ahead = Vector.Dot(there, direction);
            fall = (force.Length - ahead) / step;
            if (ahead < 0)
            {
                session = asked.Session!;
                // Between the two places it turns round: a straight line between them, then smaller steps from there.
                next = place + (force.Length / fall) * direction;
                (there, barThere) = Force(asked, session, part, next);
                if (step < 5e-3 * size)
                    return new End(next, (barThere + there.Length) / fall, null);
                step *= 0.25;
            }
            else if (met is null)
                step = Math.Min(1.5 * step, 0.5 * size);

            (place, force, bar) = (next, there, barThere);
            if ((place - start).Length > Furthest * size)
                throw new RouteFailedException(string.Create(CultureInfo.InvariantCulture, $"'{part.Name}' goes away: after {Furthest:0} times its own height nothing has stopped it."));
        }

        throw new RouteFailedException($"The way of '{part.Name}' did not come to an end.");
    }

    // The furthest it can go along a direction before it meets something, by halving.
    private static double Clearance(Asked asked, Part part, Vector place, double step, Vector direction, ref string met)
    {
        double clear = 0, blocked = step;
        while (blocked - clear > 0.5 * Touch)
        {
            double middle = 0.5 * (clear + blocked);
            if (Meets(asked, part, place + middle * direction) is { } what)
                (blocked, met) = (middle, what);
            else
                clear = middle;
        }

        return clear;
    }

    private static (Vector Net, double Bar) Force(Asked asked, RouteSession session, Part part, Vector place)
    {
        var there = To(asked.Apparatus, part, place).Aggregate(asked.Circumstances, (c, s) => c.With(s));
        var weight = new Vector(0, 0, Floats.Mass(part) * PhysicalConstants.StandardGravity);
        if (asked.Apparatus.Layout != Layout.Free)
        {
            var lift = session.At(there, Wanted.Forces, part.Name).ForceUp[part.Name];
            return (new Vector(0, 0, lift.Value) - weight, lift.Bar);
        }

        var load = session.At(there, Wanted.Space, part.Name).Loads[part.Name];
        var net = load.Force - weight;
        return (Roams(asked.Apparatus, part) ? net : new Vector(0, 0, net.Z), load.ForceBar.Length);
    }

    // The name of what it would lie across there, or null.
    private static string? Meets(Asked asked, Part part, Vector place)
    {
        var turned = Inputs.ApplyUnchecked(asked.Apparatus, To(asked.Apparatus, part, place));
        if (Sense.Of(turned, asked.Apparatus) is not [var slip, ..])
            return null;
        return Apparatus.Same(slip.Owner, part.Name) && slip.Across is { } other ? other : slip.Owner;
    }

    private static IEnumerable<Setting> To(Apparatus apparatus, Part part, Vector place)
    {
        Setting Set(string quantity, double value) => new(new InputName(quantity, part.Name, quantity + " of " + part.Name), value);
        return apparatus.Layout == Layout.Free ? [Set("x", place.X), Set("y", place.Y), Set("height", place.Z)] : [Set("height", place.Z)];
    }

    private static bool Roams(Apparatus apparatus, Part part) => apparatus.Layout == Layout.Free && part.Freedom == Freedom.Freely;

    private static Vector Start(Part part) => new(part.Place.X, part.Place.Y, part.Place.Z);
}
