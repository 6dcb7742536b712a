using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes.Travel;
using Fieldwright.Fields;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Bench.Routes;

/// <summary>The field route: finite elements in the section of the apparatus, open space mapped.</summary>
internal sealed class FieldRoute : IReleasingRoute, IThrowingRoute
{
    private static readonly string PlanarRemark =
        "Planar field with depth; what the ends of coils and gap add is estimated from plane fields, and half of what they do not show is in the bar.";

    // Bars half as long as asked for: corrected to order three, answers come so close at little cost.
    private const double Aim = 0.5;

    /// <inheritdoc/>
    public RouteName Name => RouteName.Field;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        if (apparatus.Layout == Layout.Free)
            return Wanted.None;
        var serves = Wanted.Forces | Wanted.Flux;
        if (apparatus.Windings.Count > 0)
            serves |= Wanted.Impedance;
        else
            serves |= Wanted.Inductance;
        if (apparatus.Frequency == 0 && apparatus.Parts.Any(p => p.Magnetised is not null))
            serves |= Wanted.Magnets;
        // Its circuits are closed from the start: banks fired in turn are for the series route.
        // The mesh round a ball bends as it is stretched, and folds within a few steps.
        if (Releases.Suits(apparatus) && apparatus.Supplies.All(s => s.Delay == 0) && Releases.Part(apparatus).Shape is not BallShape)
            serves |= Shots.Suits(apparatus) ? Wanted.Release | Wanted.Shot : Wanted.Release;
        if (apparatus.Frequency > 0 && apparatus.Layout == Layout.Long)
            serves |= Wanted.Torque;
        if (FieldWarmth.Suits(apparatus))
            serves |= Wanted.Warmth;
        return apparatus.Frequency > 0 ? serves | Wanted.Heat : serves;
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation) => Solve(apparatus, wanted, null, relativeTarget, cancellation);

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, IReadOnlySet<string>? about, double relativeTarget, CancellationToken cancellation)
    {
        try
        {
            return apparatus.Frequency > 0
                ? Harmonic(apparatus, wanted, about, relativeTarget, cancellation)
                : Static(apparatus, wanted, about, relativeTarget, cancellation);
        }
        catch (Exception e) when (IsBreakdown(e))
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <inheritdoc/>
    public Flight Release(Apparatus apparatus, double time, double relativeTarget, CancellationToken cancellation) => FieldRelease.Release(apparatus, time, cancellation);

    /// <inheritdoc/>
    public Shot Throw(Apparatus apparatus, double relativeTarget, CancellationToken cancellation) => FieldShot.Throw(apparatus, cancellation);

    /// <summary>The field of the apparatus as it stands, for drawing: good to the target in the answers asked.</summary>
    public static (MagneticField Field, Sections Sections) Picture(Apparatus apparatus, double relativeTarget, CancellationToken cancellation)
    {
        var route = new FieldRoute();
        var sections = Sections.Of(apparatus);
        var currents = SupplyNetwork.IsImposed(apparatus)
            ? SupplyNetwork.ImposedCurrents(apparatus)
            : route.Solve(apparatus, Wanted.Impedance, relativeTarget, cancellation).Currents;
        return (Solve(FieldModels.Of(apparatus, sections, currents), relativeTarget, cancellation), sections);
    }

    /// <summary>The field of a model, its energy good to a share.</summary>
    /// <exception cref="RouteFailedException">It could not be found.</exception>
    public static MagneticField Solve(FieldModel model, double relativeTarget, CancellationToken cancellation)
    {
        try
        {
            return AdaptiveField.Solve(model, [new EnergyGoal("energy") { Uncorrected = true }], new AdaptiveDemand(relativeTarget), null, cancellation).Field;
        }
        catch (Exception e) when (IsBreakdown(e))
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>Whether a field could not be found, for a reason to be told to people.</summary>
    public static bool IsBreakdown(Exception e) => e is FieldNotConvergedException or NetCurrentException or ZeroPivotException or TooThinForTrianglesException;

    private static OperatingPoint Harmonic(Apparatus apparatus, Wanted wanted, IReadOnlySet<string>? about, double target, CancellationToken cancellation)
    {
        var sections = Sections.Of(apparatus);
        bool imposed = SupplyNetwork.IsImposed(apparatus);
        var goals = Goals(apparatus, sections, wanted, about);
        // Impedances take a solution a winding, and the ends of coils a field of their own: only where they are asked for.
        bool impedance = !imposed || wanted.HasFlag(Wanted.Impedance);
        var ends = impedance || wanted.HasFlag(Wanted.Flux) ? EndTurns.Of(apparatus, sections, cancellation) : null;
        var demand = new AdaptiveDemand(Aim * target);
        if (imposed)
        {
            var currents = SupplyNetwork.ImposedCurrents(apparatus);
            var model = FieldModels.Of(apparatus, sections, currents);
            if (impedance)
                goals.AddRange(LinkageGoals(apparatus, model));
            var driven = AdaptiveField.Solve(model, goals, demand, null, cancellation);
            return Gather(apparatus, sections, driven, currents, 0, ends);
        }

        // Currents first, on a mesh fit for the linkages; then the field they make.
        var (near, found, spread) = Drive(apparatus, sections, ends!, target, cancellation);
        goals.AddRange(LinkageGoals(apparatus, near.Model));
        var result = AdaptiveField.Solve(near.Meshed.With(FieldModels.Of(apparatus, sections, found)), goals, demand, near, null, cancellation);
        return Gather(apparatus, sections, result, found, spread, ends);
    }

    // Voltages and loads set the currents. In linear matter one solution gives the impedances and the network gives the currents; with saturated steel
    // steel and network are settled together.
    private static (HarmonicField Field, IReadOnlyDictionary<string, Complex> Currents, double Spread) Drive(
        Apparatus apparatus, Sections sections, EndTurns ends, double target, CancellationToken cancellation)
    {
        IReadOnlyDictionary<string, Complex> currents = apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.One * 1e-3, StringComparer.OrdinalIgnoreCase);
        var model = FieldModels.Of(apparatus, sections, currents);
        var result = AdaptiveField.Solve(model, LinkageGoals(apparatus, model), new AdaptiveDemand(Aim * target), null, cancellation);
        double linkageBar = LinkageBar(result);
        bool saturable = apparatus.Parts.Any(p => p.Material.Curve is not null);
        var field = (HarmonicField)result.Field;
        var (z, endBar) = ends.Added(apparatus, field);
        currents = SupplyNetwork.Currents(apparatus, z);
        if (saturable)
        {
            field = HarmonicField.Solve(
                field.Meshed.With(FieldModels.Of(apparatus, sections, currents)),
                at =>
                {
                    currents = SupplyNetwork.Currents(apparatus, ends.Added(apparatus, at).Impedance);
                    return [.. apparatus.Windings.Select(w => currents[w.Name])];
                },
                field,
                cancellation);
            (z, endBar) = ends.Added(apparatus, field);
        }

        return (field, currents, SupplyNetwork.Spread(apparatus, z, currents, linkageBar + endBar));
    }

    private static OperatingPoint Static(Apparatus apparatus, Wanted wanted, IReadOnlySet<string>? about, double target, CancellationToken cancellation)
    {
        var sections = Sections.Of(apparatus);
        var resistances = FieldModels.Resistances(apparatus);
        var currents = SupplyNetwork.Currents(apparatus, resistances);
        // steady currents are a matter of resistances alone
        if ((wanted & ~Wanted.Impedance) == Wanted.None)
            return new OperatingPoint { Currents = currents, Impedance = resistances };
        var goals = Goals(apparatus, sections, wanted, about);
        bool inductances = wanted.HasFlag(Wanted.Inductance);
        var model = FieldModels.Of(apparatus, sections, currents);
        if (inductances)
            goals = [.. goals.Where(g => g is not EnergyGoal), new EnergyGoal("energy"), .. LinkageGoals(apparatus, model)];
        var result = AdaptiveField.Solve(model, goals, new AdaptiveDemand(Aim * target), null, cancellation);
        var point = Gather(apparatus, sections, result, currents, 0, EndTurns.Of(apparatus, sections, cancellation)) with { Impedance = resistances };
        return inductances ? StaticMagnetics.Added(point, apparatus, (StaticField)result.Field, cancellation) : point;
    }

    private static List<Goal> Goals(Apparatus apparatus, Sections sections, Wanted wanted, IReadOnlySet<string>? about)
    {
        var goals = new List<Goal>();
        bool round = apparatus.Layout == Layout.Round;
        foreach (var part in apparatus.Parts)
        {
            if (wanted.HasFlag(Wanted.Flux) && part.Shape is CoreShape core)
                goals.Add(FluxAcross(part, core));
            if (about is not null && !about.Contains(part.Name))
                continue;
            var regions = sections.RegionsOf(part.Name);
            if (wanted.HasFlag(Wanted.Magnets) && part.Magnetised is not null && regions.Count == 1)
                goals.AddRange(Along(part).Where(c => c.Share != 0).Select(c => new MeanFluxDensityGoal(c.Prefix + part.Name, regions[0], c.Component)));
            if (wanted.HasFlag(Wanted.Torque) && TravellingBodies.TorqueGoal(apparatus, sections, part) is { } torque)
                goals.Add(torque);
            if (wanted.HasFlag(Wanted.Forces) && (Model.Travel.Leads(part) || FeelsAtRest(apparatus, part)))
            {
                regions = TravellingBodies.Regions(apparatus, sections, part);
                goals.Add(new ForceGoal("y " + part.Name, regions));
                if (!round)
                    goals.Add(new ForceGoal("x " + part.Name, regions, ForceComponent.X));
            }

            if (wanted.HasFlag(Wanted.Heat) && FieldModels.Conducts(part))
                goals.Add(new LossGoal("heat " + part.Name, sections.RegionsOf(part.Name)));
        }

        if (goals.Count == 0)
            goals.Add(new EnergyGoal("energy"));
        return goals;
    }

    // What is fixed is asked about too where magnets or steel stand in a steady field: who pulls whom.
    private static bool FeelsAtRest(Apparatus apparatus, Part part) => apparatus.Frequency == 0 && part.Shape is not CoreShape
        && (part.Magnetised is not null || part.Material.Curve is not null || part.Material.RelativePermeability > 1);

    // Across the limb opposite the gap, from the inner to the outer radius.
    private static FluxGoal FluxAcross(Part part, CoreShape core)
    {
        double angle = (core.GapAt + 180) * Math.PI / 180;
        PlaneVector On(double radius) => new(part.Place.X + radius * Math.Cos(angle), part.Place.Y + radius * Math.Sin(angle));
        return new FluxGoal("flux " + part.Name, On(core.InnerRadius), On(core.OuterRadius)) { Uncorrected = true };
    }

    private static List<Goal> LinkageGoals(Apparatus apparatus, FieldModel model) => [.. apparatus.Windings.Select(w => new FluxLinkageGoal("linkage " + w.Name, w.Name) { Uncorrected = !model.IsLinearAtRest })];

    // Relative bar of impedances: what one winding links of another's field may be off by more than what it links of all currents together. Twice: common practice, no source.
    private static double LinkageBar(AdaptiveResult result) =>
        2 * result.Answers.Where(a => a.Goal is FluxLinkageGoal && a.Value != 0).Select(a => a.ErrorBar / Math.Abs(a.Value)).DefaultIfEmpty(0).Max();

    private static OperatingPoint Gather(
        Apparatus apparatus, Sections sections, AdaptiveResult result, IReadOnlyDictionary<string, Complex> currents, double spread, EndTurns? ends)
    {
        var byName = result.Answers.ToDictionary(a => a.Goal.Name, a => new Estimate(a.Value, a.ErrorBar));
        Dictionary<string, Estimate> Of(string prefix, double power) => apparatus.Parts
            .Where(p => byName.ContainsKey(prefix + p.Name))
            .ToDictionary(p => p.Name, p => Spread(byName[prefix + p.Name].Times(AcrossWidth.LengthShare(apparatus, p)), power * spread + AcrossWidth.RelativeBar(apparatus, p)), StringComparer.OrdinalIgnoreCase);
        var (z, endBar) = ends is not null && result.Field is HarmonicField harmonic ? ends.Added(apparatus, harmonic) : (null, 0);
        var (gap, gapBar) = ends?.GapFactor(apparatus, result.Field) ?? (1, 0);
        double linkageBar = LinkageBar(result);
        double[,]? inductance = null;
        if (z is not null)
            inductance = FieldModels.Inductances(z, apparatus.Frequency);
        else if (ends is not null)
            (inductance, endBar) = ends.Added(apparatus, (StaticField)result.Field);
        return new OperatingPoint
        {
            Currents = currents,
            CurrentRelativeBar = spread,
            ForceUp = Of("y ", 2),
            ForceX = Of("x ", 2),
            Torque = Of("torque ", 2),
            Heat = Of("heat ", 2),
            HeatPoints = HeatPoints(apparatus, sections, result.Field, byName),
            Working = Working(apparatus, byName),
            Flux = Of("flux ", 1).ToDictionary(f => f.Key, f => Spread(f.Value.Times(gap), gapBar), StringComparer.OrdinalIgnoreCase),
            GapPull = GapPulls(apparatus, sections, result, byName, spread),
            Cores = apparatus.Windings.Count == 0 ? new Dictionary<string, CoreBudget>() : apparatus.Parts.Where(p => p.Shape is CoreShape && byName.ContainsKey("flux " + p.Name))
                .ToDictionary(p => p.Name, p => CoreBudget.Of(apparatus, p, result.Field, currents, spread, byName["flux " + p.Name].RelativeBar, Math.Abs(gap - 1) + gapBar), StringComparer.OrdinalIgnoreCase),
            Impedance = z,
            Inductance = inductance,
            InductanceBounds = result.Answers.Any(a => a.Goal is FluxLinkageGoal) ? StaticMagnetics.Bounds(apparatus, result.Field) : null,
            ImpedanceRelativeBar = linkageBar + endBar,
            EndRelativeBar = endBar,
            Remark = string.Join(' ', new[] { apparatus.Layout == Layout.Long && apparatus.Windings.Count > 0 ? PlanarRemark : "", Knees.Remark(result.Field) }.Where(r => r.Length > 0)),
        };
    }

    // Where the heat of the parts asked about falls, to the sum that was found.
    private static Dictionary<string, IReadOnlyList<PointHeat>> HeatPoints(Apparatus apparatus, Sections sections, MagneticField field, Dictionary<string, Estimate> byName)
    {
        var all = new Dictionary<string, IReadOnlyList<PointHeat>>(StringComparer.OrdinalIgnoreCase);
        foreach (var part in apparatus.Parts)
        {
            if (!byName.TryGetValue("heat " + part.Name, out var heat) || heat.Value <= 0)
                continue;
            var points = field.LossPoints(sections.RegionsOf(part.Name));
            double times = heat.Value * AcrossWidth.LengthShare(apparatus, part) / points.Sum(p => p.Watts);
            all[part.Name] = [.. points.Select(p => p with { Watts = p.Watts * times })];
        }

        return all;
    }

    // Mean flux density along the remanence, by its components.
    private static Dictionary<string, Estimate> Working(Apparatus apparatus, Dictionary<string, Estimate> byName)
    {
        var working = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase);
        foreach (var part in apparatus.Parts.Where(p => p.Magnetised is not null))
        {
            var shares = Along(part).Where(c => byName.ContainsKey(c.Prefix + part.Name)).Select(c => byName[c.Prefix + part.Name].Times(c.Share)).ToList();
            if (shares.Count > 0)
                working[part.Name] = new Estimate(shares.Sum(s => s.Value), shares.Sum(s => s.Bar));
        }

        return working;
    }

    private static (string Prefix, ForceComponent Component, double Share)[] Along(Part magnet)
    {
        var (sin, cos) = Math.SinCos(magnet.Magnetised!.Value * Math.PI / 180);
        double Clean(double share) => Math.Abs(share) < 1e-12 ? 0 : share;
        return [("across ", ForceComponent.X, Clean(cos)), ("along ", ForceComponent.Y, Clean(sin))];
    }

    // Force on the short piece beside the cut, along the cut: what the other face pulls. Its bar follows that of the flux, twice over.
    private static Dictionary<string, Estimate> GapPulls(
        Apparatus apparatus, Sections sections, AdaptiveResult result, Dictionary<string, Estimate> byName, double spread)
    {
        var pulls = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase);
        foreach (var part in apparatus.Parts)
        {
            if (part.Shape is not CoreShape core || sections.PoleOf(part.Name) is not { } pole || !byName.TryGetValue("flux " + part.Name, out var flux))
                continue;
            var force = result.Field.ForceOnPiece(pole);
            double angle = core.GapAt * Math.PI / 180;
            double pull = force.X * Math.Sin(angle) - force.Y * Math.Cos(angle);
            pulls[part.Name] = new Estimate(pull, Math.Abs(pull) * (2 * flux.RelativeBar + 2 * spread + 0.01));
        }

        return pulls;
    }

    private static Estimate Spread(Estimate estimate, double relative) => new(estimate.Value, estimate.Bar + Math.Abs(estimate.Value) * relative);
}
