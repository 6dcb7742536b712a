using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Series;
using Fieldwright.Series.Cylinders;
using Fieldwright.Series.Layers;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>The series route for travelling fields: windings along flat, round or tubular layers, harmonic by harmonic.</summary>
internal sealed class LayersRoute : IRoute
{
    private const int MostLevels = 7;

    // No sum of waves is trusted further than this share of itself.
    private const double LeastBar = 1e-5;

    // Thrust is asked at many speeds: the field at each refinement is kept for the next, since it does not hear of the speed until it is evaluated.
    private const int MostKept = 3;

    private readonly Lock gate = new();
    private readonly List<(Apparatus Of, LayeredField?[] Levels)> kept = [];

    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        if (apparatus.Frequency <= 0 || LayerStack.Of(apparatus) is not { } stack || Leads(apparatus, stack).Count > 1 || (stack.Teeth is not null && stack.Probes.Count > 0))
            return Wanted.None;
        var serves = Wanted.Forces | Wanted.Heat | Wanted.Impedance | Wanted.Curve;
        return stack.Shape == StackShape.Rotating || stack.Probes.Count > 0 ? serves | Wanted.Torque : serves;
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var stack = LayerStack.Of(apparatus) ?? throw new RouteFailedException("The apparatus is not laid out in layers.");
        bool imposed = SupplyNetwork.IsImposed(apparatus), needsImpedance = !imposed || wanted.HasFlag(Wanted.Impedance);
        double target = 0.1 * relativeTarget;
        try
        {
            LayeredState? last = null;
            for (int level = 0; level < MostLevels; level++)
            {
                cancellation.ThrowIfCancellationRequested();
                var lead = Leads(apparatus, stack) is [var only] ? only : null;
                var found = new LayeredState(apparatus, stack, lead, FieldOf(apparatus, stack, lead, level), needsImpedance);
                if (last is not null && found.Change(last) <= (level < MostLevels - 1 ? target : relativeTarget))
                    return Gather(apparatus, stack, found, last, imposed);
                last = found;
            }

            throw new RouteFailedException("The waves of this winding did not add up to a steady sum.");
        }
        catch (Exception e) when (e is NotConvergedException or ArgumentException)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    private LayeredField FieldOf(Apparatus apparatus, LayerStack stack, Part? lead, int level)
    {
        lock (gate)
        {
            int at = kept.FindIndex(k => IsSameAtRest(k.Of, apparatus));
            var entry = at < 0 ? (Of: apparatus, Levels: new LayeredField?[MostLevels]) : kept[at];
            if (at >= 0)
                kept.RemoveAt(at);
            else if (kept.Count == MostKept)
                kept.RemoveAt(0);
            kept.Add(entry);
            return entry.Levels[level] ??= new LayeredField(apparatus, stack, lead is null ? [] : apparatus.Body(lead), level);
        }
    }

    // Whether two apparatus differ at most in speeds, drag and what flows.
    private static bool IsSameAtRest(Apparatus a, Apparatus b) =>
        a with { Parts = b.Parts, Supplies = b.Supplies, Loads = b.Loads } == b && a.Parts.Count == b.Parts.Count
        && a.Parts.Zip(b.Parts).All(p => p.First with { Speed = p.Second.Speed, TurningSpeed = p.Second.TurningSpeed, Drag = p.Second.Drag } == p.Second);

    // Bodies that move or may; probes do not count.
    private static List<Part> Leads(Apparatus apparatus, LayerStack stack) =>
        [.. stack.Parts.Select(p => apparatus.LeadOf(p.Part)).Where(Model.Travel.Leads).Distinct()];

