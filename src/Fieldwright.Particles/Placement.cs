using Fieldwright.Numerics;

namespace Fieldwright.Particles;

/// <summary>Discs set into a box in rows, with speeds drawn from a seed.</summary>
public static class Placement
{
    /// <summary>Equal discs in rows, every other row shifted by half a step, with speeds after Maxwell, no momentum together, and exactly the energy of motion asked.</summary>
    /// <param name="count">How many; positive.</param>
    /// <param name="radius">Radius, m; positive.</param>
    /// <param name="mass">Mass, kg; positive.</param>
    /// <param name="width">Extent of the area along x, m.</param>
    /// <param name="height">Extent along y, m.</param>
    /// <param name="energyEach">Mean energy of motion of a disc, J (kT in two dimensions); zero or more.</param>
    /// <param name="seed">Where the drawing starts.</param>
    /// <param name="sides">What stands at the sides.</param>
    /// <exception cref="ArgumentException">They do not fit.</exception>
    public static IReadOnlyList<DiscState> Lattice(int count, double radius, double mass, double width, double height, double energyEach, int seed, Sides sides = Sides.Walls)
    {
        Guard.Positive(count);
        Guard.Positive(radius);
        Guard.Positive(mass);
        Guard.NotNegative(energyEach);
        (double Room, List<(double, double)> Places)? best = null;
        for (int across = 1; across <= Math.Min(count, (int)(width / (2 * radius))); across++)
        {
            int down = (count + across - 1) / across;
            double stepX = width / (across + 0.5);
            double stepY = sides == Sides.Endless ? height / down : down == 1 ? height : (height - 2 * radius) / (down - 1);
            double first = sides == Sides.Endless ? 0.5 * stepY : down == 1 ? 0.5 * height : radius;
            // Nearest neighbours: in the row, in the next row, and two rows on (or across the seam of an odd number of rows).
            double room = Math.Min(stepX, Math.Sqrt(0.25 * stepX * stepX + stepY * stepY));
            room = down == 1 ? stepX : Math.Min(room, sides == Sides.Endless && down % 2 == 1 ? stepY : down > 2 ? 2 * stepY : room);
            if (room > (best?.Room ?? 2 * radius * (1 + 1e-9)))
                best = (room, [.. Enumerable.Range(0, count).Select(n => ((n % across + (n / across % 2 == 0 ? 0.5 : 1)) * stepX, first + n / across * stepY))]);
        }

        return best is { } found ? WithSpeeds(found.Places, radius, mass, energyEach, seed)
            : throw new ArgumentException(FormattableString.Invariant($"{count} discs of radius {radius} m do not fit into {width} m by {height} m in rows."));
    }

    private static List<DiscState> WithSpeeds(List<(double X, double Y)> places, double radius, double mass, double energyEach, int seed)
    {
        var random = new Random(seed);
        var speeds = places.Select(_ => Normal(random)).ToList();
        if (places.Count > 1)
        {
            double mx = speeds.Average(s => s.X), my = speeds.Average(s => s.Y);
            speeds = speeds.ConvertAll(s => (s.X - mx, s.Y - my));
        }

        double mean = speeds.Average(s => 0.5 * mass * (s.X * s.X + s.Y * s.Y)), scale = Math.Sqrt(energyEach / mean);
        return [.. places.Select((p, i) => new DiscState(p.X, p.Y, scale * speeds[i].X, scale * speeds[i].Y, radius, mass))];
    }

    private static (double X, double Y) Normal(Random random)
    {
        double size = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())), angle = 2 * Math.PI * random.NextDouble();
        return (size * Math.Cos(angle), size * Math.Sin(angle));
    }
}
