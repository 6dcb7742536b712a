using Fieldwright.Matter;

namespace Fieldwright.Series.Coils;

/// <summary>Field of one ampere-turn spread evenly over the winding of a rounded rectangle, in its own frame.</summary>
/// <remarks>
/// The winding is cut into four straight and four curved pieces. Along the height the integrals of Biot–Savart are closed; the two that are left,
/// along the turn (s) and outwards (u), run over boxes halved until none is larger than its distance from the point, six Gauss points a side.
/// A box below the finest size round a point inside the winding is left out: what it would add goes to zero with its size.
/// </remarks>
internal sealed class RacetrackField
{
    /// <summary>Finest box over the size of the coil for full accuracy.</summary>
    public const double Finest = 1e-8;

    private static readonly GaussRule Rule = GaussRule.WithNodes(6);

    private readonly Piece[] pieces;
    private readonly double build, half, size;

    public RacetrackField(double length, double width, double corner, double build, double height)
    {
        this.build = build;
        half = 0.5 * height;
        size = length + width + 2 * build;
        double a = 0.5 * length, b = 0.5 * width, p = a - corner, q = b - corner;
        pieces =
        [
            new(false, a, -q, 0, 1, 2 * q, 0), new(true, p, q, 1, 0, 0.5 * Math.PI, corner),
            new(false, p, b, -1, 0, 2 * p, 0), new(true, -p, q, 0, 1, 0.5 * Math.PI, corner),
            new(false, -a, q, 0, -1, 2 * q, 0), new(true, -p, -q, -1, 0, 0.5 * Math.PI, corner),
            new(false, -p, -b, 1, 0, 2 * p, 0), new(true, p, -q, 0, -1, 0.5 * Math.PI, corner),
        ];
        pieces = [.. pieces.Where(piece => piece.Length > 1e-12 * size)];
    }

    /// <summary>Flux density and vector potential per ampere-turn.</summary>
    /// <param name="point">Point in the coil's own frame.</param>
    /// <param name="finest">Finest box over the size of the coil.</param>
    public (Vector FluxDensity, Vector VectorPotential) At(Vector point, double finest)
    {
        var sum = new Sums(point, half, finest * size);
        foreach (var piece in pieces)
            sum.Add(piece, 0, piece.Length, 0, build);
        var scale = PhysicalConstants.MagneticConstant / (4 * Math.PI) / (build * 2 * half);
        return (scale * new Vector(sum.Bx, sum.By, sum.Bz), scale * new Vector(sum.Ax, sum.Ay, 0));
    }

    /// <summary>Pieces of one ampere-turn: place and directed length times share of the section.</summary>
    public IEnumerable<(Vector Point, Vector Along)> Turns(int panels, int across)
    {
        var rule = GaussRule.WithNodes(across);
        foreach (var piece in pieces)
            for (var panel = 0; panel < panels; panel++)
                for (var i = 0; i < 6; i++)
                    for (var j = 0; j < across; j++)
                    {
                        var (x, y, tx, ty, jacobian) = piece.At(piece.Length * (panel + Rule.Nodes[i]) / panels, build * rule.Nodes[j]);
                        var along = piece.Length / panels * Rule.Weights[i] * rule.Weights[j] * jacobian;
                        for (var k = 0; k < across; k++)
                            yield return (new(x, y, half * (2 * rule.Nodes[k] - 1)), along * rule.Weights[k] * new Vector(tx, ty, 0));
                    }
    }

    /// <summary>Flux linked by one turn spread over the section, per ampere-turn in the same: a quarter of the way round and half the height stand for all.</summary>
    public double MeanLinkage(int order)
    {
        var rule = GaussRule.WithNodes(order);
        double total = 0;
        foreach (var piece in pieces)
        {
            // The quarter x, y > 0: the corner there, and the halves of the two straights that meet in it.
            var (from, to) = piece switch
            {
                { IsArc: true, DirX: > 0.5 } => (0, piece.Length),
                { IsArc: false, DirY: > 0.5 } => (0.5 * piece.Length, piece.Length),
                { IsArc: false, DirX: < -0.5 } => (0, 0.5 * piece.Length),
                _ => (0.0, 0.0),
            };
            for (var i = 0; to > from && i < order; i++)
                for (var j = 0; j < order; j++)
                    for (var k = 0; k < order; k++)
                    {
                        var (x, y, tx, ty, jacobian) = piece.At(from + (to - from) * rule.Nodes[i], build * rule.Nodes[j]);
                        var a = At(new(x, y, half * rule.Nodes[k]), 1e-5).VectorPotential;
                        total += 4 * (to - from) * rule.Weights[i] * rule.Weights[j] * rule.Weights[k] * jacobian * (tx * a.X + ty * a.Y);
                    }
        }

        return total;
    }

