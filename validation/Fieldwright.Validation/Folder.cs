namespace Fieldwright.Validation;

/// <summary>Where published cases and reference tables stand.</summary>
internal static class Folder
{
    private static readonly string Root = FindRoot();

    /// <summary>The reference tables.</summary>
    public static string Reference { get; } = Path.Combine(Root, "validation", "reference");

    /// <summary>The folder of a case.</summary>
    public static string Of(string name) => Path.Combine(Root, "validation", "Fieldwright.Validation", name);

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Fieldwright.slnx")))
                return folder.FullName;
        throw new InvalidOperationException("Fieldwright.slnx not found above the test's folder.");
    }
}
