using System.Runtime.InteropServices;
using System.Text.Json;
using Fieldwright.Bench.Pictures.Live;

namespace Fieldwright.App.Page;

/// <summary>What belongs to a field on its way to the stage besides the field.</summary>
/// <param name="Stamp">The browser's own mark of the turn of a dial that this answers.</param>
/// <param name="State">The state shown; null for the apparatus as it stands.</param>
/// <param name="ForShow">Whether it is kept for the show instead of shown at once.</param>
/// <param name="Milliseconds">Time taken to find it.</param>
internal sealed record StageNote(double Stamp, string? State, bool ForShow, double Milliseconds);

/// <summary>A field as the bytes that the stage module reads.</summary>
/// <remarks>Little-endian: length of the header; the header (JSON, filled with blanks to a multiple of 4); nodes, 4 float32 each; triangles, 6 int32 each; sources, 4 float32 a triangle.</remarks>
internal static class StageMessage
{
    private static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);

    /// <summary>The bytes.</summary>
    public static byte[] Of(StageField field, StageNote note)
    {
        var grid = field.Grid;
        float[] nodes = grid.Nodes, sources = grid.Sources;
        int[] triangles = grid.Triangles;
        byte[] header = JsonSerializer.SerializeToUtf8Bytes(
            new
            {
                note.Stamp,
                note.State,
                note.ForShow,
                note.Milliseconds,
                field.IsRefined,
                Says = field.Note,
                field.UnknownCount,
                field.IsRound,
                field.Depth,
                field.Frequency,
                field.Strongest,
                grid.MostFluxDensity,
                grid.MostCurrentDensity,
                LeastFlux = grid.Flux.Least,
                MostFlux = grid.Flux.Most,
                Nodes = nodes.Length / 4,
                Triangles = triangles.Length / 6,
                Bodies = field.Bodies.Select(b => new
                {
                    b.Name,
                    Matter = (int)b.Matter,
                    Loops = b.Loops.Select(l => l.SelectMany(p => (double[])[Math.Round(p.X, 7), Math.Round(p.Y, 7)]).ToArray()).ToArray(),
                    b.Details,
                    Force = b.Force is { } f ? (double[])[f.X, f.Y] : null,
                    b.Weight,
                    b.MagnetisedDegrees,
                }).ToArray(),
            },
            Web);
        int padded = (header.Length + 3) / 4 * 4;
        byte[] message = new byte[4 + padded + 4 * (nodes.Length + triangles.Length + sources.Length)];
        BitConverter.TryWriteBytes(message, padded);
        message.AsSpan(4, padded).Fill((byte)' ');
        header.CopyTo(message.AsSpan(4));
        int at = 4 + padded;
        foreach (var piece in (ReadOnlySpan<ReadOnlyMemory<byte>>)[Bytes(nodes), Bytes(triangles), Bytes(sources)])
        {
            piece.Span.CopyTo(message.AsSpan(at));
            at += piece.Length;
        }

        return message;
    }

    private static byte[] Bytes<T>(T[] values)
        where T : struct => MemoryMarshal.AsBytes(values.AsSpan()).ToArray();
}
