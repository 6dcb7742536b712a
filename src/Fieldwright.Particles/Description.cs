using Fieldwright.Numerics;

namespace Fieldwright.Particles;

/// <summary>What stands at a side of the box.</summary>
public enum Sides
{
    /// <summary>Hard walls all round.</summary>
    Walls,

    /// <summary>Left and right are joined: what leaves on one side comes in on the other. A channel that runs back into itself.</summary>
    Joined,

    /// <summary>No walls: what leaves on one side comes in on the other, in both directions. For the gas by itself, without the layer that walls put round it.</summary>
    Endless,
}

/// <summary>A floor that shakes up and down: two parabolic arcs a cycle, first up, then down, so that its acceleration is constant in each half and its speed has no jumps.</summary>
/// <remarks>Height ±A at the middle of each half cycle, like a sine of that amplitude to within 6 % of A; the meeting of a disc with it is a quadratic equation, solved exactly.</remarks>
/// <param name="Amplitude">A, m; zero or more.</param>
/// <param name="Frequency">Cycles a second, Hz; positive.</param>
public sealed record ShakingFloor(double Amplitude, double Frequency)
{
    /// <summary>Its height, m, against rest.</summary>
    public double HeightAt(double t)
    {
        var (sign, s) = Arc(t);
        return sign * 4 * Amplitude * s * (1 - s);
    }

    /// <summary>Its speed upwards, m/s.</summary>
    public double SpeedAt(double t)
    {
        var (sign, s) = Arc(t);
        return sign * 8 * Amplitude * Frequency * (1 - 2 * s);
    }

    /// <summary>Greatest speed, m/s.</summary>
    public double MostSpeed => 8 * Amplitude * Frequency;

    private (double Sign, double Place) Arc(double t)
    {
        double halves = 2 * Frequency * t, whole = Math.Floor(halves);
        return ((long)whole % 2 == 0 ? 1 : -1, halves - whole);
    }
}

/// <summary>A lid that moves up and down without friction, pressed by its weight.</summary>
/// <param name="Mass">Its mass, kg; positive.</param>
/// <param name="Load">Force that presses it down besides gravity on its own mass, N; zero or more.</param>
/// <param name="Height">Where it starts, m.</param>
public sealed record Lid(double Mass, double Load, double Height);

/// <summary>A box of hard discs and what drives it.</summary>
public sealed record BoxDescription
{
    /// <summary>Extent along x, m.</summary>
    public required double Width { get; init; }

    /// <summary>Extent along y, m; with a lid the room it may rise in.</summary>
    public required double Height { get; init; }

    /// <summary>What stands at the sides.</summary>
    public Sides Sides { get; init; } = Sides.Walls;

    /// <summary>Acceleration downwards, m/s²; zero when the box lies flat. Not with endless sides.</summary>
    public double Gravity { get; init; }

    /// <summary>Share of the approach speed that a collision of two discs gives back, 0 to 1.</summary>
    public double Restitution { get; init; } = 1;

    /// <summary>The same for walls, floor and lid.</summary>
    public double WallRestitution { get; init; } = 1;

    /// <summary>A disc that has collided less than this time ago loses nothing in the next collision, s. Without it discs that lose energy meet infinitely often in a finite time; with it
    /// a heap at rest keeps a trace of motion.</summary>
    /// <source key="LudingMcNamara1998"/>
    public double ContactTime { get; init; }

    /// <summary>The floor when it shakes; null at rest.</summary>
    public ShakingFloor? Floor { get; init; }

    /// <summary>The lid; null when the top is a wall, or open.</summary>
    public Lid? Lid { get; init; }

    /// <summary>Whether the top is open: a disc that rises above the height is gone.</summary>
    public bool Open { get; init; }

    /// <summary>Speed along x at which the floor's surface travels and drags what touches it, m/s.</summary>
    public double Drag { get; init; }

    /// <summary>Share of the difference of speeds that one touch of the floor takes away, 0 to 1.</summary>
    public double Grip { get; init; }

    /// <summary>The same for the top and the lid, which rest sideways, 0 to 1.</summary>
    public double TopGrip { get; init; }

    /// <summary>Magnetic moment of each disc square to the plane, A m², zero or more, all the same way up so that they repel; null when none has one. Only with walls.</summary>
    public IReadOnlyList<double>? Moments { get; init; }

    /// <summary>Checks the description.</summary>
    /// <exception cref="ArgumentException">Something is out of range, or does not go together.</exception>
    public void Check()
    {
        Guard.Positive(Width);
        Guard.Positive(Height);
        Guard.NotNegative(Gravity);
        Guard.InRange(Restitution, 0, 1);
        Guard.InRange(WallRestitution, 0, 1);
        Guard.InRange(Grip, 0, 1);
        Guard.InRange(TopGrip, 0, 1);
        Guard.NotNegative(ContactTime);
        if (Sides == Sides.Endless && (Gravity != 0 || Lid is not null || Open || Floor is not null || Drag != 0 || TopGrip != 0 || Moments is not null))
            throw new ArgumentException("Endless sides go with neither gravity, floor, lid, repulsion nor an open top.");
        if (Sides == Sides.Joined && Moments is not null)
            throw new ArgumentException("Discs that repel go with walls only.");
        if (Lid is not null && Open)
            throw new ArgumentException("The top has a lid or is open, not both.");
        if (Lid is { } lid)
        {
            Guard.Positive(lid.Mass);
            Guard.NotNegative(lid.Load);
            if (!(lid.Height > 0 && lid.Height <= Height))
                throw new ArgumentException("The lid starts between the floor and the top.");
        }

        if (Floor is { } floor)
        {
            Guard.NotNegative(floor.Amplitude);
            Guard.Positive(floor.Frequency);
        }
    }
}

/// <summary>One disc at an instant.</summary>
/// <param name="X">x of its centre, m.</param>
/// <param name="Y">y of its centre, m.</param>
/// <param name="Vx">Speed along x, m/s.</param>
/// <param name="Vy">Speed along y, m/s.</param>
/// <param name="Radius">Radius, m.</param>
/// <param name="Mass">Mass, kg.</param>
public readonly record struct DiscState(double X, double Y, double Vx, double Vy, double Radius, double Mass);
