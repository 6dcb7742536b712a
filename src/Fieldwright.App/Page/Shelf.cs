using System.Text.RegularExpressions;

namespace Fieldwright.App.Page;

/// <summary>The apparatus files of one folder. Nothing outside it is read or written.</summary>
internal sealed partial class Shelf : IDisposable
{
    private const int MostFiles = 500;
    private static readonly TimeSpan Settled = TimeSpan.FromMilliseconds(150);
    private readonly FileSystemWatcher watcher;
    private readonly Timer settle;
    private readonly Lock gate = new();
    private readonly Dictionary<string, SharedText> open = new(StringComparer.Ordinal);

    /// <summary>Opens a folder.</summary>
    /// <exception cref="WrongCallException">There is no such folder.</exception>
    public Shelf(string folder)
    {
        if (!Directory.Exists(folder))
            throw new WrongCallException($"{folder}: there is no such folder. expected a folder of apparatus files.");
        Folder = Real(Path.GetFullPath(folder));
        settle = new Timer(_ => Refresh());
        watcher = new FileSystemWatcher(Folder) { NotifyFilter = NotifyFilters.FileName | NotifyFilters.LastWrite | NotifyFilters.Size };
        watcher.Changed += (_, e) => Touched(e.Name);
        watcher.Created += (_, e) => Touched(e.Name);
        watcher.Deleted += (_, e) => Touched(e.Name);
        watcher.Renamed += (_, e) => Touched(e.Name);
        watcher.EnableRaisingEvents = true;
    }

    /// <summary>Raised when files came, went or changed.</summary>
    public event Action? Changed;

    /// <summary>The folder, links resolved.</summary>
    public string Folder { get; }

    /// <summary>The folder's own name.</summary>
    public string FolderName => Path.GetFileName(Folder) is { Length: > 0 } name ? name : Folder;

    /// <summary>Names of the files, in order.</summary>
    public IReadOnlyList<string> Files =>
        [.. Directory.EnumerateFiles(Folder).Select(f => Path.GetFileName(f)).Where(IsName).Order(StringComparer.OrdinalIgnoreCase).Take(MostFiles)];

    /// <summary>Where a file of the folder lies.</summary>
    /// <param name="name">Its name, without any folder.</param>
    /// <exception cref="WrongCallException">The name leads out of the folder, or is no name of an apparatus file.</exception>
    public string PathOf(string name)
    {
        if (!IsName(name))
            throw new WrongCallException($"'{name}' is no name of an apparatus file. expected letters, digits, blanks, '-', '_' or '.', ending in .yaml.");
        string path = Path.Combine(Folder, name);
        if (Path.GetDirectoryName(Real(path)) != Folder)
            throw new WrongCallException($"'{name}' leads out of the folder.");
        return path;
    }

    /// <summary>The text of a file, shared by all who ask for it.</summary>
    /// <exception cref="WrongCallException">There is no such file.</exception>
    public SharedText Open(string name)
    {
        string path = PathOf(name);
        lock (gate)
        {
            if (!open.TryGetValue(name, out var text))
                open[name] = text = new SharedText(path);
            return text;
        }
    }

    /// <summary>Writes a new file.</summary>
    /// <exception cref="WrongCallException">The name is taken or is no name.</exception>
    public void Create(string name, string text)
    {
        string path = PathOf(name);
        if (File.Exists(path))
            throw new WrongCallException($"There is a file '{name}' already.");
        WholeFile.Write(path, stream => stream.Write(System.Text.Encoding.UTF8.GetBytes(text)));
        Changed?.Invoke();
    }

    /// <summary>Copies a file under a new name.</summary>
    /// <exception cref="WrongCallException">The name is taken or is no name.</exception>
    public void Copy(string from, string to) => Create(to, FileText.Read(PathOf(from)));

    /// <summary>Gives a file another name.</summary>
    /// <exception cref="WrongCallException">The name is taken or is no name.</exception>
    public void Rename(string from, string to)
    {
        string source = PathOf(from), target = PathOf(to);
        if (File.Exists(target))
            throw new WrongCallException($"There is a file '{to}' already.");
        try
        {
            File.Move(source, target);
        }
        catch (IOException e)
        {
            throw new WrongCallException($"'{from}' cannot be renamed ({e.Message.TrimEnd('.')}).");
        }

        lock (gate)
            open.Remove(from);
        Changed?.Invoke();
    }

    /// <summary>A name for a file that is not there yet, near one that is wished for.</summary>
    public string FreeName(string wish)
    {
        string stem = Path.GetFileNameWithoutExtension(wish);
        string name = stem + ".yaml";
        for (int n = 2; File.Exists(Path.Combine(Folder, name)); n++)
            name = FormattableString.Invariant($"{stem}-{n}.yaml");
        return name;
    }

    /// <summary>A file name made from what a person typed.</summary>
    public static string NameFrom(string words)
    {
        string name = Blanks().Replace(words.Trim(), "-");
        return name.EndsWith(".yaml", StringComparison.OrdinalIgnoreCase) || name.EndsWith(".yml", StringComparison.OrdinalIgnoreCase) ? name : name + ".yaml";
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        watcher.Dispose();
        settle.Dispose();
    }

    private static bool IsName(string? name) => name is { Length: > 5 and < 120 } && Name().IsMatch(name) && !name.Contains("..", StringComparison.Ordinal);

    [GeneratedRegex(@"^[\p{L}\p{N}][\p{L}\p{N} ._-]*\.ya?ml$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Name();

    [GeneratedRegex(@"\s+", RegexOptions.CultureInvariant)]
    private static partial Regex Blanks();

    private static string Real(string path) =>
        (File.Exists(path) ? File.ResolveLinkTarget(path, returnFinalTarget: true)?.FullName : Directory.Exists(path) ? Directory.ResolveLinkTarget(path, returnFinalTarget: true)?.FullName : null) ?? path;

    // Programs write in bursts: wait until they are done.
    private void Touched(string? name)
    {
        if (IsName(name))
            settle.Change(Settled, Timeout.InfiniteTimeSpan);
    }

    private void Refresh()
    {
        List<SharedText> texts;
        lock (gate)
            texts = [.. open.Values];
        foreach (var text in texts)
            text.TakeDisk();
        Changed?.Invoke();
    }
}
