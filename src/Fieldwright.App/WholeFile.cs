namespace Fieldwright.App;

/// <summary>Files that are there whole or not at all.</summary>
internal static class WholeFile
{
    /// <summary>Writes a file beside its place and moves it there when it is complete.</summary>
    /// <param name="path">Its place; a file that stands there is replaced.</param>
    /// <param name="write">Writes the content.</param>
    /// <exception cref="WrongCallException">The place cannot be written to.</exception>
    public static void Write(string path, Action<Stream> write)
    {
        string full = Path.GetFullPath(path);
        string beside = Path.Combine(Path.GetDirectoryName(full)!, FormattableString.Invariant($".{Path.GetFileName(full)}.{Environment.ProcessId}.part"));
        try
        {
            if (Directory.Exists(full))
                throw new WrongCallException($"{path}: this is a folder. expected the name of a file to write.");
            using (var stream = new FileStream(beside, FileMode.Create, FileAccess.Write))
                write(stream);
            File.Move(beside, full, overwrite: true);
        }
        catch (DirectoryNotFoundException)
        {
            throw new WrongCallException($"{path}: there is no such folder. expected a file in a folder that exists.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new WrongCallException($"{path}: the file cannot be written ({e.Message.TrimEnd('.')}).");
        }
        finally
        {
            if (File.Exists(beside))
                File.Delete(beside);
        }
    }
}
