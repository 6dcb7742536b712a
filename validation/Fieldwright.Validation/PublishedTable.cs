using System.Globalization;

namespace Fieldwright.Validation;

/// <summary>A table of published or recomputed values kept under validation/reference: '#' lines say where it comes from, then a header, then rows.</summary>
public sealed class PublishedTable
{
    private readonly string[] columns;
    private readonly List<string[]> rows = [];

    private PublishedTable(string[] columns) => this.columns = columns;

    /// <summary>Number of rows.</summary>
    public int Count => rows.Count;

    /// <summary>Reads a table by its file name.</summary>
    public static PublishedTable Read(string file)
    {
        var lines = File.ReadAllLines(Path.Combine(Root(), "validation", "reference", file)).Where(l => l.Length > 0 && l[0] != '#').ToList();
        var table = new PublishedTable(lines[0].Split(','));
        foreach (var line in lines.Skip(1)) table.rows.Add(line.Split(','));
        return table;
    }

    /// <summary>A cell as text.</summary>
    public string Text(int row, string column) => rows[row][Array.IndexOf(columns, column) is >= 0 and var c ? c : throw new ArgumentException($"No column {column}; there are {string.Join(", ", columns)}.", nameof(column))];

    /// <summary>A cell as a number.</summary>
    public double Number(int row, string column) => double.Parse(Text(row, column), NumberStyles.Float, CultureInfo.InvariantCulture);

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Fieldwright.slnx")))
                return folder.FullName;
        throw new InvalidOperationException("Fieldwright.slnx not found above the test's folder.");
    }
}
