using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Series;

namespace Fieldwright.Bench.Pictures.Live;

/// <summary>Follows lines of the field through space, from points spread evenly over the openings of coils and the poles of magnets.</summary>
/// <remarks>In space no count of lines stands for a flux: near each other they only mean that the field is strong there. Midpoint steps that grow shorter where a line bends.</remarks>
internal static class SpaceLines
{
    private const int Most = 260, Share = 36;

    // 1 − cos of the turn within half a step: 6°.
    private const double MostBend = 0.0055;

    /// <summary>Four values a point: place in m, flux density in T at the instant.</summary>
    /// <param name="field">Flux density, peak phasors.</param>
    /// <param name="phase">ωt, rad.</param>
    /// <param name="apparatus">Where the lines start.</param>
    /// <param name="least">Lowest corner of the box round the bodies, m.</param>
    /// <param name="most">Highest corner, m.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static IReadOnlyList<float[]> Trace(Func<Vector, ComplexVector> field, double phase, Apparatus apparatus, Vector least, Vector most, CancellationToken cancellation)
    {
        double size = (most - least).Length, step = size / Share;
        var (sin, cos) = Math.SinCos(phase);
        Vector At(Vector p) => field(p) is var b ? cos * b.Real - sin * b.Imaginary : default;
        double floor = apparatus.Parts.FirstOrDefault(p => p.Shape is IronPlaneShape)?.Place.Z ?? double.NegativeInfinity;
        bool Inside(Vector p) => p.Z > floor && (p - 0.5 * (least + most)).Length < 1.35 * size;
        var lines = new List<float[]>();
        foreach (var start in Starts(apparatus, size))
        {
            cancellation.ThrowIfCancellationRequested();
            var (forth, closed) = Follow(At, start, step, Inside);
            var points = closed ? forth : [.. Follow(At, start, -step, Inside).Points.Skip(1).Reverse(), .. forth];
            if (points.Count > 2)
                lines.Add([.. points.SelectMany(p => (float[])[(float)p.At.X, (float)p.At.Y, (float)p.At.Z, (float)p.Strength])]);
        }

        return lines;
    }

    private static (List<(Vector At, double Strength)> Points, bool Closed) Follow(Func<Vector, Vector> field, Vector start, double longest, Func<Vector, bool> inside)
    {
        var points = new List<(Vector, double)>();
        var at = start;
        double step = 0.25 * longest, gone = 0;
        for (int k = 0; k < Most; k++)
        {
            var b = field(at);
            double strength = b.Length;
            if (!(strength > 0) || !double.IsFinite(strength))
                break;
            points.Add((at, strength));
            Vector middle;
            double bend;
            // Shorter steps where the line bends, longer ones where it runs straight.
            while (true)
            {
                middle = field(at + 0.5 * step / strength * b);
                bend = 1 - Vector.Dot(b, middle) / (strength * middle.Length);
                if (!(bend > MostBend) || Math.Abs(step) < 0.03 * Math.Abs(longest))
                    break;
                step *= 0.5;
            }

            if (!(middle.Length > 0))
                break;
            var next = at + step / middle.Length * middle;
            gone += Math.Abs(step);
            if (!inside(next))
                break;
            if (gone > 4 * Math.Abs(step) && (next - start).Length < 0.6 * Math.Abs(step))
            {
                points.Add((start, points[0].Item2));
                return (points, true);
            }

            at = next;
            if (bend < 0.2 * MostBend)
                step = Math.CopySign(Math.Min(2 * Math.Abs(step), Math.Abs(longest)), longest);
        }

        return (points, false);
    }

    private static IEnumerable<Vector> Starts(Apparatus apparatus, double size)
    {
        foreach (var winding in apparatus.Windings)
        {
            if (winding.Space is RoundSpace r)
                foreach (var p in Over(r.InnerRadius, r.InnerRadius, FreeSpace.Centre(r), FreeSpace.Axes(r.Attitude)))
                    yield return p;
            else if (winding.Space is FrameSpace f)
                foreach (var p in Over(0.5 * f.Length, 0.5 * f.Width, FreeSpace.Centre(f), FreeSpace.Axes(f.Attitude)))
                    yield return p;
        }

        foreach (var part in apparatus.Parts.Where(p => p.Magnetised is not null))
        {
            var own = FreeSpace.Axes(part.Attitude);
            var (x, y, up) = part.Shape switch { DiscShape d => (d.Radius, d.Radius, d.Thickness), RingShape r => (r.OuterRadius, r.OuterRadius, r.Height), BlockShape b => (0.5 * b.Length, 0.5 * b.Width, b.Thickness), _ => (0, 0, 0) };
            // A little off the pole, where the field is smooth.
            if (x > 0)
                foreach (var p in Over(x, y, FreeSpace.Centre(part) + (0.5 * up + 0.01 * size) * own.Z, own))
                    yield return p;
        }

        foreach (var part in apparatus.Parts.Where(p => p.Shape is FoilLoopShape))
        {
            var f = (FoilLoopShape)part.Shape;
            var own = FreeSpace.Axes(part.Attitude);
            for (int k = 1; k <= 4; k++)
                for (int side = -1; side <= 1; side += 2)
                    yield return new Vector(part.Place.X, part.Place.Y, part.Place.Z - 0.1 * k * f.Length) + side * 0.06 * f.Length * own.X;
        }
    }

    // Two rings of points and the middle, each for about the same share of an ellipse with these half-axes.
    private static IEnumerable<Vector> Over(double x, double y, Vector centre, (Vector X, Vector Y, Vector Z) own)
    {
        // Not quite the middle: on an axis of symmetry the line would run away straight.
        yield return centre + 0.03 * x * own.X;
        foreach (var (radius, count, turn) in ((double, int, double)[])[(0.45, 6, 0.2), (0.8, 10, 0.5)])
            for (int k = 0; k < count; k++)
            {
                var (sin, cos) = Math.SinCos(2 * Math.PI * (k + turn) / count);
                yield return centre + radius * x * cos * own.X + radius * y * sin * own.Y;
            }
    }
}
