namespace Fieldwright.Geometry;

/// <summary>A circular edge of less than a full turn. A whole circle is two of them (<see cref="Outline.Circle"/>).</summary>
/// <param name="From">Where it starts, m.</param>
/// <param name="To">Where it ends, m; not the start.</param>
/// <param name="Centre">Centre of the circle, m. Both ends must be equally far from it, to 1e-6 of the radius; the radius is the mean of the two.</param>
/// <param name="CounterClockwise">Whether travel from start to end turns counter-clockwise.</param>
public sealed record ArcEdge(Point From, Point To, Point Centre, bool CounterClockwise) : Edge(From, To)
{
    /// <summary>Radius, m: the mean distance of the two ends from the centre.</summary>
    public double Radius => 0.5 * (From.DistanceTo(Centre) + To.DistanceTo(Centre));

    /// <summary>Direction from the centre to the start, rad.</summary>
    public double StartAngle => Math.Atan2(From.Y - Centre.Y, From.X - Centre.X);

    /// <summary>Angle swept, rad: positive counter-clockwise, of magnitude between 0 and 2π.</summary>
    public double Sweep
    {
        get
        {
            var a = From - Centre;
            var b = To - Centre;
            var turn = Math.Atan2(Point.Cross(a, b), Point.Dot(a, b));
            if (CounterClockwise)
                return turn > 0 ? turn : turn + (2 * Math.PI);
            return turn < 0 ? turn : turn - (2 * Math.PI);
        }
    }

    /// <inheritdoc/>
    public override double Length => Radius * Math.Abs(Sweep);

    /// <inheritdoc/>
    public override Point PointAt(double fraction)
    {
        if (fraction <= 0)
            return From;
        if (fraction >= 1)
            return To;
        // Turn the nearer end about the centre, so that small steps from an end stay accurate.
        var (end, angle) = fraction <= 0.5 ? (From, fraction * Sweep) : (To, (fraction - 1) * Sweep);
        var (sin, cos) = Math.SinCos(angle);
        var arm = end - Centre;
        var scale = Radius / arm.Length;
        return Centre + (scale * new Point((cos * arm.X) - (sin * arm.Y), (sin * arm.X) + (cos * arm.Y)));
    }

    /// <inheritdoc/>
    public override Point DirectionAt(double fraction)
    {
        var arm = PointAt(fraction) - Centre;
        var along = (1 / arm.Length) * arm.TurnedLeft;
        return CounterClockwise ? along : -1 * along;
    }

    /// <inheritdoc/>
    public override Edge Reversed => new ArcEdge(To, From, Centre, !CounterClockwise);

    /// <inheritdoc/>
    public override double DistanceTo(Point point, out double fraction)
    {
        var arm = point - Centre;
        var sweep = Sweep;
        if (arm.Length > 0)
        {
            var start = From - Centre;
            var turn = Math.Atan2(Point.Cross(start, arm), Point.Dot(start, arm));
            if (sweep > 0 && turn < 0)
                turn += 2 * Math.PI;
            if (sweep < 0 && turn > 0)
                turn -= 2 * Math.PI;
            var along = turn / sweep;
            if (along is >= 0 and <= 1)
            {
                fraction = along;
                return Math.Abs(arm.Length - Radius);
            }
        }
        var first = point.DistanceTo(From);
        var last = point.DistanceTo(To);
        fraction = first <= last ? 0 : 1;
        return Math.Min(first, last);
    }

    internal override Edge Part(double from, double to, Point start, Point end) => new ArcEdge(start, end, Centre, CounterClockwise);

    internal override double SweptArea(Point origin)
    {
        // Chord triangle plus the circular segment ½R²(θ − sin θ), which for small θ is summed from its series.
        var theta = Sweep;
        var segment = Math.Abs(theta) < 0.1
            ? theta * theta * theta / 6 * (1 - (theta * theta / 20 * (1 - (theta * theta / 42 * (1 - (theta * theta / 72))))))
            : theta - Math.Sin(theta);
        return 0.5 * (Point.Cross(From - origin, To - origin) + (Radius * Radius * segment));
    }

    internal override Box Bounds
    {
        get
        {
            var box = Box.Of(From, To);
            var r = Radius;
            foreach (var p in (ReadOnlySpan<Point>)[new(r, 0), new(0, r), new(-r, 0), new(0, -r)])
            {
                if (Contains(Math.Atan2(p.Y, p.X)))
                    box = box.With(Centre + p);
            }
            return box;
        }
    }

    /// <summary>Whether the arc passes the given direction from its centre.</summary>
    private bool Contains(double direction)
    {
        var turn = Math.IEEERemainder(direction - StartAngle, 2 * Math.PI);
        if (CounterClockwise)
            return (turn < 0 ? turn + (2 * Math.PI) : turn) <= Sweep;
        return (turn > 0 ? turn - (2 * Math.PI) : turn) >= Sweep;
    }
}
