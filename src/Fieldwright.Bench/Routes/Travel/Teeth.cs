using System.Numerics;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;
using Fieldwright.Series.Layers;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>A core with teeth between the slots of a track winding, as the layered series sees it: smooth, the gap before it lengthened by Carter's factor, the winding a sheet on its face.</summary>
/// <remarks>
/// The flux that crosses a slot without leaving it links the winding only: it is added as slot leakage of open slots with parallel sides. What Carter's factor leaves out, the ripple of single teeth, is of
/// the size of what it does; half of that goes into the bar of thrust and heat.
/// </remarks>
/// <source key="Carter1901"/>
internal sealed class Teeth
{
    /// <summary>The word for such a core.</summary>
    public const string Word = "toothed core";

    /// <summary>What a reader must know about teeth.</summary>
    public const string Remark = "Teeth are counted by Carter's factor and the leakage of their slots; half of what the factor does is in the bar.";

    // Of the slot leakage: sides that are not parallel, wedges, saturation of the tips (common practice, no source).
    private const double LeakageSpread = 0.1;

    private Teeth(Part core, Polyphase winding, bool opensUp, double face, double gap)
    {
        (Core, Winding, OpensUp, Face, Gap) = (core, winding, opensUp, face, gap);
        CarterFactor = LinearMotorFactors.Carter(Row.SlotWidth, Row.SlotPitch, gap);
    }

    /// <summary>The core.</summary>
    public Part Core { get; }

    /// <summary>The winding in its slots.</summary>
    public Polyphase Winding { get; }

    /// <summary>Its slots.</summary>
    public FlatRow Row => (FlatRow)Winding.Row;

    /// <summary>Whether the slots open towards greater y.</summary>
    public bool OpensUp { get; }

    /// <summary>Height of the tips of the teeth, m.</summary>
    public double Face { get; }

    /// <summary>Gap from the teeth to the iron opposite, m; where there is none, the depth to which the wave reaches, τ/π.</summary>
    public double Gap { get; }

    /// <summary>How much longer the gap seems.</summary>
    public double CarterFactor { get; }

    /// <summary>Height of the smooth face that stands for the teeth, m.</summary>
    public double SmoothFace(bool lengthened) => lengthened ? Face - (OpensUp ? 1 : -1) * (CarterFactor - 1) * Gap : Face;

    /// <summary>The toothed core of an apparatus; null when there is none.</summary>
    public static Teeth? Of(Apparatus apparatus)
    {
        if (apparatus.Parts.FirstOrDefault(p => p.Shape is RectangleShape { Called: Word }) is not { } core || Slots(apparatus, core) is not { } found)
            return null;
        var (winding, up) = found;
        var row = (FlatRow)winding.Row;
        double face = row.Y + (up ? 0.5 : -0.5) * row.SlotHeight;
        double gap = apparatus.Parts.Where(p => !ReferenceEquals(p, core) && p.Shape is RectangleShape && (p.Material.Curve is not null || p.Material.RelativePermeability >= 20))
            .Select(p => up ? p.Place.Y - 0.5 * ((RectangleShape)p.Shape).Height - face : face - p.Place.Y - 0.5 * ((RectangleShape)p.Shape).Height)
            .Where(g => g > 0).DefaultIfEmpty(winding.PolePitch / Math.PI).Min();
        return new Teeth(core, winding, up, face, gap);
    }

    /// <summary>The track winding whose slots lie in a core and open at one of its faces, and whether that is the upper one; null when there is none.</summary>
    public static (Polyphase Winding, bool Up)? Slots(Apparatus apparatus, Part core)
    {
        var shape = (RectangleShape)core.Shape;
        double low = core.Place.Y - 0.5 * shape.Height, high = core.Place.Y + 0.5 * shape.Height, left = core.Place.X - 0.5 * shape.Width, right = core.Place.X + 0.5 * shape.Width;
        foreach (var winding in apparatus.Polyphases())
            if (winding.Row is FlatRow row)
            {
                double bottom = row.Y - 0.5 * row.SlotHeight, top = row.Y + 0.5 * row.SlotHeight, half = 0.5 * ((winding.Slots - 1) * row.SlotPitch + row.SlotWidth);
                bool within = row.X - half > left + Touch && row.X + half < right - Touch;
                if (within && Math.Abs(top - high) < Touch && bottom > low + Touch)
                    return (winding, true);
                if (within && Math.Abs(bottom - low) < Touch && top < high - Touch)
                    return (winding, false);
            }

        return null;
    }

    /// <summary>Impedances with the slot leakage added, and the relative bar that it brings.</summary>
    public (Complex[,] Impedance, double RelativeBar) WithSlots(Apparatus apparatus, Complex[,] impedance)
    {
        var z = (Complex[,])impedance.Clone();
        double scale = 2 * Math.PI * apparatus.Frequency * PhysicalConstants.MagneticConstant * apparatus.Depth!.Value * Row.SlotHeight / Row.SlotWidth, worst = 0;
        var sides = apparatus.Windings.SelectMany((w, i) => w.Space is PhaseSpace { Of.Row: FlatRow } p ? p.Of.Sides.Where(s => s.Phase == p.Phase).Select(s => (Winding: i, Side: s, Turns: s.Sign * w.Turns)) : []);
        foreach (var slot in sides.GroupBy(s => s.Side.Slot))
            foreach (var a in slot)
                foreach (var b in slot)
                    z[a.Winding, b.Winding] += new Complex(0, scale * a.Turns * b.Turns * Permeance(a.Side.Part, b.Side.Part));
        for (int i = 0; i < z.GetLength(0); i++)
            worst = Math.Max(worst, LeakageSpread * (z[i, i] - impedance[i, i]).Magnitude / z[i, i].Magnitude);
        return (z, worst);
    }

    // Over μ₀·length·height/width. The side at the bottom sends its flux through the one above it too.
    private double Permeance(SlotPart a, SlotPart b)
    {
        var bottom = OpensUp ? SlotPart.Lower : SlotPart.Upper;
        return a != b ? 0.25 : a == SlotPart.Whole ? 1.0 / 3 : a == bottom ? 2.0 / 3 : 1.0 / 6;
    }

    private const double Touch = 1e-9;
}
