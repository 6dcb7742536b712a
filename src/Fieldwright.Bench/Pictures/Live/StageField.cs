using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Supplies;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Bench.Pictures.Live;

/// <summary>The field of an apparatus made ready for a live stage: first coarse and at once, then refined with error bars.</summary>
/// <remarks>Immutable; threads may share it. Phasors are peak, exp(+jωt).</remarks>
public sealed class StageField
{
    // Lines look smooth when the energy is good to a tenth of a per cent or so.
    private const double LineTarget = 0.002;

    // Halves the sizes of the mesh that adaptive solutions start from: lines already run as they will.
    private const double QuickFineness = 2;

    private readonly MagneticField solved;
    private readonly MeshedModel coarse;
    private readonly Sections sections;
    private readonly Apparatus apparatus;

    private StageField(Apparatus apparatus, Sections sections, MagneticField field, MeshedModel coarse, IReadOnlyList<GoalAnswer> answers, bool isRefined, string note)
    {
        Note = note;
        (this.apparatus, this.sections, solved, this.coarse, IsRefined) = (apparatus, sections, field, coarse, isRefined);
        Bodies = [.. apparatus.Parts.Select(p => Part(p, answers)), .. apparatus.Windings.Select(Winding)];
        Grid = StageGrid.Of(field, MatterOfRegions());
    }

    /// <summary>Unknowns of the field.</summary>
    public int UnknownCount => solved.UnknownCount;

    /// <summary>Whether forces and heat carry error bars.</summary>
    public bool IsRefined { get; }

    /// <summary>What must be known about the field shown; empty when nothing.</summary>
    public string Note { get; }

    /// <summary>Whether both halves of a round section are shown.</summary>
    public bool IsRound => apparatus.Layout == Layout.Round;

    /// <summary>Length along the hidden direction, m; 1 when round.</summary>
    public double Depth => apparatus.Depth ?? 1;

    /// <summary>Frequency, Hz; 0 for a field that stands still.</summary>
    public double Frequency => solved.Model.Frequency;

    /// <summary>ωt in rad when the field is strongest.</summary>
    public double Strongest => Instants.Strongest(solved);

    /// <summary>Parts, then windings, in file order.</summary>
    public IReadOnlyList<StageBody> Bodies { get; }

    /// <summary>The field on its triangles.</summary>
    public StageGrid Grid { get; }

    /// <summary>Solves on a coarse mesh, or on the mesh of a field before where the things stand as they stood.</summary>
    /// <param name="apparatus">The apparatus with every setting applied; round or long.</param>
    /// <param name="before">The field shown before, or null.</param>
    /// <param name="mostUnknowns">A finer mesh of the field before is taken over up to this size.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The apparatus is free, so that it has no common section.</exception>
    /// <exception cref="RouteFailedException">The field could not be found.</exception>
    public static StageField Quick(Apparatus apparatus, StageField? before, int mostUnknowns, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return Guarded(() =>
        {
            (apparatus, string note) = BankShot.Drawn(apparatus, cancellation);
            var sections = Sections.Of(apparatus);
            var model = FieldModels.Of(apparatus, sections, Currents(apparatus, 0.2, quick: true, cancellation));
            MeshedModel? kept = null, coarse = null;
            if (before is not null && StandsAs(model, before.solved.Model))
            {
                model = model with { Parts = before.solved.Model.Parts };
                coarse = before.coarse.With(model);
                kept = before.UnknownCount <= mostUnknowns ? before.solved.Meshed.With(model) : coarse;
            }

            coarse ??= MeshedModel.Create(model, QuickFineness, cancellation);
            var field = kept is not null && kept.Mesh == before!.solved.Mesh ? OtherCurrents(model, before.solved) : null;
            return new StageField(apparatus, sections, field ?? Solve(kept ?? coarse, cancellation), coarse, [], isRefined: false, note);
        });
    }

    /// <summary>Solves again, refining where forces and heat are made, until their error bars meet a target.</summary>
    /// <param name="relativeTarget">Half-width of the bars to aim for, as a share.</param>
    /// <param name="mostUnknowns">Unknowns that are not exceeded by much.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The field could not be found.</exception>
    public StageField Refined(double relativeTarget, int mostUnknowns, CancellationToken cancellation) => Guarded(() =>
    {
        var model = FieldModels.Of(apparatus, sections, Currents(apparatus, relativeTarget, quick: false, cancellation)) with { Parts = coarse.Model.Parts };
        IReadOnlyList<Goal> goals = [.. Pictures.Bodies.Goals(apparatus, sections), new EnergyGoal("energy") { Uncorrected = true }];
        var result = AdaptiveField.Solve(coarse.With(model), goals, new AdaptiveDemand(Math.Min(relativeTarget, LineTarget), mostUnknowns), cancellation: cancellation);
        return new StageField(apparatus, sections, result.Field, coarse, result.Answers, isRefined: true, Note);
    });

