using System.Buffers.Binary;
using System.Reflection;
using System.Text;
using Fieldwright.Bench.Pictures;

namespace Fieldwright.App.Pictures;

/// <summary>A face of the type the pictures are set in, as it ships with the program, and the widths of its letters.</summary>
/// <remarks>Reads the tables <c>cmap</c> (format 4), <c>hhea</c>, <c>hmtx</c> and <c>head</c> of the TrueType file itself, so that text can be measured without a drawing library.</remarks>
/// <source key="OpenType" at="chapters cmap, hmtx, head" />
internal sealed class TypeFace
{
    private static readonly Lazy<TypeFace>[] Faces = [.. new[] { "Regular", "Italic", "Bold" }.Select(n => new Lazy<TypeFace>(() => new TypeFace(Load($"Lato-{n}.ttf"))))];
    private readonly byte[] file;
    private readonly int unitsPerEm, advances, metrics;
    private readonly int segments, map;

    private TypeFace(byte[] file)
    {
        this.file = file;
        unitsPerEm = U16(Table("head") + 18);
        advances = U16(Table("hhea") + 34);
        metrics = Table("hmtx");
        int cmap = Table("cmap");
        for (int i = 0; i < U16(cmap + 2); i++)
        {
            int at = cmap + (int)U32(cmap + 4 + 8 * i + 4);
            if (U16(at) == 4)
                (map, segments) = (at, U16(at + 6) / 2);
        }

        if (map == 0)
            throw new InvalidDataException("The type has no character map of format 4.");
    }

    /// <summary>A face.</summary>
    public static TypeFace Of(Face face) => Faces[(int)face].Value;

    /// <summary>The file of the face.</summary>
    public byte[] File => file;

    /// <summary>Width of a line of text at a size.</summary>
    public static double Width(string text, double size, Face face) => Of(face).WidthInUnits(text) * size / Of(face).unitsPerEm;

    private int WidthInUnits(string text) => text.EnumerateRunes().Sum(r => Advance(Glyph(r.Value)));

    private int Advance(int glyph) => U16(metrics + 4 * Math.Min(glyph, advances - 1));

    private int Glyph(int code)
    {
        if (code > 0xffff)
            return 0;
        int ends = map + 14, starts = ends + 2 * segments + 2, deltas = starts + 2 * segments, offsets = deltas + 2 * segments;
        int low = 0, high = segments - 1;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (U16(ends + 2 * middle) < code)
                low = middle + 1;
            else
                high = middle;
        }

        if (U16(starts + 2 * low) > code)
            return 0;
        int offset = U16(offsets + 2 * low), delta = U16(deltas + 2 * low);
        if (offset == 0)
            return (code + delta) & 0xffff;
        int glyph = U16(offsets + 2 * low + offset + 2 * (code - U16(starts + 2 * low)));
        return glyph == 0 ? 0 : (glyph + delta) & 0xffff;
    }

    private int Table(string tag)
    {
        for (int i = 0; i < U16(4); i++)
            if (Encoding.ASCII.GetString(file, 12 + 16 * i, 4) == tag)
                return (int)U32(12 + 16 * i + 8);
        throw new InvalidDataException($"The type has no table '{tag}'.");
    }

    private int U16(int at) => BinaryPrimitives.ReadUInt16BigEndian(file.AsSpan(at));

    private uint U32(int at) => BinaryPrimitives.ReadUInt32BigEndian(file.AsSpan(at));

    private static byte[] Load(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name) ?? throw new InvalidDataException($"The type '{name}' is missing from the program.");
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