    private static OperatingPoint Gather(Apparatus apparatus, LayerStack stack, LayeredState found, LayeredState last, bool imposed)
    {
        double impedanceBar = found.ImpedanceChange(last) + LeastBar, endBar = 0, teethBar = 0;
        var z = found.Impedance;
        if (z is not null && stack.Shape != StackShape.Tubular)
            (z, endBar) = WithEnds(apparatus, stack, z);
        if (z is not null && stack.Teeth is { } slots)
        {
            (z, double slotBar) = slots.WithSlots(apparatus, z);
            endBar += slotBar;
        }

        var currents = z is null ? SupplyNetwork.ImposedCurrents(apparatus) : SupplyNetwork.Currents(apparatus, z);
        double spread = imposed || z is null ? 0 : SupplyNetwork.Spread(apparatus, z, currents, impedanceBar + endBar);
        var (fine, coarse) = (found.With(currents), last.With(currents));
        if (stack.Teeth is not null && LayerStack.Of(apparatus, lengthened: false) is { } smooth)
        {
            var bare = new LayeredState(apparatus, smooth, found.Lead, new LayeredField(apparatus, smooth, found.Lead is { } body ? apparatus.Body(body) : [], 1), false).With(currents);
            double Half(double without, double with) => with == 0 ? 0 : 0.5 * Math.Abs(without / with - 1);
            teethBar = Math.Max(Half(bare.Heat.Values.Sum(), fine.Heat.Values.Sum()), Half(bare.Thrust, fine.Thrust));
        }

        var forces = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase);
        var normal = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase);
        // An end of a short part is felt over about a wave's reach, τ/π, at either end (common practice, no source).
        double shortness = stack.Parts.Where(p => p.Share < 1).Select(p => 2 * stack.PolePitch / (Math.PI * p.Share * (stack.To - stack.From))).DefaultIfEmpty(0).Max();
        Estimate Est(double value, double other, double more) => new(value, Math.Abs(value - other) + Math.Abs(value) * (LeastBar + more));
        if (found.Lead is { } lead)
        {
            double edge = apparatus.Body(lead).Max(p => AcrossWidth.RelativeBar(apparatus, p));
            forces[lead.Name] = Est(fine.Thrust, coarse.Thrust, 2 * spread + shortness + edge + teethBar);
            if (fine.NormalForce is { } up && coarse.NormalForce is { } upBefore)
                normal[lead.Name] = Est(up, upBefore, 2 * spread + shortness + edge + teethBar);
        }

        var torques = stack.Shape == StackShape.Rotating ? forces : new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase);
        var heat = fine.Heat.ToDictionary(h => h.Key, h => Est(h.Value, coarse.Heat[h.Key], 2 * spread + shortness + teethBar + AcrossWidth.RelativeBar(apparatus, apparatus.Part(h.Key)!)), StringComparer.OrdinalIgnoreCase);
        foreach (var probe in stack.Probes)
            (torques[probe.Name], heat[probe.Name]) = Spin(apparatus, probe, found, last, currents, spread);
        return new OperatingPoint
        {
            Currents = currents,
            CurrentRelativeBar = spread,
            ForceX = stack.Shape == StackShape.Flat ? forces : new Dictionary<string, Estimate>(),
            ForceUp = stack.Shape switch { StackShape.Tubular => forces, StackShape.Flat => normal, _ => new Dictionary<string, Estimate>() },
            Torque = torques,
            Heat = heat,
            FieldAcross = new(() => stack.Parts.Where(p => p.Part.Channel is not null).ToDictionary(p => p.Part.Name, p => found.AcrossMiddle(last, currents, 0.5 * (p.From + p.To)), StringComparer.OrdinalIgnoreCase)),
            Impedance = z,
            Inductance = z is null ? null : FieldModels.Inductances(z, apparatus.Frequency),
            ImpedanceRelativeBar = impedanceBar + endBar,
            EndRelativeBar = endBar,
            Remark = Remarks(apparatus, stack),
        };
    }

    private static string Remarks(Apparatus apparatus, LayerStack stack)
    {
        string remark = stack.Parts.Any(p => p.Share < 1) ? "A part is shorter than its row: it takes its share of an endless one, and what its own ends do is in the bar." : "";
        if (stack.Teeth is not null)
            remark = (remark + " " + Teeth.Remark).TrimStart();
        return apparatus.Parts.Any(p => p.Across is not null && p.Shape is RectangleShape) ? (remark + " " + AcrossWidth.Remark).TrimStart() : remark;
    }

    // The wire that crosses over at the ends adds flux of its own through air; per length it is of the size that the sides make there, between none and all of it:
    // half is added and that half is the bar (common practice in machine design, no source).
    private static (Complex[,], double) WithEnds(Apparatus apparatus, LayerStack stack, Complex[,] impedance)
    {
        int n = apparatus.Windings.Count;
        var z = (Complex[,])impedance.Clone();
        double[] ends = [.. apparatus.Windings.Select(w => Warming.MeanTurn(w, apparatus) / (2 * apparatus.Depth!.Value) - 1)];
        if (ends.All(e => e == 0))
            return (z, 0);
        var air = new LayeredField(apparatus, stack, [], 1, empty: true);
        double worst = 0;
        for (int j = 0; j < n; j++)
        {
            var column = air.At([.. Enumerable.Range(0, n).Select(i => i == j ? Complex.One : 0)], apparatus.Frequency, 0).Voltages;
            for (int i = 0; i < n; i++)
            {
                double added = 0.5 * Math.Sqrt(ends[i] * ends[j]) * column[i].Imaginary;
                z[i, j] += new Complex(0, added);
                if (i == j)
                    worst = Math.Max(worst, added / Math.Abs(z[i, i].Imaginary));
            }
        }

        return (z, worst);
    }

    /// <summary>A cylinder that shows which way the field turns, as a body in an even turning field, and its length, m.</summary>
    internal static (CylinderBody Body, double Length) TesterOf(Apparatus apparatus, Part probe)
    {
        var cylinder = (CylinderShape)probe.Shape;
        double conductivity = FieldModels.Conducts(probe) ? probe.Material.ConductivityAt(apparatus.Ambient) * AcrossWidth.Factor(apparatus, probe) : 0;
        var body = cylinder.Bore > 0
            ? CylinderBody.Tube(cylinder.Radius, cylinder.Radius - cylinder.Bore, conductivity, probe.Material.RelativePermeability)
            : CylinderBody.Solid(cylinder.Radius, conductivity, probe.Material.RelativePermeability);
        return (body, probe.Across ?? apparatus.Depth!.Value);
    }

    // Ellipse of the field at the middle of the cylinder; the torque its four sides would see says what the uneven field may do.
    private static (Estimate Torque, Estimate Heat) Spin(Apparatus apparatus, Part probe, LayeredState found, LayeredState last, IReadOnlyDictionary<string, Complex> currents, double spread)
    {
        var (body, length) = TesterOf(apparatus, probe);
        double r = body.Radius;
        (double X, double Y)[] places = [(0, 0), (r, 0), (-r, 0), (0, r), (0, -r)];
        var there = found.Ellipses(currents, [.. places.Select(p => (probe.Place.X + p.X, probe.Place.Y + p.Y))]).Select(e => body.PerMetre(e, apparatus.Frequency, probe.TurningSpeed)).ToList();
        var before = body.PerMetre(last.Ellipses(currents, [(probe.Place.X, probe.Place.Y)])[0], apparatus.Frequency, probe.TurningSpeed);
        double relative = LeastBar + 2 * spread + AcrossWidth.RelativeBar(apparatus, probe);
        // A field that changes evenly over the body acts as at its middle; its curvature shows in the mean of the four sides.
        Estimate Of(Func<(double Torque, double Loss), double> which) => new(length * which(there[0]),
            length * (Math.Abs(which(there[0]) - which(before)) + Math.Abs(0.25 * there.Skip(1).Sum(which) - which(there[0])) + relative * Math.Abs(which(there[0]))));
        return (Of(p => p.Torque), Of(p => p.Loss));
    }
}
