using System.ComponentModel;
using System.Text;
using Fieldwright.App.Pictures;
using Fieldwright.App.Reports;
using Fieldwright.Bench;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>gallery FOLDER -o PAGE.md</c>: a page of every apparatus of a folder, with pictures and lamps.</summary>
internal sealed class GalleryCommand : BenchCommand<GalleryCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        if (settings.Set.Length > 0)
            throw new WrongCallException("--set: a folder was given. expected no settings: the gallery shows files as they stand.");
        if (!Directory.Exists(settings.File))
            throw new WrongCallException($"{settings.File}: there is no such folder. expected a folder of apparatus files.");
        if (!settings.Output.EndsWith(".md", StringComparison.OrdinalIgnoreCase))
            throw new WrongCallException($"--output: '{settings.Output}' is no page that can be written. expected a name that ends in .md.");
        var files = Opened.ApparatusFiles(settings.File);
        var read = files.Select(f => (File: f, Apparatus: Opened.Apparatus(Path.Combine(settings.File, f)))).ToList();
        string home = Path.GetDirectoryName(Path.GetFullPath(settings.Output))!, pictures = Path.GetFileNameWithoutExtension(settings.Output);
        var entries = new List<GalleryEntry>();
        using (var progress = new ProgressLine(terminal))
            foreach (var (file, apparatus) in read)
            {
                progress.Report(new RehearsalStep(entries.Count, files.Count, apparatus.Name));
                var report = Rehearsal.Run(apparatus, options, null, terminal.Stop);
                string link = Path.GetRelativePath(home, Path.GetFullPath(Path.Combine(settings.File, file)));
                entries.Add(new GalleryEntry(link, report, Picture(apparatus, file, home, pictures, terminal)));
            }

        WholeFile.Write(settings.Output, stream => stream.Write(Encoding.UTF8.GetBytes(GalleryPage.Of(entries))));
        return entries.All(e => e.Report.AllHold) ? ExitCode.Good : ExitCode.NotAll;
    }

    // The picture's path relative to the page; null when there is none to draw.
    private static string? Picture(Apparatus apparatus, string file, string home, string folder, Terminal terminal)
    {
        try
        {
            var options = new PictureOptions(apparatus.States.Count > 0 ? apparatus.States[0].Name : null);
            var scene = ApparatusPicture.Of(apparatus, options, TypeFace.Width, terminal.Stop);
            Directory.CreateDirectory(Path.Combine(home, folder));
            string name = Path.ChangeExtension(file.Replace('/', '-').Replace('\\', '-'), ".svg");
            PictureFile.Write(Path.Combine(home, folder, name), scene);
            return folder + "/" + name;
        }
        catch (RouteFailedException)
        {
            return null;
        }
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : AnsweringSettings
    {
        /// <summary>Where to.</summary>
        [CommandOption("-o|--output <PAGE>", true)]
        [Description("The page to write, such as docs/gallery.md; its pictures go to a folder of the same name beside it.")]
        public string Output { get; set; } = "";
    }
}
