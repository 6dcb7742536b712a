namespace Fieldwright.Bench.Model;

/// <summary>One phase of a polyphase winding. Each phase is a winding of its own, called after the whole with a letter: <c>track a</c>.</summary>
/// <param name="Of">The winding it belongs to.</param>
/// <param name="Phase">Which phase, counted from zero.</param>
public sealed record PhaseSpace(Polyphase Of, int Phase) : WindingSpace;

/// <summary>Where the slots or coils of a polyphase winding lie.</summary>
public abstract record Row;

/// <summary>Slots side by side along x in a long apparatus, without teeth between them.</summary>
/// <param name="X">x of the middle of the row, m.</param>
/// <param name="Y">y of the middle of the slots, m.</param>
/// <param name="SlotPitch">Distance of neighbouring slots, m.</param>
/// <param name="SlotWidth">Width of a slot along x, m.</param>
/// <param name="SlotHeight">Height of a slot, m.</param>
public sealed record FlatRow(double X, double Y, double SlotPitch, double SlotWidth, double SlotHeight) : Row;

/// <summary>Sectors round a centre in a long apparatus: a stator seen along its axis.</summary>
/// <param name="X">x of the centre, m.</param>
/// <param name="Y">y of the centre, m.</param>
/// <param name="InnerRadius">Inner radius, m.</param>
/// <param name="OuterRadius">Outer radius, m.</param>
/// <param name="FirstAt">Where the middle of the first sector lies, degrees from the x axis towards y.</param>
/// <param name="SectorAngle">Angle of each sector, degrees.</param>
public sealed record RingRow(double X, double Y, double InnerRadius, double OuterRadius, double FirstAt, double SectorAngle) : Row;

/// <summary>Round coils one above the other along the axis of a round apparatus.</summary>
/// <param name="FromZ">Lower end of the lowest coil, m.</param>
/// <param name="CoilPitch">Distance of neighbouring coils, m.</param>
/// <param name="CoilLength">Length of each coil along the axis, m.</param>
/// <param name="InnerRadius">Inner radius, m.</param>
/// <param name="Build">Thickness of the winding, m.</param>
public sealed record TubeRow(double FromZ, double CoilPitch, double CoilLength, double InnerRadius, double Build) : Row;

/// <summary>Which part of a slot a coil side fills.</summary>
public enum SlotPart
{
    /// <summary>All of it.</summary>
    Whole,

    /// <summary>The lower half, or the inner one.</summary>
    Lower,

    /// <summary>The upper half, or the outer one.</summary>
    Upper,
}

/// <summary>One side of a coil in its slot.</summary>
/// <param name="Slot">Slot, counted from zero along the travel.</param>
/// <param name="Phase">Phase, counted from zero.</param>
/// <param name="Sign">+1 out of the page (round: along +φ) for positive current of its phase, −1 into it.</param>
/// <param name="Coil">Number of its coil, counted from one along the travel.</param>
/// <param name="Part">Part of the slot.</param>
public readonly record struct SlotSide(int Slot, int Phase, int Sign, int Coil, SlotPart Part);

