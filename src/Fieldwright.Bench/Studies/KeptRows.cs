using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Fieldwright.Bench.Studies;

/// <summary>Rows of numbers that a long study has found so far, kept in a file so that the same call goes on where it was stopped.</summary>
/// <remarks>First line: what the rows belong to. Then a row a line: its number and its values, separated by blanks. A line cut off in the middle is dropped.</remarks>
public sealed class KeptRows
{
    private readonly string? path;
    private readonly Dictionary<int, double[]> rows = [];
    private readonly Lock writing = new();

    /// <summary>Opens the rows of a study, or begins them.</summary>
    /// <param name="path">The file; null to keep rows in memory only.</param>
    /// <param name="study">Everything that the rows follow from; rows of another study are turned away.</param>
    /// <exception cref="ArgumentException">The file holds the rows of another study, or is no such file.</exception>
    /// <exception cref="IOException">The file cannot be read or written.</exception>
    public KeptRows(string? path, string study)
    {
        this.path = path;
        if (path is null)
            return;
        string head = "fieldwright-rows/1 " + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(study)));
        if (!System.IO.File.Exists(path))
        {
            System.IO.File.WriteAllText(path, head + "\n");
            return;
        }

        string text = System.IO.File.ReadAllText(path);
        string[] lines = text.Split('\n');
        if (lines[0] != head)
            throw new ArgumentException("it holds what another study found, or is no such file", nameof(path));
        // What stands behind the last line break was cut off.
        foreach (string line in lines[1..^1])
            if (Row(line) is var (number, values))
                rows[number] = values;
        if (!text.EndsWith('\n'))
            System.IO.File.WriteAllText(path, string.Join('\n', lines[..^1]) + "\n");
    }

    /// <summary>How many rows there are.</summary>
    public int Count
    {
        get
        {
            lock (writing)
                return rows.Count;
        }
    }

    /// <summary>A row: as it was kept, or found now and kept. May be called from several threads for different rows.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="find">Finds it.</param>
    public double[] At(int number, Func<double[]> find)
    {
        ArgumentNullException.ThrowIfNull(find);
        lock (writing)
            if (rows.TryGetValue(number, out var known))
                return known;
        double[] values = find();
        lock (writing)
        {
            rows[number] = values;
            if (path is not null)
                System.IO.File.AppendAllText(path, string.Create(CultureInfo.InvariantCulture, $"{number} {string.Join(' ', values.Select(v => v.ToString("R", CultureInfo.InvariantCulture)))}\n"));
        }

        return values;
    }

    private static (int Number, double[] Values)? Row(string line)
    {
        string[] words = line.Split(' ');
        double[] values = new double[words.Length - 1];
        for (int i = 0; i < values.Length; i++)
            if (!double.TryParse(words[i + 1], NumberStyles.Float, CultureInfo.InvariantCulture, out values[i]))
                return null;
        return int.TryParse(words[0], NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? (number, values) : null;
    }
}
