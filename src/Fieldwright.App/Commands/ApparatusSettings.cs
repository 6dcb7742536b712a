using System.ComponentModel;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary>What every command on an apparatus file takes.</summary>
internal class ApparatusSettings : CommandSettings
{
    /// <summary>The file.</summary>
    [CommandArgument(0, "<FILE>")]
    [Description("The apparatus file (YAML); [italic]rehearse[/] also takes a folder.")]
    public string File { get; set; } = "";

    /// <summary>Settings to apply.</summary>
    [CommandOption("--set <INPUT=VALUE>")]
    [Description("Turn an input for this call, such as [italic]\"current in inner=18 A\"[/]; may be repeated.")]
    public string[] Set { get; set; } = [];
}

/// <summary>What commands that compute answers take besides.</summary>
internal class AnsweringSettings : ApparatusSettings
{
    /// <summary>Error bars aimed for.</summary>
    [CommandOption("--target <SHARE>")]
    [Description("Half-width of the error bars to aim for, as a share of each answer: [italic]1%[/] or [italic]0.01[/].")]
    public string Target { get; set; } = "1%";

    /// <summary>Whether to print JSON.</summary>
    [CommandOption("--json")]
    [Description("Print for machines; see docs/commands.md.")]
    public bool Json { get; set; }
}
