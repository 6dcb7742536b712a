using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Fields;
using Fieldwright.Matter;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Cautions;

/// <summary>How far the field of an apparatus reaches: the strength of the field, rms when it alternates, on circles round its middle.</summary>
/// <remarks>
/// A round or long apparatus is probed by its finite elements, whose open space is mapped and never cut off. The plane field of a long apparatus falls off more slowly than the
/// real one does beyond its depth, so that distances there are upper bounds. In free space the far dipole of coils and magnets stands in, all moments taken to add: an upper bound too.
/// </remarks>
internal sealed class StrayField
{
    private const int Directions = 24, Rings = 96;
    private const double Nearest = 1.001, Farthest = 200, Target = 0.03;
    private readonly Func<double, double> strongestAt;

    private StrayField(double size, Func<double, double> strongestAt, bool isUpperBound) => (Size, this.strongestAt, IsUpperBound) = (size, strongestAt, isUpperBound);

    /// <summary>Radius about the middle that holds the whole apparatus, m.</summary>
    public double Size { get; }

    /// <summary>Whether distances from here are upper bounds.</summary>
    public bool IsUpperBound { get; }

    /// <summary>Largest distance from the middle at which the field still reaches a strength, m; 0 when it does so nowhere outside the apparatus.</summary>
    /// <param name="strength">T, rms when alternating.</param>
    public double Reach(double strength)
    {
        double far = Farthest * Size;
        if (strongestAt(far) >= strength)
            return far;
        double step = Math.Pow(Farthest / Nearest, 1.0 / Rings), inner = far;
        while (inner > Nearest * Size)
        {
            double next = Math.Max(inner / step, Nearest * Size);
            if (strongestAt(next) >= strength)
                return Crossing(next, inner, strength);
            inner = next;
        }

        return 0;
    }

    /// <summary>Strongest field just outside the apparatus, T, rms when alternating.</summary>
    public double Outside => strongestAt(Nearest * Size);

    /// <summary>The stray field of an apparatus as it stands.</summary>
    /// <param name="apparatus">The apparatus, its state applied.</param>
    /// <param name="currents">Its currents, A peak.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The field could not be found.</exception>
    public static StrayField? Of(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents, CancellationToken cancellation = default)
    {
        bool still = currents.Values.All(c => c == Complex.Zero) && apparatus.Parts.All(p => p.Magnetised is null && p.Shape is not FoilLoopShape { Carries: not 0 });
        if (still)
            return null;
        return apparatus.Layout == Layout.Free ? OfDipoles(apparatus, currents) : OfField(apparatus, currents, cancellation);
    }

    private static StrayField OfField(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents, CancellationToken cancellation)
    {
        bool round = apparatus.Layout == Layout.Round;
        var sections = Sections.Of(apparatus);
        var field = FieldRoute.Solve(FieldModels.Of(apparatus, sections, currents), Target, cancellation);
        var points = sections.Outlines.SelectMany(o => o.Edges).SelectMany(e => new[] { e.PointAt(0), e.PointAt(0.5) }).ToList();
        double low = points.Min(p => p.Y), high = points.Max(p => p.Y), left = round ? 0 : points.Min(p => p.X), right = points.Max(p => p.X);
        double x = round ? 0 : 0.5 * (left + right), y = 0.5 * (low + high);
        double size = points.Max(p => double.Hypot(p.X - x, p.Y - y));
        double Strongest(double distance)
        {
            double most = 0;
            for (int k = 0; k < Directions; k++)
            {
                // Half a turn will do about an axis.
                double angle = (k + 0.5) / Directions * (round ? Math.PI : 2 * Math.PI);
                double px = x + distance * (round ? Math.Sin(angle) : Math.Cos(angle)), py = y + distance * (round ? Math.Cos(angle) : Math.Sin(angle));
                most = Math.Max(most, Strength(field, px, py));
            }

            return most;
        }

        return new StrayField(size, Strongest, !round);
    }

    private static double Strength(MagneticField field, double x, double y)
    {
        if (field is HarmonicField alternating)
            return alternating.FluxDensity(x, y).Magnitude / Math.Sqrt(2);
        var b = ((StaticField)field).FluxDensity(x, y);
        return double.Hypot(b.X, b.Y);
    }

    private static StrayField? OfDipoles(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents)
    {
        double root = apparatus.Frequency > 0 ? Math.Sqrt(2) : 1;
        var sources = new List<(double Moment, Vector At, double Reach)>();
        foreach (var winding in apparatus.Windings)
        {
            if (winding.Space is not (RoundSpace or FrameSpace) || !currents.TryGetValue(winding.Name, out var current))
                continue;
            var (area, reach) = winding.Space switch
            {
                RoundSpace r => (Math.PI / 3 * (r.OuterRadius * r.OuterRadius + r.OuterRadius * r.InnerRadius + r.InnerRadius * r.InnerRadius), double.Hypot(r.OuterRadius, 0.5 * (r.ToZ - r.FromZ))),
                FrameSpace f => ((f.Length + f.Build) * (f.Width + f.Build), double.Hypot(double.Hypot(0.5 * f.Length + f.Build, 0.5 * f.Width + f.Build), 0.5 * (f.ToZ - f.FromZ))),
                _ => default,
            };
            Add(winding.Turns * current.Magnitude / root * area, FreeSpace.Centre(winding.Space), reach);
        }

        // A loop of given length encloses most when it is round.
        foreach (var foil in apparatus.Parts)
            if (foil.Shape is FoilLoopShape f)
                Add(Math.Abs(f.Carries) / root * Math.Pow(f.Length + f.Span, 2) / (4 * Math.PI), FreeSpace.Centre(foil), 0.5 * f.Length);

        foreach (var magnet in apparatus.Parts.Where(p => p.Magnetised is not null && Motion.Floats.MassIsKnown(p) && p.Shape is not OutlineShape))
        {
            double volume = Motion.Floats.Volume(magnet.Shape, apparatus.Depth);
            Add(magnet.Material.Remanence / PhysicalConstants.MagneticConstant * volume, FreeSpace.Centre(magnet), Math.Cbrt(volume));
        }

        if (sources.Count == 0)
            return null;
        double total = sources.Sum(s => s.Moment);
        var middle = (1 / total) * sources.Aggregate(default(Vector), (sum, s) => sum + s.Moment * s.At);
        double size = sources.Max(s => (s.At - middle).Length + s.Reach);
        // On the axis of each, where it is strongest: μ₀ m / 2π r³, r being the least distance from its middle that a point so far out can have.
        return new StrayField(size, r => sources.Sum(s => PhysicalConstants.MagneticConstant * s.Moment / (2 * Math.PI * Math.Pow(Math.Max(r - (s.At - middle).Length, s.Reach), 3))), true);

        void Add(double moment, Vector at, double reach)
        {
            if (moment > 0)
                sources.Add((moment, at, reach));
        }
    }

    private double Crossing(double inside, double outside, double strength)
    {
        for (int i = 0; i < 20; i++)
        {
            double middle = 0.5 * (inside + outside);
            if (strongestAt(middle) >= strength)
                inside = middle;
            else
                outside = middle;
        }

        return outside;
    }
}
