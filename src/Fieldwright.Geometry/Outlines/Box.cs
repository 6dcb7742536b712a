namespace Fieldwright.Geometry;

/// <summary>An upright rectangle, used to tell quickly what cannot touch.</summary>
internal readonly record struct Box(double Left, double Bottom, double Right, double Top)
{
    public static Box Empty => new(double.PositiveInfinity, double.PositiveInfinity, double.NegativeInfinity, double.NegativeInfinity);

    public static Box Of(Point a, Point b) => new(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Max(a.X, b.X), Math.Max(a.Y, b.Y));

    public double Width => Right - Left;

    public double Height => Top - Bottom;

    public double Diagonal => double.Hypot(Width, Height);

    public Box With(Point p) => new(Math.Min(Left, p.X), Math.Min(Bottom, p.Y), Math.Max(Right, p.X), Math.Max(Top, p.Y));

    public Box With(Box b) => new(Math.Min(Left, b.Left), Math.Min(Bottom, b.Bottom), Math.Max(Right, b.Right), Math.Max(Top, b.Top));

    public Box Grown(double by) => new(Left - by, Bottom - by, Right + by, Top + by);

    public bool Meets(Box b) => Left <= b.Right && b.Left <= Right && Bottom <= b.Top && b.Bottom <= Top;

    public bool Contains(Point p) => p.X >= Left && p.X <= Right && p.Y >= Bottom && p.Y <= Top;

    /// <summary>Least distance between two boxes; zero when they meet.</summary>
    public double Gap(Box b) =>
        double.Hypot(Math.Max(0, Math.Max(b.Left - Right, Left - b.Right)), Math.Max(0, Math.Max(b.Bottom - Top, Bottom - b.Top)));
}
