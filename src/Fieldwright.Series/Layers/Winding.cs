using System.Numerics;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Layers;

/// <summary>One side of a coil: turns of one phase side by side on a stretch of the surface.</summary>
/// <param name="Position">Middle of the stretch along the travel, m (rad on a rotating stack).</param>
/// <param name="Width">Width of the stretch (slot opening or belt), m (rad); zero for a thin wire.</param>
/// <param name="Phase">Phase, counted from zero.</param>
/// <param name="Turns">Turns, positive for current along +z (flat, rotating) or +φ (tubular).</param>
/// <param name="Coil">Number of the coil it belongs to.</param>
public readonly record struct CoilSide(double Position, double Width, int Phase, double Turns, int Coil = 0);

/// <summary>A polyphase winding laid along the travel, described side by side, so that its spectrum is the true one: slots, belts, pitch, ends and mistakes included.</summary>
/// <remarks>Everything repeats with <see cref="Period"/>. For a primary of finite length choose a period some pole pitches longer than the winding: the empty stretch
/// is the Fourier window, and what comes out then belongs to that one primary as long as its field has died away before the next. The spectrum is exact: derived here from the turns as
/// they lie. Immutable.</remarks>
public sealed class Winding
{
    /// <summary>Describes a winding by its coil sides.</summary>
    /// <param name="sides">The sides; each side may be of any width not above the period.</param>
    /// <param name="period">Length after which everything repeats, m (2π for a rotating stack).</param>
    /// <exception cref="ArgumentException">There is no side, or a value is out of range.</exception>
    public Winding(IReadOnlyList<CoilSide> sides, double period)
    {
        ArgumentNullException.ThrowIfNull(sides);
        if (sides.Count == 0)
            throw new ArgumentException("A winding has at least one coil side.", nameof(sides));
        Period = Guard.Positive(period);
        foreach (var side in sides)
        {
            Guard.Finite(side.Position, nameof(sides));
            Guard.InRange(side.Width, 0, period, nameof(sides));
            Guard.NotNegative(side.Phase, nameof(sides));
            Guard.Finite(side.Turns, nameof(sides));
        }
        Sides = [.. sides];
        PhaseCount = sides.Max(s => s.Phase) + 1;
    }

    /// <summary>The coil sides.</summary>
    public IReadOnlyList<CoilSide> Sides { get; }

    /// <summary>Length after which everything repeats, m (rad).</summary>
    public double Period { get; }

    /// <summary>Number of phases.</summary>
    public int PhaseCount { get; }

    /// <summary>A winding in evenly spaced slots with belts of q slots a pole and phase, endless or of finite length.</summary>
    /// <param name="phases">Number of phases, 2 or odd; belts follow one another as a, −c, b, −a, c, −b for three, so that currents each lagging the last by 360°/phases (two phases: 90°) travel towards +x.</param>
    /// <param name="slotsPerPoleAndPhase">q, whole.</param>
    /// <param name="poles">Poles; even for an endless winding.</param>
    /// <param name="slotPitch">Distance of the slots, m.</param>
    /// <param name="slotWidth">Width over which the turns of a slot are spread at the surface, m; not above the pitch.</param>
    /// <param name="turnsPerCoil">Turns of each coil.</param>
    /// <param name="coilPitch">Slots from one side of a coil to the other: phases·q for full pitch, fewer for short pitch. Two-layer windings only.</param>
    /// <param name="doubleLayer">Whether every slot holds two coil sides; otherwise each holds one and the coils are of full pitch.</param>
    /// <param name="period">Length after which everything repeats, m; left out for an endless winding. A finite two-layer winding has half-filled slots beyond its poles.</param>
    /// <returns>The winding, its first slot centred at half a slot pitch.</returns>
    /// <exception cref="ArgumentException">A value is out of range, or the winding does not fit its period.</exception>
    public static Winding Slotted(
        int phases, int slotsPerPoleAndPhase, int poles, double slotPitch, double slotWidth, double turnsPerCoil, int? coilPitch = null, bool doubleLayer = true, double? period = null)
    {
        Guard.Positive(phases);
        if (phases != 2 && phases % 2 == 0)
            throw new ArgumentOutOfRangeException(nameof(phases), phases, "must be 2 or odd");
        Guard.Positive(slotsPerPoleAndPhase);
        Guard.Positive(poles);
        Guard.Positive(slotPitch);
        Guard.InRange(slotWidth, 0, slotPitch);
        var perPole = phases * slotsPerPoleAndPhase;
        var pitch = Guard.InRange(coilPitch ?? perPole, 1, 2 * perPole, nameof(coilPitch));
        var slots = perPole * poles;
        var length = slots * slotPitch;
        if (period is null && poles % 2 != 0)
            throw new ArgumentException("An endless winding has an even number of poles.", nameof(poles));
        var needed = length + (period is not null && doubleLayer ? pitch * slotPitch : 0);
        if (period < needed)
            throw new ArgumentOutOfRangeException(nameof(period), period, FormattableString.Invariant($"must be at least the length of the winding, {needed} m"));
        if (!doubleLayer && pitch != perPole)
            throw new ArgumentException("A single-layer winding is of full pitch.", nameof(coilPitch));
        var sides = new List<CoilSide>();
        for (var slot = 0; slot < slots; slot++)
        {
            var (phase, sign) = Belt(slot / slotsPerPoleAndPhase % (2 * phases), phases);
            var x = (slot + 0.5) * slotPitch;
            sides.Add(new CoilSide(x, slotWidth, phase, sign * turnsPerCoil, slot));
            if (doubleLayer)
                sides.Add(new CoilSide(x + pitch * slotPitch, slotWidth, phase, -sign * turnsPerCoil, slot));
        }
        return new Winding(sides, period ?? length);
    }

