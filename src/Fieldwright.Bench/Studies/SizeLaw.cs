using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter.Units;

namespace Fieldwright.Bench.Studies;

/// <summary>A dimensionless group of an apparatus and what a change of size does to it.</summary>
/// <param name="Name">Its name, by which it may be kept.</param>
/// <param name="Meaning">What it compares, in one sentence.</param>
/// <param name="Power">It goes with this power of the size.</param>
/// <param name="Factor">What it is multiplied by.</param>
public sealed record SizeGroup(string Name, string Meaning, double Power, double Factor)
{
    /// <summary>Whether it is the same at the new size.</summary>
    public bool Kept => Math.Abs(Power) < 1e-9;
}

/// <summary>How everything goes with the size when matter stays the same: lengths with k, frequency with kᵃ, ampere-turns with kᵇ; a and b follow from what is kept.</summary>
/// <remarks>With μ₀ and the conductivities fixed, Maxwell's equations without displacement current leave ωμσL² as the only group of the field, and scale every force with μ₀(NI)²;
/// weight goes with L³. Derived here, no source needed.</remarks>
public sealed class SizeLaw
{
    private const string OfFrequency = "frequency", OfCurrent = "current";

    private sealed record Rule(string Name, string Meaning, string Sets, Func<double, double, double> Power, Func<double, double> Exponent);

    private static readonly Rule[] Rules =
    [
        new("skin ratio", "Size over skin depth: how far the field goes into the metal, the slip and the goodness of a travelling field, the wire's resistance beside its reactance.", OfFrequency, (a, _) => 1 + a / 2, _ => -2),
        new("frequency", "The frequency itself: the same socket.", OfFrequency, (a, _) => a, _ => 0),
        new("force to weight", "Magnetic force over weight: what floats goes on floating at the same place in proportion.", OfCurrent, (_, b) => 2 * b - 3, _ => 1.5),
        new("flux density", "Flux density, and so how near steel is to saturation and how a coil's field stands beside a magnet's.", OfCurrent, (_, b) => b - 1, _ => 1),
        new("temperature rise", "Rise of temperature in wire and metal after the same time with no cooling.", OfCurrent, (_, b) => 2 * b - 4, _ => 2),
        new("heat per surface", "Heat in the wire over its surface: the steady temperature in still air.", OfCurrent, (_, b) => 2 * b - 3, _ => 1.5),
        new("current", "The current itself, turns being the same.", OfCurrent, (_, b) => b, _ => 0),
        new("voltage", "The voltage at the windings, turns being the same.", OfCurrent, (a, b) => a + b + 1, a => -a - 1),
        new("swing in cycles", "Time of a swing about rest over the time of a cycle of the current.", "", (a, b) => 2 - b + a, _ => 0),
    ];

    private readonly Dictionary<Dimension, double> powers;

    private SizeLaw(double factor, double frequencyPower, double currentPower, bool alternating, IReadOnlyList<string> asked, IReadOnlyList<string> notPossible, Func<string, bool> concerns)
    {
        (Factor, FrequencyPower, CurrentPower, Asked, NotPossible) = (factor, frequencyPower, currentPower, asked, notPossible);
        Groups = [.. Rules.Where(r => concerns(r.Name)).Select(r => (r, Power: r.Power(frequencyPower, currentPower)))
            .Select(t => new SizeGroup(t.r.Name, t.r.Meaning, t.Power, Math.Pow(factor, t.Power)))];
        double a = frequencyPower, b = currentPower;
        (string Unit, double Power)[] units =
        [
            ("m", 1), ("A", b), ("V", a + b + 1), ("ohm", a + 1), ("kg", 3), ("H", 1), ("F", -2 * a - 1), ("W", a + 2 * b + 1), ("N", 2 * b), ("N/m", 2 * b - 1),
            ("N m", 2 * b + 1), ("Wb", b + 1), ("T", b - 1), ("m/s", a + 1), ("A/m", b - 1), ("Pa", 2 * b - 2), ("s", 2 - b),
        ];
        powers = units.Where(u => SiParser.TryParse("1 " + u.Unit, out _, out _)).GroupBy(u => DimensionOf(u.Unit)!.Value).ToDictionary(g => g.Key, g => g.First().Power);
        if (alternating)
            powers[DimensionOf("Hz")!.Value] = a;
    }

