using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Motion;

/// <summary>Which of its two neighbours, magnets or steel, keeps a free part when they are drawn apart, and how thick a spacer changes that.</summary>
/// <remarks>
/// Drawn apart slowly, the part leaves the neighbour that pulls less where it stands: its net force, weight counted, points to the other. Whether it stays with that one is looked at with the
/// loser further and further off. The spacer is found by drawing back all that lies on the keeper's side until the net force has gone through zero.
/// </remarks>
internal sealed class KeeperMeasures : MeasureFamily
{
    // How far the loser is drawn away to look again, and the thickest spacer tried, in heights of the part.
    private static readonly double[] Away = [0.2, 1, 3];
    private const double Thickest = 5;

    // Half-width of the lift asked for on the way, relative to it: where it all but vanishes that is next to nothing of what the part is held with.
    private const double OnTheWay = 0.2;

    private static readonly MeasureKind
        Pull = new("keeping pull", "on", SubjectKind.Part, "N", false, "Net force on a free part between two neighbours of magnet or steel, weight counted, upwards positive: it goes with the one it is pulled to when they are drawn apart, and the answer names it."),
        Spacer = new("changeover spacer", "of", SubjectKind.Part, "mm", false, "Distance between a free part and the neighbour that keeps it at which the other neighbour begins to win: how thick a spacer takes the part away from it.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Pull, Spacer];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Forces;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        apparatus.Layout == Layout.Round && apparatus.Frequency == 0 && apparatus.Part(subject!) is { Freedom: Freedom.UpAndDown or Freedom.Freely } part && Floats.MassIsKnown(part)
        && apparatus.Parts.Any(p => p.Magnetised is not null) && Side.Of(apparatus, part, 1) is not null && Side.Of(apparatus, part, -1) is not null
            ? null : "a part of known mass that moves up and down on the axis, with a neighbour of magnet or steel over it and one under it";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var part = asked.Apparatus.Part(asked.Measure.Subject!)!;
        var net = Net(asked.Session!, asked.Circumstances, part);
        var point = asked.Point(Wanted.Forces);
        if (Math.Abs(net.Value) <= net.Bar && asked.Kind == Pull)
            return asked.Answer(net.Value, net.Bar, "Which of the two keeps it cannot be told.", point.Remark);
        int to = Math.Sign(net.Value);
        Side keeper = Side.Of(asked.Apparatus, part, to)!, loser = Side.Of(asked.Apparatus, part, -to)!;
        return asked.Kind == Pull ? asked.Answer(net.Value, net.Bar, $"'{keeper.Nearest.Name}' keeps it.", Afterwards(asked, part, loser, to), point.Remark) : Changeover(asked, part, keeper, loser, net, point.Remark);
    }

    // A part that has parted from one neighbour may still be called back by it.
    private static string Afterwards(Asked asked, Part part, Side loser, int to)
    {
        foreach (double share in Away)
        {
            var there = loser.DrawnBack(asked.Circumstances, share * part.Shape.Above);
            var net = Net(asked.Session!.Loosely(OnTheWay), there, part);
            if (to * net.Value < -net.Bar)
                return string.Create(CultureInfo.InvariantCulture, $"But with '{loser.Nearest.Name}' {(loser.Gap + share * part.Shape.Above) * 1e3:0.#} mm off it goes back to that.");
        }

        return "";
    }

    private static Answer Changeover(Asked asked, Part part, Side keeper, Side loser, Estimate here, string remark)
    {
        double size = part.Shape.Above;
        int to = Math.Sign(here.Value);
        var session = asked.Session!.Loosely(OnTheWay);
        Estimate Held(double back)
        {
            var net = Net(session, keeper.DrawnBack(asked.Circumstances, back), part);
            return new Estimate(to * net.Value, net.Bar);
        }

        (double low, double high) = (0, 0.05 * size);
        Estimate atLow = new(Math.Abs(here.Value), here.Bar), atHigh = Held(high);
        while (atHigh.Value > 0)
        {
            if (high > Thickest * size)
                throw new RouteFailedException(string.Create(CultureInfo.InvariantCulture, $"However thick the spacer, up to {Thickest:0} times its own height, '{keeper.Nearest.Name}' keeps '{part.Name}'."));
            (low, atLow) = (high, atHigh);
            high *= 1.6;
            atHigh = Held(high);
        }

        // The slope comes from two places wide enough apart to drown what differs from mesh to mesh.
        double zero = Between(low, atLow, high, atHigh), slope = Slope(low, atLow, high, atHigh), bar = 0;
        for (int i = 0; i < 12; i++)
        {
            var at = Held(zero);
            bar = Math.Abs(at.Value) + at.Bar;
            if (Math.Abs(at.Value) <= 0.2 * at.Bar || high - low < 1e-3 * size)
                break;
            if (at.Value > 0)
                (low, atLow) = (zero, at);
            else
                (high, atHigh) = (zero, at);
            if (high - low > 0.02 * size)
                slope = Slope(low, atLow, high, atHigh);
            double next = Between(low, atLow, high, atHigh);
            // Where the curve bends, one end of the bracket would stay for long.
            zero = i % 3 == 2 ? 0.5 * (low + high) : next;
        }

        return asked.Answer(keeper.Gap + zero, bar / slope,
            string.Create(CultureInfo.InvariantCulture, $"'{keeper.Nearest.Name}' keeps it now, at {keeper.Gap * 1e3:0.##} mm; beyond this '{loser.Nearest.Name}' does."), remark);
    }

    private static double Between(double low, Estimate atLow, double high, Estimate atHigh) => low + (high - low) * atLow.Value / (atLow.Value - atHigh.Value);

    // The least that the two bars leave.
    private static double Slope(double low, Estimate atLow, double high, Estimate atHigh)
    {
        double fall = atLow.Value - atHigh.Value;
        return Math.Max(0.3 * fall, fall - atLow.Bar - atHigh.Bar) / (high - low);
    }

    private static Estimate Net(RouteSession session, Circumstances circumstances, Part part)
    {
        var lift = session.At(circumstances, Wanted.Forces, part.Name).ForceUp[part.Name];
        return lift with { Value = lift.Value - Floats.Weight(part) };
    }

    // What of magnet and steel lies wholly above (+1) or below (−1) a part: the nearest, the distance between their faces, and all of it, the furthest first.
    private sealed record Side(int Sign, Part Nearest, double Gap, IReadOnlyList<Part> All)
    {
        private const double Touch = 1e-9;

        public static Side? Of(Apparatus apparatus, Part part, int sign)
        {
            double Distance(Part p) => sign > 0 ? Underside(p) - part.Top : Underside(part) - p.Top;
            static double Underside(Part p) => p.Place.Z + (p.Shape is OutlineShape o ? o.Corners.Min(c => c.Y) : 0);
            var all = apparatus.Parts.Where(p => p != part && (p.Magnetised is not null || p.Material.Curve is not null || p.Material.RelativePermeability > 1) && Distance(p) > -Touch).OrderByDescending(Distance).ToList();
            return all.Count == 0 ? null : new Side(sign, all[^1], Math.Max(0, Distance(all[^1])), all);
        }

        public Circumstances DrawnBack(Circumstances circumstances, double by)
        {
            try
            {
                return All.Aggregate(circumstances, (c, p) => RouteSession.AtHeight(c, p, p.Place.Z + Sign * by));
            }
            catch (ArgumentException e)
            {
                throw new RouteFailedException($"'{Nearest.Name}' has no room to be drawn back.", e);
            }
        }
    }
}
