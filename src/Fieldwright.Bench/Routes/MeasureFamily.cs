using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Supplies;
using Fieldwright.Bench.Windings;

namespace Fieldwright.Bench.Routes;

/// <summary>A question put to a family of measures: what is asked, under which circumstances, and how operating points are found.</summary>
/// <param name="Kind">The kind of measure.</param>
/// <param name="Measure">The measure.</param>
/// <param name="Circumstances">The circumstances it is asked in.</param>
/// <param name="Route">The route that answers.</param>
/// <param name="Session">Its session; null when the file alone answers.</param>
/// <param name="Quick">Whether the quick way is asked for, of a family that has two.</param>
internal sealed record Asked(MeasureKind Kind, Measure Measure, Circumstances Circumstances, RouteName Route, RouteSession? Session, bool Quick = false)
{
    /// <summary>The apparatus, all settings applied.</summary>
    public Apparatus Apparatus => Circumstances.Apparatus;

    /// <summary>Square root of two when the apparatus alternates: peak over rms.</summary>
    public double Root => Apparatus.Frequency > 0 ? Math.Sqrt(2) : 1;

    /// <summary>The operating point, or the currents that the file gives when there is no session.</summary>
    /// <exception cref="RouteFailedException">The route could not find it.</exception>
    public OperatingPoint Point(Wanted wanted) => Session is null ? new OperatingPoint { Currents = SupplyNetwork.ImposedCurrents(Apparatus) }
        : Session.At(Circumstances, wanted, Kind.Subject == SubjectKind.Part ? Measure.Subject : null);

    /// <summary>The winding asked about.</summary>
    public Winding Winding => Apparatus.Winding(Measure.Subject!)!;

    /// <summary>The supply asked about.</summary>
    public Supply Supply => Apparatus.Supply(Measure.Subject!)!;

    /// <summary>An answer of this route.</summary>
    public Answer Answer(double value, double bar, params ReadOnlySpan<string> remarks) => new(value, Math.Abs(bar), Route, string.Join(' ', remarks.ToArray().Where(r => r.Length > 0)));
}

/// <summary>Measures that belong together and live in a file of their own; the catalogue, the reader and the routes learn of them here.</summary>
internal abstract class MeasureFamily
{
    /// <summary>All families.</summary>
    public static IReadOnlyList<MeasureFamily> All { get; } = [new SupplyMeasures(), new InrushMeasures(), new KickMeasures(), new WindingMeasures(), new DutyMeasures(), new WarmLiftMeasures(), new ShotMeasures(), new FlightMeasures(), new KeeperMeasures(), new WayMeasures(), new MagnetMeasures(), new CoreMeasures(),
        new BoardMeasures(), new JetMeasures(), new Travelling.LiquidMeasures()];

    /// <summary>The kinds of the family.</summary>
    public abstract IReadOnlyList<MeasureKind> Kinds { get; }

    /// <summary>The family a kind belongs to, or null.</summary>
    public static MeasureFamily? Of(MeasureKind kind) => All.FirstOrDefault(f => f.Kinds.Contains(kind));

    /// <summary>What a kind needs of an operating point; none when the file answers.</summary>
    public abstract Wanted Needs(MeasureKind kind, Apparatus apparatus);

    /// <summary>What a route must find to answer a kind beside the file or the routes that <see cref="Needs"/> names; none when nothing does.</summary>
    public virtual Wanted Beside(MeasureKind kind) => Wanted.None;

    /// <summary>Whether a kind has a quick way besides, independent of how the field route answers, that stands beside it where that route alone knows the operating point.</summary>
    public virtual bool HasQuick(MeasureKind kind) => false;

    /// <summary>What an apparatus would have to have for a kind to mean something; null when it does.</summary>
    public virtual string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) => null;

    /// <summary>Whether a kind means something although nothing drives the windings.</summary>
    public virtual bool StandsAlone(MeasureKind kind) => false;

    /// <summary>The answer.</summary>
    /// <exception cref="RouteFailedException">It could not be found.</exception>
    public abstract Answer Answer(Asked asked);

    // Impedance, or nothing when every current is given by the file.
    private protected static Wanted UnlessImposed(Apparatus apparatus) => SupplyNetwork.IsImposed(apparatus) ? Wanted.None : Wanted.Impedance;
}
