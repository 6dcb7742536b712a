using System.Runtime.InteropServices;
using System.Text.Json;
using Fieldwright.Bench.Pictures.Live;
using Fieldwright.Series;

namespace Fieldwright.App.Page;

/// <summary>Bodies in space, a plane through their field, the discs of a box or a drawing, as the bytes that the page's modules read.</summary>
/// <remarks>Little-endian: length of the header; the header (JSON, filled with blanks to a multiple of 4, its <c>kind</c> says what it is); float32 values as the header counts them.</remarks>
internal static class SpaceMessage
{
    private static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);

    /// <summary>Bodies with the lines of the field, and the plane last, as one message.</summary>
    public static byte[] Of(SpaceStage stage, SpaceSlice slice, StageNote note) => Packed(
        new
        {
            Kind = "space",
            note.Stamp,
            note.State,
            note.ForShow,
            note.Milliseconds,
            stage.IsRefined,
            stage.Frequency,
            Strongest = stage.Lines[0].Phase,
            Least = Triple(stage.Least),
            Most = Triple(stage.Most),
            Instants = stage.Lines.Select(i => new { i.Phase, Counts = i.Lines.Select(l => l.Length / 4) }),
            Probes = stage.Probes.Select(p => new { p.Name, At = Triple(p.At) }),
            Bodies = stage.Solids.Select(s => new
            {
                s.Name,
                Matter = (int)s.Matter,
                Points = s.Points.SelectMany(p => Triple(p)),
                Faces = s.Faces.SelectMany(f => (int[])[f.A, f.B, f.C, f.D]),
                Along = s.Along.SelectMany(a => Triple(a)),
                s.Details,
                Centre = Triple(s.Centre),
                Current = (double[])[s.Current.Real, s.Current.Imaginary],
                Force = s.Force is { } f ? Triple(f, 9) : null,
                s.Weight,
                Magnetised = s.Magnetised is { } m ? Triple(m) : null,
            }),
            Slice = Head(slice),
        },
        [.. stage.Lines.SelectMany(i => i.Lines), slice.FluxDensity]);

    /// <summary>Another plane through the same field.</summary>
    public static byte[] Of(SpaceSlice slice) => Packed(new { Kind = "slice", Slice = Head(slice) }, [slice.FluxDensity]);

    /// <summary>The discs of a box at an instant: place and velocity of each.</summary>
    public static byte[] Of(BoxPlay play, StageNote note, bool fresh) => Packed(
        new
        {
            Kind = "box",
            note.Stamp,
            note.State,
            note.ForShow,
            Fresh = fresh,
            Frequency = 0,
            play.Now,
            play.Floor,
            Lid = double.IsNaN(play.Lid) ? (double?)null : play.Lid,
            play.Escaped,
            Box = new { play.Box.Width, play.Box.Height, play.Box.IsOpen, play.Box.IsJoined, TiltDegrees = play.Box.Tilt * 180 / Math.PI, Large = play.Box.Large?.Radius, play.Box.Discs.Radius, play.Box.Discs.Mass, play.Box.Discs.RmsSpeed, Shakes = play.Box.Floor is not null },
            Discs = play.Discs.Count,
        },
        [[.. play.Discs.SelectMany(d => (float[])[(float)d.X, (float)d.Y, (float)d.Vx, (float)d.Vy, (float)d.Radius])]]);

    /// <summary>What has no place in space, as it is drawn.</summary>
    /// <param name="svg">The drawing.</param>
    /// <param name="note">What belongs to it.</param>
    public static byte[] Of(string svg, StageNote note) => Packed(new { Kind = "drawing", note.Stamp, note.State, note.ForShow, IsRefined = true, Frequency = 0, Svg = svg }, []);

    private static object Head(SpaceSlice s) => new { s.Plane.Axis, s.Plane.At, s.FromU, s.ToU, s.FromV, s.ToV, s.Columns, s.Rows };

    private static double[] Triple(Vector v) => Triple(v, 6);

    private static double[] Triple(Vector v, int decimals) => [Math.Round(v.X, decimals), Math.Round(v.Y, decimals), Math.Round(v.Z, decimals)];

    private static byte[] Packed(object head, IReadOnlyList<float[]> values)
    {
        byte[] header = JsonSerializer.SerializeToUtf8Bytes(head, Web);
        int padded = (header.Length + 3) / 4 * 4, at = 4 + padded;
        byte[] message = new byte[at + 4 * values.Sum(v => v.Length)];
        BitConverter.TryWriteBytes(message, padded);
        message.AsSpan(4, padded).Fill((byte)' ');
        header.CopyTo(message.AsSpan(4));
        foreach (float[] piece in values)
        {
            MemoryMarshal.AsBytes(piece.AsSpan()).CopyTo(message.AsSpan(at));
            at += 4 * piece.Length;
        }

        return message;
    }
}
