using Fieldwright.Bench.Model;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>A flat box as its drawing shows it, seen square on: walls, the discs lying at rest in rows, lid and floor. Positions are those of the rows of its table.</summary>
internal static class BoxView
{
    // Walls of no stated thickness, as a share of the width; and no more discs than a drawing can bear.
    private const double Wall = 0.025, Tallest = 1.6;
    private const int MostDiscs = 400;

    /// <summary>Everything of the box.</summary>
    public static List<DrawnThing> Of(ParticleBox box)
    {
        double w = box.Width, h = box.Height, wall = Wall * w, low = box.Floor is null ? 0 : -wall, shown = Tallest * Math.Max(w, box.Lid?.Height ?? 0);
        bool torn = h > shown;
        // A box that runs on far beyond what is in it is torn off, so that the rest is not drawn too small.
        double end = torn ? shown : h, slant = torn ? wall : 0;
        var things = new List<DrawnThing>
        {
            new(0, false, box.IsOpen || torn ? [[new(-wall, end), new(-wall, low - wall), new(w + wall, low - wall), new(w + wall, end), new(w, end + slant), new(w, low), new(0, low), new(0, end + slant)]] : [Block(-wall, low - wall, w + wall, h + wall), Block(0, low, w, h)],
                [(0, w, false)], torn ? [] : [(0, h)], IsBroken: torn),
        };
        double top = Discs(box, things);
        if (box.Large is { } large)
            things.Add(new(things.Count, false, [DrawnThing.Circle(0.5 * w, top + large.Radius, large.Radius)], [(0.5 * w - large.Radius, 0.5 * w + large.Radius, true)], []));
        if (box.Lid is { } lid)
            things.Add(new(things.Count, false, [Block(0, lid.Height, w, lid.Height + 0.8 * wall)], [], [(0, lid.Height)]));
        if (box.Floor is not null)
            things.Add(new(things.Count, false, [Block(0.004 * w, -0.8 * wall, 0.996 * w, 0)], [], []));
        return things;
    }

    // Rows in which each disc lies between two of the row below.
    private static double Discs(ParticleBox box, List<DrawnThing> things)
    {
        double r = box.Discs.Radius;
        int left = (int)Math.Min(box.Discs.Count, MostDiscs), full = Math.Max(1, (int)(box.Width / (2 * r) + 1e-9));
        var loops = new List<IReadOnlyList<Point>>();
        double y = r;
        for (int row = 0; left > 0; row++, y += Math.Sqrt(3) * r)
        {
            double start = row % 2 == 0 ? r : 2 * r;
            int here = Math.Min(left, row % 2 == 0 || full * 2 * r + r <= box.Width ? full : Math.Max(1, full - 1));
            loops.AddRange(Enumerable.Range(0, here).Select(k => DrawnThing.Circle(start + 2 * r * k, y, r)));
            left -= here;
        }

        if (loops.Count > 0)
            things.Add(new(things.Count, false, loops, [(0, 2 * r, true)], []));
        return y - Math.Sqrt(3) * r + r;
    }

    private static Point[] Block(double left, double low, double right, double high) => [new(left, low), new(right, low), new(right, high), new(left, high)];
}
