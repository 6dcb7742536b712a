namespace Fieldwright.Tests;

/// <summary>Where the repository stands, found from the test's own output folder.</summary>
internal static class Repository
{
    public static string Root { get; } = FindRoot();

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Fieldwright.slnx")))
                return folder.FullName;
        throw new InvalidOperationException("Fieldwright.slnx not found above the test's folder.");
    }
}