    /// <summary>Flux density at a point, T: real and imaginary part of its components, the imaginary ones zero in a field that stands still.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public (Complex X, Complex Y) FluxDensity(double x, double y) => solved switch
    {
        HarmonicField harmonic => (harmonic.FluxDensity(x, y).X, harmonic.FluxDensity(x, y).Y),
        StaticField still => (still.FluxDensity(x, y).X, still.FluxDensity(x, y).Y),
        _ => throw new InvalidOperationException($"A {solved.GetType().Name} cannot be shown."),
    };

    private static StageField Guarded(Func<StageField> solve)
    {
        try
        {
            return solve();
        }
        catch (Exception e) when (FieldRoute.IsBreakdown(e))
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    private static MagneticField Solve(MeshedModel meshed, CancellationToken cancellation) =>
        meshed.Model.Frequency > 0 ? HarmonicField.Solve(meshed, cancellation) : StaticField.Solve(meshed, cancellation);

    // The field of before under other currents, if nothing else has changed and they may be superposed; null otherwise.
    private static HarmonicField? OtherCurrents(FieldModel model, MagneticField before)
    {
        var was = before.Model;
        if (before is not HarmonicField { IsLinear: true } harmonic || model.Frequency != was.Frequency || model.Conductors.Count + was.Conductors.Count + model.Motion.Count + was.Motion.Count > 0
            || model.Edges != was.Edges || model.Windings.Count != was.Windings.Count || model.Matter.Count != was.Matter.Count
            || model.Matter.Any(m => !was.Matter.TryGetValue(m.Key, out var other) || m.Value != other)
            || model.Windings.Zip(was.Windings).Any(p => p.First.Name != p.Second.Name || p.First.Resistance != p.Second.Resistance || !p.First.Sides.SequenceEqual(p.Second.Sides)))
            return null;
        var currents = model.Windings.Select(w => w.Drive is ImposedCurrent c ? c.Current : (Complex?)null).ToList();
        return currents.Any(c => c is null) ? null : harmonic.WithCurrents([.. currents.Select(c => c!.Value)]);
    }

    // Currents that follow from voltages and loads: at first from the magnetic circuit where there is one, since it answers at once.
    private static IReadOnlyDictionary<string, Complex> Currents(Apparatus apparatus, double target, bool quick, CancellationToken cancellation)
    {
        if (SupplyNetwork.IsImposed(apparatus))
            return SupplyNetwork.ImposedCurrents(apparatus);
        CircuitRoute circuit = new CircuitRoute();
        IRoute route = quick && circuit.Serves(apparatus).HasFlag(Wanted.Impedance) ? circuit : new FieldRoute();
        return route.Solve(apparatus, Wanted.Impedance, target, cancellation).Currents;
    }

    // Outlines are compared by their points, so that a dial that moves nothing keeps the mesh.
    private static bool StandsAs(FieldModel model, FieldModel before) =>
        model.Symmetry == before.Symmetry && model.Depth == before.Depth && model.Parts.Count == before.Parts.Count
        && model.Parts.Zip(before.Parts).All(pair => pair.First.Region == pair.Second.Region && Points(pair.First).SequenceEqual(Points(pair.Second)));

    private static IEnumerable<Point> Points(Outline outline) => outline.Edges.SelectMany(e => (Point[])[e.PointAt(0), e.PointAt(0.5)]);

    private Dictionary<int, StageMatter> MatterOfRegions()
    {
        var matter = new Dictionary<int, StageMatter>();
        foreach (var part in apparatus.Parts)
            foreach (int region in sections.RegionsOf(part.Name))
                matter[region] = Pictures.Bodies.IsMagnetic(part) ? StageMatter.Magnetic : StageMatter.Plain;
        foreach (var side in apparatus.Windings.SelectMany(w => sections.SectionsOf(w.Name)))
            matter[side.Outline.Region] = StageMatter.Winding;
        return matter;
    }

    private StageBody Part(Part part, IReadOnlyList<GoalAnswer> answers)
    {
        var regions = sections.RegionsOf(part.Name);
        bool free = part.Freedom != Freedom.Fixed;
        var details = Pictures.Bodies.Details(part, apparatus, solved, sections, answers, Pictures.Bodies.IsMagnetic(part)).ToList();
        (double X, double Y)? force = null;
        if (free && regions.Count > 0)
        {
            var f = solved.Force(regions);
            force = (f.X, f.Y);
            if (answers.Count == 0)
                details.Insert(Math.Min(1, details.Count), $"{Pictures.Bodies.ForceWord(part, apparatus)} about {Pictures.Bodies.Label(part.Freedom == Freedom.Sideways ? f.X : f.Y, 0, "N")}");
        }

        double? weight = free && Floats.MassIsKnown(part) ? Floats.Weight(part, apparatus.Depth) : null;
        return new StageBody(part.Name, Pictures.Bodies.IsMagnetic(part) ? StageMatter.Magnetic : StageMatter.Plain, RegionLoops.Of(solved, [.. regions]), details, force, weight, part.Magnetised);
    }

    private StageBody Winding(Winding winding) => new(
        winding.Name,
        StageMatter.Winding,
        [.. sections.SectionsOf(winding.Name).SelectMany(s => RegionLoops.Of(solved, [s.Outline.Region]))],
        [.. Pictures.Bodies.Details(winding, solved)],
        null, null, null);
}
