using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Solving;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Magnetic;

/// <summary>Turns of wire round a path of flux, the tie between the electric and the magnetic vocabulary: v = R i + N dΦ/dt, and N i drives Φ from the third node to the fourth.</summary>
/// <remarks>The path itself, steel or gap, is another element between the same two magnetic nodes. Steady and transient work; for phasors join impedances instead.</remarks>
public sealed class CoilOnPath : Element
{
    private readonly double turns, resistance;

    /// <summary>A coil on a path.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">First electric node.</param>
    /// <param name="to">Second electric node.</param>
    /// <param name="leaves">Magnetic node that its ampere-turns take flux from.</param>
    /// <param name="enters">Magnetic node that they drive it to.</param>
    /// <param name="turns">N; not zero.</param>
    /// <param name="resistance">R, Ω; not negative.</param>
    /// <exception cref="ArgumentException">The turns are zero.</exception>
    public CoilOnPath(string name, string from, string to, string leaves, string enters, double turns, double resistance)
        : base(name, from, to, leaves, enters)
    {
        this.turns = Guard.Finite(turns) != 0 ? turns : throw new ArgumentException("A coil has turns.", nameof(turns));
        this.resistance = Guard.NotNegative(resistance);
    }

    internal override int BranchCount => 2;

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) =>
        [(At[0], At[1], steady && resistance == 0 ? Tie.FixesDrop : Tie.Conducts), (At[2], At[3], Tie.Conducts)];

    internal override void Evaluate(Balance s)
    {
        int current = Branch, flux = Branch + 1;
        s.AddBranch(current, At[0], At[1]);
        s.AddBranch(flux, At[2], At[3]);
        // R i + N dΦ/dt − v = 0, and −N i − (u₃ − u₄) = 0: the far end stands higher by N i.
        s.AddFlow(current, resistance * s[current]);
        s.AddSlope(current, current, resistance);
        s.AddStored(current, turns * s[flux]);
        s.AddStoredSlope(current, flux, turns);
        s.AddFlow(flux, -turns * s[current]);
        s.AddSlope(flux, current, -turns);
    }
}
