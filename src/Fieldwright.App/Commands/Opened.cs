using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.App.Commands;

/// <summary>Apparatus files and options on their way from the command line to the bench.</summary>
internal static class Opened
{
    /// <summary>How the files of programmes end, which are no apparatus.</summary>
    public const string ProgrammeEnding = ".programme.yaml";

    /// <summary>The apparatus of a file with settings applied.</summary>
    /// <exception cref="WrongCallException">The file cannot be read or is wrong, or a setting is.</exception>
    public static Apparatus Apparatus(ApparatusSettings settings) => With(Apparatus(settings.File), settings.Set);

    /// <summary>The apparatus of a file as it stands.</summary>
    /// <exception cref="WrongCallException">The file cannot be read or is wrong.</exception>
    public static Apparatus Apparatus(string path)
    {
        var reading = ApparatusFile.Read(Text(path), path);
        return reading.Apparatus ?? throw new WrongCallException(path, reading.Mistakes);
    }

    /// <summary>The apparatus files of a folder and the folders in it, as paths within it, in order of their names; programmes and hidden files are passed over.</summary>
    /// <exception cref="WrongCallException">There is none.</exception>
    public static IReadOnlyList<string> ApparatusFiles(string folder)
    {
        var all = Directory.EnumerateFiles(folder, "*.yaml", new EnumerationOptions { RecurseSubdirectories = true, MaxRecursionDepth = 4 })
            .Select(f => Path.GetRelativePath(folder, f))
            .Where(f => !f.EndsWith(ProgrammeEnding, StringComparison.OrdinalIgnoreCase))
            .Order(StringComparer.Ordinal).ToList();
        return all.Count > 0 ? all : throw new WrongCallException($"{folder}: there is no apparatus file in this folder. expected files that end in .yaml.");
    }

    /// <summary>Error bars to aim for, as a share.</summary>
    /// <exception cref="WrongCallException">The text is no share between a hundredth of a per cent and a half.</exception>
    public static RehearsalOptions Options(AnsweringSettings settings) => Options(settings.Target);

    /// <summary>Error bars to aim for, as a share.</summary>
    /// <exception cref="WrongCallException">The text is no share between a hundredth of a per cent and a half.</exception>
    public static RehearsalOptions Options(string target)
    {
        string text = target.Trim();
        bool percent = text.EndsWith('%');
        if (!double.TryParse(text.TrimEnd('%').TrimEnd(), NumberStyles.Float, CultureInfo.InvariantCulture, out double share)
            || !((share /= percent ? 100 : 1) is >= 1e-4 and <= 0.5))
            throw new WrongCallException($"--target:1:1: '{target}' is no target. expected a share between 0.01% and 50%, such as 1% or 0.01.");
        return new RehearsalOptions(share);
    }

    /// <summary>A state's own name, however it was typed.</summary>
    /// <exception cref="WrongCallException">The apparatus has no such state.</exception>
    public static string? State(string? name, Apparatus apparatus)
    {
        if (name is null)
            return null;
        var names = apparatus.States.Select(s => s.Name).ToList();
        return names.Find(n => string.Equals(n, name, StringComparison.OrdinalIgnoreCase))
            ?? throw new WrongCallException("--state", [new Mistake(
                1, 1, $"there is no state '{name}'", names.Count == 0 ? "no --state: this apparatus has one state only" : string.Join(", ", names), NearestWord.To(name, names))]);
    }

    private static Apparatus With(Apparatus apparatus, string[] settings)
    {
        var wrong = new List<string>();
        foreach (string text in settings)
        {
            string place = $"--set \"{text}\"";
            if (!Inputs.TryRead(text, apparatus, out var setting, out var mistake))
            {
                wrong.Add(WrongCallException.Line(place, mistake));
                continue;
            }

            try
            {
                apparatus = Inputs.Apply(apparatus, [setting]);
            }
            catch (ArgumentException e)
            {
                wrong.Add($"{place}: {e.Message.Split(" (Parameter")[0].TrimEnd('.')}.");
            }
        }

        return wrong.Count == 0 ? apparatus : throw new WrongCallException(wrong);
    }

    /// <summary>The text of a file: no more than a little beyond what a file may hold, whatever stands behind the path.</summary>
    /// <exception cref="WrongCallException">It cannot be read.</exception>
    public static string Text(string path)
    {
        if (Directory.Exists(path))
            throw new WrongCallException($"{path}: this is a folder. expected an apparatus file (YAML).");
        if (!File.Exists(path))
            throw new WrongCallException($"{path}: there is no such file. expected an apparatus file (YAML){Neighbour(path)}.");
        return FileText.Read(path);
    }

    private static string Neighbour(string path)
    {
        string folder = Path.GetDirectoryName(path) is { Length: > 0 } parent ? parent : ".";
        if (!Directory.Exists(folder))
            return $"; there is no folder '{folder}' either";
        string? near = NearestWord.To(Path.GetFileName(path), Directory.EnumerateFiles(folder, "*.yaml").Order(StringComparer.Ordinal).Take(1000).Select(f => Path.GetFileName(f)!));
        return near is null ? "" : $"; nearest: {Path.Combine(Path.GetDirectoryName(path) ?? "", near)}";
    }
}
