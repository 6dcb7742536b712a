using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Thermal;

namespace Fieldwright.Bench.Duty;

/// <summary>Heat put into an apparatus: rms currents of its windings and heat in its parts.</summary>
/// <param name="Currents">A rms, by winding, cold.</param>
/// <param name="Parts">W, by part, cold; parts that are not named take none.</param>
internal sealed record HeatInput(IReadOnlyDictionary<string, double> Currents, IReadOnlyDictionary<string, double> Parts)
{
    /// <summary>How the heat of a body changes with its own temperature, 1/K from the hall's. A winding that is not named has its metal's coefficient, its current being held; a part none.</summary>
    public IReadOnlyDictionary<string, double> Coefficients { get; init; } = new Dictionary<string, double>();

    /// <summary>Where the heat of parts is made, adding up to <see cref="Parts"/>; what is not named is made evenly.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<Fields.PointHeat>> Points { get; init; } = new Dictionary<string, IReadOnlyList<Fields.PointHeat>>();

    /// <summary>The same with every current times a factor, and every heat with its square.</summary>
    public HeatInput Times(double factor) => this with
    {
        Currents = Currents.ToDictionary(c => c.Key, c => c.Value * factor, StringComparer.OrdinalIgnoreCase),
        Parts = Parts.ToDictionary(p => p.Key, p => p.Value * factor * factor, StringComparer.OrdinalIgnoreCase),
        Points = Points.ToDictionary(p => p.Key, p => (IReadOnlyList<Fields.PointHeat>)[.. p.Value.Select(h => h with { Watts = h.Watts * factor * factor })], StringComparer.OrdinalIgnoreCase),
    };

    /// <summary>The coefficient of a winding.</summary>
    public double CoefficientOf(Winding winding, Apparatus apparatus) => Coefficients.TryGetValue(winding.Name, out double own) ? own : winding.Wire.Metal.TemperatureCoefficientAt(apparatus.Ambient);
}

/// <summary>How well everything is cooled, over what is reckoned.</summary>
/// <param name="Air">Factor on natural convection.</param>
/// <param name="Glow">Factor on emissivities.</param>
/// <param name="Inner">Factor on conduction inside windings.</param>
internal sealed record Cooling(double Air, double Glow, double Inner)
{
    /// <summary>As reckoned.</summary>
    public static Cooling AsReckoned { get; } = new(1, 1, 1);

    /// <summary>The most and the least that correlations, surfaces and packing leave open (common practice, no source).</summary>
    public static Cooling Better { get; } = new(1.25, 1.8, 2);

    /// <inheritdoc cref="Better"/>
    public static Cooling Worse { get; } = new(0.75, 0.5, 0.5);

    /// <summary>Cut off from everything.</summary>
    public static Cooling None { get; } = new(0, 0, 0);
}

/// <summary>An apparatus as a lumped network of heat: each winding one mass of metal behind its own packing, each part one mass, both to the still air and the walls of the hall.</summary>
/// <remarks>
/// A coil on a limb also warms its core through the former. Not counted: the heat of insulation and formers, heat that one body gives another otherwise, iron loss, draughts. The heat of each body follows
/// its own temperature in a straight line.
/// </remarks>
internal sealed class HeatNetwork : Warmth
{
    /// <summary>Why there is no settled temperature.</summary>
    public const string NeverSettles = "It never settles: with rising resistance heat comes faster than it can leave.";

    private const string Air = "hall air", Surface = " surface";
    private readonly Apparatus apparatus;
    private readonly HeatInput input;
    private readonly Cooling cooling;
    private readonly IReadOnlyDictionary<string, double>? start;

    /// <summary>The network of an apparatus.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="input">Heat put in.</param>
    /// <param name="cooling">How well it is cooled.</param>
    /// <param name="start">Temperatures to start from, K, by body; those not named start with the hall.</param>
    public HeatNetwork(Apparatus apparatus, HeatInput input, Cooling cooling, IReadOnlyDictionary<string, double>? start = null) =>
        (this.apparatus, this.input, this.cooling, this.start) = (apparatus, input, cooling, start);

    /// <inheritdoc/>
    public override IReadOnlyDictionary<string, double> After(double time) => time == 0 ? Bodies().Concat(input.Currents.Keys.Select(HotSpot)).ToDictionary(b => b, Start, StringComparer.OrdinalIgnoreCase) : Read(Run(time).Last);

    /// <inheritdoc/>
    public override IReadOnlyDictionary<string, double> Steady()
    {
        try
        {
            return Read(Build(false).Steady());
        }
        catch (Exception e) when (e is NetworkNotConvergedException or IllPosedNetworkException)
        {
            throw new RouteFailedException(NeverSettles, e);
        }
    }

    /// <inheritdoc/>
    public override double TimeTo(string body, double temperature, double longest)
    {
        bool rising = Start(body) < temperature;
        if (rising && cooling.Glow > 0 && SettlesBelow(body, temperature))
            return double.PositiveInfinity;
        bool Passed(double now) => rising ? now >= temperature : now <= temperature;
        double tried = Math.Min(1, longest);
        while (true)
        {
            var course = Run(tried, s => Passed(Temperature(s, body)));
            double before = Start(body), time = 0;
            for (int i = 0; i < course.Times.Count; i++)
            {
                double now = Temperature(course.States[i], body);
                if (Passed(now))
                    return time + (course.Times[i] - time) * (temperature - before) / (now - before);
                (before, time) = (now, course.Times[i]);
            }

            if (tried >= longest)
                return double.PositiveInfinity;
            tried = Math.Min(longest, 4 * tried);
        }
    }