    /// <summary>The same winding with some coils connected the wrong way round.</summary>
    /// <param name="coils">Numbers of the coils; in <see cref="Slotted"/> the slot in which the coil's first side lies (single layer: each side counts by itself).</param>
    /// <returns>A new winding.</returns>
    public Winding WithReversedCoils(params IReadOnlyList<int> coils)
    {
        ArgumentNullException.ThrowIfNull(coils);
        return new Winding([.. Sides.Select(s => coils.Contains(s.Coil) ? s with { Turns = -s.Turns } : s)], Period);
    }

    /// <summary>Coefficient of the current sheet of one phase: K(x) = I Σ_n P_n e^(−jκx), κ = 2πn/period.</summary>
    /// <param name="phase">Phase, counted from zero.</param>
    /// <param name="harmonic">n, either sign; with exp(+jωt) positive n travel towards +x.</param>
    /// <returns>P_n, 1/m (1/rad): turns a length.</returns>
    public Complex Spectrum(int phase, int harmonic)
    {
        var kappa = 2 * Math.PI * harmonic / Period;
        Complex sum = 0;
        foreach (var side in Sides)
        {
            if (side.Phase != phase)
                continue;
            var half = kappa * side.Width / 2;
            sum += side.Turns * (Math.Abs(half) < 1e-8 ? 1 : Math.Sin(half) / half) * Complex.FromPolarCoordinates(1, kappa * side.Position);
        }
        return sum / Period;
    }

    /// <summary>Balanced currents of unit size: phase p lags by p·360°/phases, of two phases the second by 90°.</summary>
    /// <param name="peak">Peak of each current, A.</param>
    /// <param name="backwards">True for the other phase order, which travels towards −x.</param>
    /// <returns>Peak phasors, A, one a phase.</returns>
    public Complex[] BalancedCurrents(double peak, bool backwards = false) =>
        [.. Enumerable.Range(0, PhaseCount).Select(p => Complex.FromPolarCoordinates(peak, (backwards ? 1 : -1) * p * (PhaseCount == 2 ? Math.PI / 2 : 2 * Math.PI / PhaseCount)))];

    /// <summary>Phase and sense of a belt: a, −c, b, −a, c, −b for three phases. Belt b lags b·180°/phases; phase p lags 360°p/phases (two phases: 90°), its negative 180° more.</summary>
    /// <param name="belt">Belt, counted from zero, below twice the number of phases.</param>
    /// <param name="phases">Number of phases: 2 or odd.</param>
    /// <returns>Phase counted from zero, and +1 or −1.</returns>
    public static (int Phase, int Sign) Belt(int belt, int phases)
    {
        if (phases == 2)
            return (belt % 2, belt < 2 ? 1 : -1);
        for (var p = 0; p < phases; p++)
            if ((2 * p + phases) % (2 * phases) == belt)
                return (p, -1);
        return (belt / 2, 1);
    }
}