/// <summary>A winding of several phases laid along a direction of travel, in belts a, −c, b, −a, c, −b for three phases. Immutable.</summary>
/// <param name="Name">What the whole winding is called.</param>
/// <param name="Phases">Number of phases: 1, 2 or odd.</param>
/// <param name="Slots">Number of slots, or of coils in a round row.</param>
/// <param name="PerPoleAndPhase">Slots a pole and phase.</param>
/// <param name="CoilSpan">Slots from one side of a coil to the other.</param>
/// <param name="DoubleLayer">Whether each slot holds two coil sides.</param>
/// <param name="ReversedCoils">Numbers of coils that are joined the wrong way round.</param>
/// <param name="Row">Where the slots lie.</param>
/// <param name="EndLength">Length of wire that crosses over at either end of a turn, m; null for the distance of its sides.</param>
public sealed record Polyphase(
    string Name, int Phases, int Slots, int PerPoleAndPhase, int CoilSpan, bool DoubleLayer, IReadOnlyList<int> ReversedCoils, Row Row, double? EndLength)
{
    /// <summary>Slots a pole.</summary>
    public int PerPole => Phases * PerPoleAndPhase;

    /// <summary>Distance of the slots: m; radians for a ring.</summary>
    public double SlotPitch => Row switch
    {
        FlatRow flat => flat.SlotPitch,
        TubeRow tube => tube.CoilPitch,
        _ => 2 * Math.PI / Slots,
    };

    /// <summary>Pole pitch: m; radians for a ring.</summary>
    public double PolePitch => PerPole * SlotPitch;

    /// <summary>All coil sides, in the order of their coils; laid anew at each call.</summary>
    public IReadOnlyList<SlotSide> Sides => Lay();

    /// <summary>Size of one coil side, m: along the travel (a ring: along its mean radius), and across the slot.</summary>
    public (double Along, double Across) CoilSide => Row switch
    {
        FlatRow flat => (flat.SlotWidth, (DoubleLayer ? 0.5 : 1) * flat.SlotHeight),
        TubeRow tube => (tube.CoilLength, tube.Build),
        RingRow ring => (ring.SectorAngle * Math.PI / 180 * 0.5 * (ring.InnerRadius + ring.OuterRadius), (DoubleLayer ? 0.5 : 1) * (ring.OuterRadius - ring.InnerRadius)),
        _ => throw new InvalidOperationException("No such row."),
    };

    /// <summary>Coils of each phase.</summary>
    public int CoilsOf(int phase) => Sides.Where(s => s.Phase == phase).Select(s => s.Coil).Distinct().Count();

    /// <summary>Speed of the field at a frequency: m/s; rad/s for a ring.</summary>
    /// <param name="frequency">Frequency, Hz.</param>
    public double FieldSpeed(double frequency) => 2 * PolePitch * frequency;

    /// <summary>Lag of a phase behind the first, radians.</summary>
    /// <param name="phase">Phase, counted from zero.</param>
    public double Lag(int phase) => Phases == 2 ? phase * Math.PI / 2 : phase * 2 * Math.PI / Phases;

    /// <summary>Name of a phase: the winding's name and a letter.</summary>
    /// <param name="phase">Phase, counted from zero.</param>
    public string NameOf(int phase) => Phases == 1 ? Name : $"{Name} {(char)('a' + phase)}";

    /// <summary>Belt of a slot: its phase and sense.</summary>
    /// <param name="slot">Slot, counted from zero; any number beyond the last goes on in the same order.</param>
    public (int Phase, int Sign) Belt(int slot) => Series.Layers.Winding.Belt(slot / PerPoleAndPhase % (2 * Phases), Phases);

    /// <inheritdoc/>
    public bool Equals(Polyphase? other) => other is not null && (Name, Phases, Slots, PerPoleAndPhase, CoilSpan, DoubleLayer, Row, EndLength)
        == (other.Name, other.Phases, other.Slots, other.PerPoleAndPhase, other.CoilSpan, other.DoubleLayer, other.Row, other.EndLength)
        && ReversedCoils.SequenceEqual(other.ReversedCoils);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Name, Phases, Slots, Row);

    private List<SlotSide> Lay()
    {
        var laid = new List<SlotSide>();
        if (Row is TubeRow)
        {
            for (int slot = 0; slot < Slots; slot++)
                laid.Add(Side(slot, slot, slot + 1, 1, SlotPart.Whole));
        }
        else if (DoubleLayer)
        {
            // A ring closes on itself; a flat row ends with half-filled slots.
            int coils = Row is RingRow ? Slots : Slots - CoilSpan;
            for (int slot = 0; slot < coils; slot++)
            {
                laid.Add(Side(slot, slot, slot + 1, 1, SlotPart.Lower));
                laid.Add(Side((slot + CoilSpan) % Slots, slot, slot + 1, -1, SlotPart.Upper));
            }
        }
        else
        {
            // Coils of full pitch: each slot of an even pole pairs with the one a pole further.
            for (int slot = 0, coil = 0; slot < Slots; slot++)
                if (slot / PerPole % 2 == 0 && slot + PerPole < Slots)
                {
                    laid.Add(Side(slot, slot, ++coil, 1, SlotPart.Whole));
                    laid.Add(Side(slot + PerPole, slot, coil, -1, SlotPart.Whole));
                }
        }

        return laid;

        SlotSide Side(int slot, int beltSlot, int coil, int way, SlotPart part)
        {
            var (phase, sign) = Belt(beltSlot);
            return new SlotSide(slot, phase, way * sign * (ReversedCoils.Contains(coil) ? -1 : 1), coil, part);
        }
    }
}
