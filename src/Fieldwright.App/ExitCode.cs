namespace Fieldwright.App;

/// <summary>What the process says to whoever started it.</summary>
internal static class ExitCode
{
    /// <summary>All claims hold, or what was asked was given.</summary>
    public const int Good = 0;

    /// <summary>Some claims do not hold, or no route could answer.</summary>
    public const int NotAll = 1;

    /// <summary>The file or the call is wrong; nothing was written.</summary>
    public const int Wrong = 2;

    /// <summary>The program itself failed.</summary>
    public const int Broken = 3;

    /// <summary>Stopped by the person (Ctrl-C): 128 + SIGINT, as shells expect.</summary>
    public const int Stopped = 130;
}
