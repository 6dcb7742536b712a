using System.ComponentModel;

namespace Fieldwright.App.Reports;

[Description("Every apparatus file of a folder, rehearsed.")]
internal sealed record FolderDocument(
    [property: Description("Name and version of this form: fieldwright-folder/1.")] string Schema,
    [property: Description("Whether every file is right and every claim holds.")] bool AllHold,
    [property: Description("One entry a file, in order of their names.")] IReadOnlyList<FolderFile> Files);

internal sealed record FolderFile(
    [property: Description("The path of the file within the folder.")] string File,
    [property: Description("Its rehearsal; null when the file is wrong.")] RehearsalDocument? Rehearsal,
    [property: Description("What is wrong with the file, a line each; empty when nothing is.")] IReadOnlyList<string> Mistakes);
