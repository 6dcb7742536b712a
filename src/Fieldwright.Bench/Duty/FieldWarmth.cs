using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Duty;

/// <summary>Warmth by finite elements in the section of the apparatus.</summary>
/// <remarks>Steady temperatures settle to rounding; steps in time are fitted to a share of the rise. What the mesh leaves open is for whoever asks on two of them.</remarks>
internal sealed class FieldWarmth : Warmth
{
    // A root far below the hall belongs to no warming.
    private const double BelowHall = 0.5;

    // Hotter than anything of this bench ever stays, K; ten days; steps good enough to come near.
    private const double Hopeless = 2000, Longest = 1e6, RoughStep = 0.05;

    // What is less than a kelvin need not be known to the same share; s, a step that hardly anything warms within.
    private const double LeastRange = 1, FirstStep = 0.1;

    private readonly HeatSection section;
    private readonly HeatInput input;
    private readonly Cooling cooling;
    private readonly double ambient, stepError;
    private readonly CancellationToken cancellation;
    private readonly HeatModel model;
    private readonly HeatField start;
    private IReadOnlyDictionary<string, double>? steady;
    private (double Time, HeatField Field)? after;

    /// <summary>The warmth of a section on a mesh of it.</summary>
    /// <param name="section">The section.</param>
    /// <param name="mesh">A mesh of it.</param>
    /// <param name="input">Heat put in.</param>
    /// <param name="cooling">How well it is cooled.</param>
    /// <param name="ambient">Temperature of the hall, K, which everything starts with.</param>
    /// <param name="stepError">Error allowed in a step of time, as a share of the rise.</param>
    /// <param name="cancellation">Stops the work.</param>
    public FieldWarmth(HeatSection section, MeshedModel mesh, HeatInput input, Cooling cooling, double ambient, double stepError, CancellationToken cancellation)
        : this(section, input, cooling, ambient, stepError, section.Model(mesh, input, cooling), null, cancellation)
    {
    }

    private FieldWarmth(HeatSection section, HeatInput input, Cooling cooling, double ambient, double stepError, HeatModel model, HeatField? from, CancellationToken cancellation)
    {
        (this.section, this.input, this.cooling, this.ambient, this.stepError, this.cancellation, this.model) = (section, input, cooling, ambient, stepError, cancellation, model);
        start = from is null ? HeatField.Uniform(model, ambient) : from.With(model);
    }

    /// <summary>The warmth of the same section on the same mesh under another input and cooling, from the hall's temperature.</summary>
    public FieldWarmth Under(HeatInput other, Cooling how) =>
        new(section, other, how, ambient, stepError, section.Model(model.Mesh, other, how), start, cancellation);

    /// <summary>Whether the field route follows the heat of an apparatus.</summary>
    public static bool Suits(Apparatus apparatus) => WhyNot(apparatus) is null && (apparatus.Windings.Count > 0 || apparatus.Parts.Any(HeatSection.TakesPart));

    /// <summary>Why the field route does not follow the heat of an apparatus; null when it does.</summary>
    public static string? WhyNot(Apparatus apparatus) => apparatus switch
    {
        { Layout: Layout.Free } => "A free apparatus has no section in which heat could be followed.",
        _ when apparatus.Windings.Any(w => w.Space is PhaseSpace { Of.Row: RingRow }) => "Heat of coils in a ring of slots is not followed in the section.",
        _ when apparatus.Windings.Any(w => w.Space is FrameSpace) => "A coil round a rectangular opening has no section here.",
        _ => null,
    };

    /// <inheritdoc/>
    public override IReadOnlyDictionary<string, double> After(double time) => time == 0 ? Read(start) : Read(FieldAfter(time));

    /// <inheritdoc/>
    public override IReadOnlyDictionary<string, double> Steady() => steady ??= Read(SteadyField());