    /// <summary>A straight side (from a point of its inner edge, along a direction) or a corner (about a centre, from a direction, the length an angle).</summary>
    private readonly record struct Piece(bool IsArc, double X, double Y, double DirX, double DirY, double Length, double Inner)
    {
        public (double X, double Y, double Tx, double Ty, double Jacobian) At(double s, double u)
        {
            if (!IsArc)
                return (X + s * DirX + u * DirY, Y + s * DirY - u * DirX, DirX, DirY, 1);
            var (sin, cos) = Math.SinCos(s);
            double nx = cos * DirX - sin * DirY, ny = cos * DirY + sin * DirX, r = Inner + u;
            return (X + r * nx, Y + r * ny, -ny, nx, r);
        }

        /// <summary>Distance in the plane from a point to a box of the piece.</summary>
        public double Distance(double x, double y, double s0, double s1, double u0, double u1)
        {
            double dx = x - X, dy = y - Y;
            if (!IsArc)
            {
                double s = dx * DirX + dy * DirY, u = dx * DirY - dy * DirX;
                return double.Hypot(Math.Max(0, Math.Max(s0 - s, s - s1)), Math.Max(0, Math.Max(u0 - u, u - u1)));
            }

            double along = dx * DirX + dy * DirY, aside = dy * DirX - dx * DirY, r = double.Hypot(dx, dy), angle = Math.Atan2(aside, along);
            if (angle >= s0 && angle <= s1)
                return Math.Max(0, Math.Max(Inner + u0 - r, r - Inner - u1));
            // Beyond an end: to the nearer of the two straight edges.
            return Math.Min(ToEdge(along, aside, s0, Inner + u0, Inner + u1), ToEdge(along, aside, s1, Inner + u0, Inner + u1));
        }
    }

    private static double ToEdge(double along, double aside, double angle, double from, double to)
    {
        var (sin, cos) = Math.SinCos(angle);
        double outwards = along * cos + aside * sin;
        return double.Hypot(aside * cos - along * sin, Math.Max(0, Math.Max(from - outwards, outwards - to)));
    }

    private struct Sums(Vector point, double half, double finest)
    {
        private readonly double clear = Math.Max(0, Math.Abs(point.Z) - half);
        public double Bx, By, Bz, Ax, Ay;

        public void Add(in Piece piece, double s0, double s1, double u0, double u1)
        {
            double ds = (s1 - s0) * (piece.IsArc ? piece.Inner + u1 : 1), du = u1 - u0, most = Math.Max(ds, du);
            if (most > double.Hypot(piece.Distance(point.X, point.Y, s0, s1, u0, u1), clear))
            {
                if (most < finest)
                    return;
                double s = ds > 0.5 * du ? 0.5 * (s0 + s1) : s1, u = du > 0.5 * ds ? 0.5 * (u0 + u1) : u1;
                Add(piece, s0, s, u0, u);
                if (s < s1)
                    Add(piece, s, s1, u0, u);
                if (u < u1)
                    Add(piece, s0, s, u, u1);
                if (s < s1 && u < u1)
                    Add(piece, s, s1, u, u1);
                return;
            }

            double high = point.Z + half, low = point.Z - half;
            for (var i = 0; i < 6; i++)
                for (var j = 0; j < 6; j++)
                {
                    var (x, y, tx, ty, jacobian) = piece.At(s0 + (s1 - s0) * Rule.Nodes[i], u0 + du * Rule.Nodes[j]);
                    double dx = point.X - x, dy = point.Y - y, w = (s1 - s0) * du * jacobian * Rule.Weights[i] * Rule.Weights[j], q = Math.Max(dx * dx + dy * dy, 1e-300);
                    double r1 = Math.Sqrt(q + low * low), r2 = Math.Sqrt(q + high * high), level, upright, potential;
                    level = (high - low) * (high + low) / (r1 * r2 * (r1 + r2)); // 1/r₁ − 1/r₂
                    if (low * high > 0)
                    {
                        // Both ends on one side: the closed forms would cancel above the winding.
                        double near = Math.Min(Math.Abs(low), Math.Abs(high)), far = Math.Max(Math.Abs(low), Math.Abs(high)), rn = Math.Min(r1, r2), rf = Math.Max(r1, r2);
                        upright = 1 / (rn * (rn + near)) - 1 / (rf * (rf + far));
                        potential = Math.Log((far + rf) / (near + rn));
                    }
                    else
                    {
                        upright = (high / r2 - low / r1) / q;
                        potential = Math.Log((high + r2) * (r1 - low) / q);
                    }

                    Bx += w * ty * level;
                    By -= w * tx * level;
                    Bz += w * (tx * dy - ty * dx) * upright;
                    Ax += w * tx * potential;
                    Ay += w * ty * potential;
                }
        }
    }
}