    /// <summary>Temperature of the hottest turn of a winding after a time, K: at most what it would be if no heat had left at all, for a packing takes its time to make a slope.</summary>
    public override double HotSpotAfter(string winding, double time) => Math.Min(After(time)[HotSpot(winding)], Uncooled.After(time)[winding]);

    /// <summary>Time until the hottest turn of a winding passes a temperature above the hall's, s; infinite when it has not after a given time.</summary>
    public override double HotSpotTimeTo(string winding, double temperature, double longest) => Math.Max(TimeTo(HotSpot(winding), temperature, longest), Uncooled.TimeTo(winding, temperature, longest));

    /// <inheritdoc/>
    public override Warmth OffAfter(double time) => new HeatNetwork(apparatus, input.Times(0), cooling, After(time));

    private HeatNetwork Uncooled => new(apparatus, input, Cooling.None, start);

    private Transient Run(double time, Func<NetworkState, bool>? until = null)
    {
        try
        {
            return Build(true).Transient(time, new TransientOptions(3e-5, time / 60, time / 1e4, 20_000, until));
        }
        catch (Exception e) when (e is NetworkNotConvergedException or IllPosedNetworkException)
        {
            throw new RouteFailedException("The warming could not be followed: " + e.Message, e);
        }
    }

    private double Start(string body) => start is not null && start.TryGetValue(body, out double there) ? there : apparatus.Ambient;

    private IEnumerable<string> Bodies() => apparatus.Windings.Where(w => input.Currents.ContainsKey(w.Name)).Select(w => w.Name).Concat(Warmed().Select(p => p.Name));

    // Parts that take heat of their own, and cores that coils warm.
    private IEnumerable<Part> Warmed() => apparatus.Parts.Where(p => input.Parts.ContainsKey(p.Name)
        || (p.Shape is CoreShape && p.Material.SpecificHeat is not null && p.Material.Density is not null
            && apparatus.Windings.Any(w => w.Space is LimbSpace l && Apparatus.Same(l.Core, p.Name) && input.Currents.ContainsKey(w.Name))));

    private Dictionary<string, double> Read(NetworkState state) => Bodies().Concat(input.Currents.Keys.Select(HotSpot)).ToDictionary(b => b, b => Temperature(state, b), StringComparer.OrdinalIgnoreCase);

    // Even heat in a slab cooled on one side: the far side stands three halves as far above the surface as the mean does.
    private double Temperature(NetworkState state, string body)
    {
        if (input.Currents.Keys.FirstOrDefault(w => HotSpot(w).Equals(body, StringComparison.OrdinalIgnoreCase)) is not { } winding)
            return state.Potential(body);
        double mean = state.Potential(winding);
        return cooling.Inner > 0 ? mean + 0.5 * Math.Max(0, mean - state.Potential(winding + Surface)) : mean;
    }

    private Network Build(bool moving)
    {
        var network = new Network().Add(new PotentialSource(Air, Air, Network.Reference, apparatus.Ambient));
        var warmed = Warmed().ToList();
        foreach (var part in warmed)
        {
            Store(network, moving, part.Name, HeatBodies.Capacity(part, apparatus));
            Cool(network, part.Name, part.Name, HeatBodies.Of(part, apparatus), HeatBodies.Emissivity(part));
            if (input.Parts.TryGetValue(part.Name, out double heat) && heat > 0)
                network.Add(new JouleHeat(part.Name + " heat", part.Name, heat, input.Coefficients.GetValueOrDefault(part.Name), apparatus.Ambient));
        }

        foreach (var winding in apparatus.Windings.Where(w => input.Currents.ContainsKey(w.Name)))
        {
            string name = winding.Name, skin = name + Surface;
            double current = input.Currents[name];
            Store(network, moving, name, HeatBodies.Capacity(winding, apparatus));
            network.Add(new JouleHeat(name + " heat", name, current * current * Warming.Resistance(winding, apparatus), input.CoefficientOf(winding, apparatus), apparatus.Ambient));
            if (cooling.Inner > 0)
            {
                network.Add(new Resistor(name + " packing", name, skin, HeatBodies.Inner(winding, apparatus) / cooling.Inner));
                Cool(network, name, skin, HeatBodies.Of(winding, apparatus), HeatBodies.Emissivity(winding));
            }

            if (winding.Space is LimbSpace limb && cooling.Inner > 0 && warmed.Find(p => Apparatus.Same(p.Name, limb.Core)) is { } core)
                network.Add(new Resistor(name + " former", name, core.Name, HeatBodies.ToLimb(winding, limb, apparatus) / cooling.Inner));
        }

        return network;
    }

    private void Store(Network network, bool moving, string body, double capacity)
    {
        if (moving)
            network.Add(new Capacitor(body + " metal", body, Network.Reference, capacity, Start(body)));
    }

    private void Cool(Network network, string body, string node, IReadOnlyList<Surface> surfaces, double emissivity)
    {
        for (int i = 0; i < surfaces.Count; i++)
            if (cooling.Air > 0)
                network.Add(new NaturalConvection(string.Create(CultureInfo.InvariantCulture, $"{body} air {i + 1}"), node, Air, cooling.Air * surfaces[i].Area, surfaces[i].Facing, surfaces[i].Length));
        if (cooling.Glow > 0)
            network.Add(new Radiation(body + " glow", node, Air, surfaces.Sum(s => s.Area), Math.Min(1, cooling.Glow * emissivity)));
    }
}
