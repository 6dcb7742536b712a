using System.Text;

namespace Fieldwright.App;

/// <summary>Reads apparatus files from disk.</summary>
internal static class FileText
{
    /// <summary>Characters read at most: a little beyond what a file may hold, whatever stands behind the path.</summary>
    public const int MostCharacters = 1_200_000;

    /// <summary>The text of a file.</summary>
    /// <param name="path">Its path.</param>
    /// <exception cref="WrongCallException">It cannot be read.</exception>
    public static string Read(string path)
    {
        try
        {
            using var reader = new StreamReader(path, Encoding.UTF8);
            char[] buffer = new char[MostCharacters];
            return new string(buffer, 0, reader.ReadBlock(buffer, 0, MostCharacters));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new WrongCallException($"{path}: the file cannot be read ({e.Message.TrimEnd('.')}).");
        }
    }
}
