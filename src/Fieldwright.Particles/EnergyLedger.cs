namespace Fieldwright.Particles;

/// <summary>Where energy came from and went, J: what a box holds changes by nothing else.</summary>
public sealed record EnergyLedger
{
    /// <summary>Energy of motion of discs and lid and their energy of height, now.</summary>
    public double Held { get; init; }

    /// <summary>The same at the start.</summary>
    public double HeldAtStart { get; init; }

    /// <summary>Work that the floor did on the discs, drag included.</summary>
    public double FromFloor { get; init; }

    /// <summary>Energy lost in collisions of discs.</summary>
    public double LostBetweenDiscs { get; init; }

    /// <summary>Energy lost at walls, floor and lid.</summary>
    public double LostAtWalls { get; init; }

    /// <summary>Energy that discs took with them through the open top.</summary>
    public double Escaped { get; init; }

    /// <summary>What does not add up, as a share of all that was turned over: rounding only.</summary>
    public double Mismatch =>
        Math.Abs(Held - HeldAtStart - FromFloor + LostBetweenDiscs + LostAtWalls + Escaped)
        / Math.Max(Math.Abs(HeldAtStart) + Math.Abs(FromFloor) + LostBetweenDiscs + LostAtWalls + Escaped, double.Epsilon);
}