    /// <summary>The settled field.</summary>
    /// <exception cref="RouteFailedException">It does not settle.</exception>
    public HeatField SteadyField()
    {
        if (Root(start) is { } near)
            return near;
        // Where it is not found from the hall it is warmed for as long as it takes, in rough steps.
        var warm = start;
        try
        {
            foreach (var field in start.Course(start.Time + Longest, RoughStep, firstStep: FirstStep, leastRange: LeastRange, cancellation: cancellation))
            {
                warm = field;
                if (field.Highest > Hopeless)
                    break;
            }
        }
        catch (FieldNotConvergedException e)
        {
            throw new RouteFailedException(HeatNetwork.NeverSettles, e);
        }

        return warm.Highest <= Hopeless && Root(warm) is { } found ? found : throw new RouteFailedException(HeatNetwork.NeverSettles);
    }

    // Where the balance leads to from a field; null where it leads nowhere real.
    private HeatField? Root(HeatField from)
    {
        try
        {
            var field = from.Settled();
            return field.Lowest > ambient - BelowHall ? field : null;
        }
        catch (FieldNotConvergedException)
        {
            return null;
        }
    }

    /// <summary>The field after a time, s.</summary>
    /// <exception cref="RouteFailedException">It could not be followed.</exception>
    public HeatField FieldAfter(double time)
    {
        if (after is { } known && known.Time == time)
            return known.Field;
        var field = Followed(() => start.Course(start.Time + time, stepError, firstStep: Math.Min(FirstStep, time), leastRange: LeastRange, cancellation: cancellation).Last());
        after = (time, field);
        return field;
    }

    /// <inheritdoc/>
    public override Warmth OffAfter(double time)
    {
        var off = input.Times(0);
        return new FieldWarmth(section, off, cooling, ambient, stepError, section.Model(model.Mesh, off, cooling), time == 0 ? start : FieldAfter(time), cancellation);
    }

    /// <inheritdoc/>
    public override double TimeTo(string body, double temperature, double longest)
    {
        double Now(HeatField field) => section.IsWinding(body) || !body.EndsWith(HotSpot(""), StringComparison.Ordinal) ? field.Mean(section.RegionsOf(body)) : field.HighestIn(section.RegionsOf(body[..^HotSpot("").Length]));
        bool rising = Now(start) < temperature;
        if (rising && SettlesBelow(body, temperature))
            return double.PositiveInfinity;
        bool Passed(double now) => rising ? now >= temperature : now <= temperature;
        return Followed(() =>
        {
            var before = start;
            foreach (var field in start.Course(start.Time + longest, stepError, firstStep: Math.Min(FirstStep, longest), leastRange: LeastRange, cancellation: cancellation))
            {
                if (!Passed(Now(field)))
                {
                    before = field;
                    continue;
                }

                // Within the step: a straight line, mended twice by steps that stop where it points.
                var behind = field;
                for (int i = 0; i < 2; i++)
                {
                    double at = Between(before, behind);
                    if (!(at > before.Time && at < behind.Time))
                        break;
                    var there = before.Course(at, stepError, firstStep: at - before.Time, leastRange: LeastRange, cancellation: cancellation).Last();
                    (before, behind) = Passed(Now(there)) ? (before, there) : (there, behind);
                }

                return Between(before, behind) - start.Time;
            }

            return double.PositiveInfinity;
        });

        double Between(HeatField first, HeatField second) => first.Time + (second.Time - first.Time) * (temperature - Now(first)) / (Now(second) - Now(first));
    }

    private static T Followed<T>(Func<T> work)
    {
        try
        {
            return work();
        }
        catch (FieldNotConvergedException e)
        {
            throw new RouteFailedException("The warming could not be followed: " + e.Message, e);
        }
    }

    private Dictionary<string, double> Read(HeatField field)
    {
        var read = new Dictionary<string, double>(StringComparer.OrdinalIgnoreCase);
        foreach (string body in section.Bodies)
        {
            read[body] = field.Mean(section.RegionsOf(body));
            if (section.IsWinding(body))
                read[HotSpot(body)] = field.HighestIn(section.RegionsOf(body));
        }

        return read;
    }
}
