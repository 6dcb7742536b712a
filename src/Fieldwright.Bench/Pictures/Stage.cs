using Fieldwright.Bench.Routes;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Where the plane of the apparatus lies on the sheet: a rectangle of the sheet, a view of the plane and a scale.</summary>
internal sealed class Stage
{
    private const double Area = 660 * 480, Widest = 700, Tallest = 640;

    // Open space round the things, as a share of the larger half of their extent.
    private const double Surroundings = 0.55;

    private readonly double scale;
    private readonly Point centre;

    /// <summary>A stage for an apparatus.</summary>
    /// <param name="sections">Its parts and windings.</param>
    /// <param name="isRound">Whether both halves of a round section are shown.</param>
    /// <param name="left">Left edge on the sheet, px.</param>
    /// <param name="top">Upper edge on the sheet, px.</param>
    public Stage(Sections sections, bool isRound, double left, double top)
    {
        IsRound = isRound;
        var points = sections.Outlines.SelectMany(o => o.Edges).SelectMany(e => Enumerable.Range(0, 9).Select(k => e.PointAt(k / 8.0))).ToList();
        double low = points.Min(p => p.Y), high = points.Max(p => p.Y), far = points.Max(p => p.X), near = isRound ? -far : points.Min(p => p.X);
        double halfWidth = 0.5 * (far - near), halfHeight = 0.5 * (high - low), round = Surroundings * Math.Max(halfWidth, halfHeight);
        (halfWidth, halfHeight) = (halfWidth + round, halfHeight + round);
        double aspect = Math.Clamp(halfWidth / halfHeight, 0.75, 1.6);
        Width = Math.Min(Widest, Math.Sqrt(Area * aspect));
        Height = Math.Min(Tallest, Width / aspect);
        scale = Math.Min(Width / halfWidth, Height / halfHeight) / 2;
        centre = new Point(isRound ? 0 : 0.5 * (near + far), 0.5 * (low + high));
        (Left, Top) = (left, top);
    }

    /// <summary>Whether both halves of a round section are shown.</summary>
    public bool IsRound { get; }

    /// <summary>Left edge, px.</summary>
    public double Left { get; }

    /// <summary>Upper edge, px.</summary>
    public double Top { get; }

    /// <summary>Width, px.</summary>
    public double Width { get; }

    /// <summary>Height, px.</summary>
    public double Height { get; }

    /// <summary>Middle of the stage, px.</summary>
    public Point Middle => new(Left + 0.5 * Width, Top + 0.5 * Height);

    /// <summary>px per m.</summary>
    public double Scale => scale;

    /// <summary>What of the plane is shown; the right half only when round.</summary>
    public View View => new(
        IsRound ? 0 : centre.X - 0.5 * Width / scale,
        centre.Y - 0.5 * Height / scale,
        centre.X + 0.5 * Width / scale,
        centre.Y + 0.5 * Height / scale);

    /// <summary>A point of the plane on the sheet.</summary>
    public Point On(Point place) => new(Middle.X + (place.X - centre.X) * scale, Middle.Y - (place.Y - centre.Y) * scale);

    /// <summary>A point of the sheet in the plane; its mirror image when round and left of the axis.</summary>
    public Point Off(Point spot)
    {
        var place = new Point(centre.X + (spot.X - Middle.X) / scale, centre.Y - (spot.Y - Middle.Y) / scale);
        return IsRound ? place with { X = Math.Abs(place.X) } : place;
    }

    /// <summary>The mirror image of a point of the sheet about the axis.</summary>
    public Point Mirror(Point spot) => spot with { X = 2 * Middle.X - spot.X };

    /// <summary>Whether a point of the sheet lies on the stage, a margin from its edge.</summary>
    public bool Shows(Point spot, double margin = 0) =>
        spot.X >= Left + margin && spot.X <= Left + Width - margin && spot.Y >= Top + margin && spot.Y <= Top + Height - margin;
}