    /// <summary>How many times larger every length becomes.</summary>
    public double Factor { get; }

    /// <summary>The frequency goes with this power of the size.</summary>
    public double FrequencyPower { get; }

    /// <summary>Ampere-turns and, with the same turns, currents go with this power of the size.</summary>
    public double CurrentPower { get; }

    /// <summary>Groups that were asked to be kept, or chosen where nothing was asked.</summary>
    public IReadOnlyList<string> Asked { get; }

    /// <summary>What was asked and cannot be kept together with the rest, in words.</summary>
    public IReadOnlyList<string> NotPossible { get; }

    /// <summary>The groups that concern this apparatus.</summary>
    public IReadOnlyList<SizeGroup> Groups { get; }

    /// <summary>Names of groups that may be asked to be kept.</summary>
    public static IReadOnlyList<string> Names { get; } = [.. Rules.Where(r => r.Sets.Length > 0).Select(r => r.Name)];

    /// <summary>The law for an apparatus.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="factor">How many times larger; positive.</param>
    /// <param name="keep">Groups to keep, of <see cref="Names"/>; one may settle the frequency and one the current, further ones are answered in words.</param>
    public static SizeLaw Of(Apparatus apparatus, double factor, IReadOnlyList<string> keep)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(keep);
        Numerics.Guard.Positive(factor);
        bool alternating = apparatus.Frequency > 0;
        bool eddies = alternating && apparatus.Parts.Any(FieldModels.Conducts);
        bool free = apparatus.Parts.Any(p => p.Freedom != Freedom.Fixed);
        bool saturable = apparatus.Parts.Any(p => p.Material.Curve is not null || p.Magnetised is not null);
        bool Concerns(string name) => name switch
        {
            "skin ratio" or "frequency" or "swing in cycles" => alternating && (name != "skin ratio" || eddies || apparatus.Windings.Count > 0) && (name != "swing in cycles" || free),
            "force to weight" => free,
            _ => apparatus.Windings.Count > 0 || name == "flux density",
        };

        // Direct current has no skin; its natural law is that of diffusion, under which voltages follow the wire's resistance.
        var asked = keep.Select(k => Rules.First(r => Apparatus.Same(r.Name, k))).Distinct().ToList();
        var ofFrequency = asked.Where(r => r.Sets == OfFrequency && alternating).ToList();
        var ofCurrent = asked.Where(r => r.Sets == OfCurrent).ToList();
        var first = ofFrequency.FirstOrDefault() ?? Named(!alternating || eddies ? "skin ratio" : "frequency");
        double a = first.Exponent(0);
        var second = ofCurrent.FirstOrDefault() ?? Named(saturable ? "flux density" : free ? "force to weight" : "flux density");
        double b = second.Exponent(a);
        var impossible = asked.Where(r => Math.Abs(r.Power(a, b)) > 1e-9).Select(r => r.Sets == OfFrequency && !alternating
            ? $"'{r.Name}' says nothing of direct current."
            : FormattableString.Invariant($"'{r.Name}' cannot be kept together with '{(r.Sets == OfFrequency ? first : second).Name}': it becomes {Math.Pow(factor, r.Power(a, b)):G3} times as large.")).ToList();
        return new SizeLaw(factor, a, b, alternating, alternating ? [first.Name, second.Name] : [second.Name], impossible, Concerns);

        static Rule Named(string name) => Rules.First(r => r.Name == name);
    }

    /// <summary>What a quantity of a unit is multiplied by; 1 when it does not go with the size.</summary>
    /// <param name="unit">A unit; empty and % for bare numbers.</param>
    public double FactorOf(string unit) => DimensionOf(unit) is { } dimension && powers.TryGetValue(dimension, out double power) ? Math.Pow(Factor, power) : 1;

    private static Dimension? DimensionOf(string unit) =>
        unit is "" or "%" or "°C" || !SiParser.TryParse("1 " + unit, out var one, out _) ? null : one.Dimension;
}
