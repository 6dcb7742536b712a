using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

namespace Fieldwright.App.Pictures;

/// <summary>Writes small images as PNG (ISO/IEC 15948), 8 bits a channel with opacity, for embedding in SVG.</summary>
/// <source key="ISO15948" />
internal static class PngFile
{
    private static readonly uint[] Crcs = [.. Enumerable.Range(0, 256).Select(n =>
    {
        uint c = (uint)n;
        for (int k = 0; k < 8; k++)
            c = (c & 1) != 0 ? 0xedb88320 ^ (c >> 1) : c >> 1;
        return c;
    })];

    /// <summary>An image as the bytes of a PNG file.</summary>
    /// <param name="columns">Columns.</param>
    /// <param name="rows">Rows.</param>
    /// <param name="pixels">4·columns·rows bytes: red green blue opacity, row by row from the top.</param>
    public static byte[] Of(int columns, int rows, byte[] pixels)
    {
        using var file = new MemoryStream();
        file.Write([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
        byte[] header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, columns);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), rows);
        (header[8], header[9]) = (8, 6);
        Chunk(file, "IHDR", header);
        using (var body = new MemoryStream())
        {
            using (var zlib = new ZLibStream(body, CompressionLevel.SmallestSize, leaveOpen: true))
            {
                byte[] line = new byte[4 * columns + 1];
                for (int row = 0; row < rows; row++)
                {
                    // Filter "sub": smooth images become small differences.
                    line[0] = 1;
                    for (int k = 0; k < 4 * columns; k++)
                        line[k + 1] = (byte)(pixels[4 * columns * row + k] - (k < 4 ? 0 : pixels[4 * columns * row + k - 4]));
                    zlib.Write(line);
                }
            }

            Chunk(file, "IDAT", body.ToArray());
        }

        Chunk(file, "IEND", []);
        return file.ToArray();
    }

    private static void Chunk(MemoryStream file, string type, byte[] content)
    {
        byte[] number = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, content.Length);
        file.Write(number);
        byte[] body = [.. Encoding.ASCII.GetBytes(type), .. content];
        file.Write(body);
        uint crc = 0xffffffff;
        foreach (byte b in body)
            crc = Crcs[(crc ^ b) & 0xff] ^ (crc >> 8);
        BinaryPrimitives.WriteUInt32BigEndian(number, ~crc);
        file.Write(number);
    }
}
