namespace Fieldwright.Benchmarks.Series;

/// <summary>The whole series route in one table: relative error reached, time a call (best of many short rounds, warm, one thread) and bytes allocated.</summary>
/// <remarks>
/// Each error is against another method where there is one (a round coil for a racetrack whose corners meet, poles for current sheets, a sum along the turns, a published table), otherwise
/// against a finer rule of the same one, and then the row says so. Name a group to run that alone.
/// </remarks>
public static class SeriesBenchmark
{
    private static readonly (string Name, Action Run)[] Groups =
    [
        ("coils", CoilRows.Run), ("balls", BallRows.Run), ("rings", RingRows.Run), ("layers", LayerRows.Run), ("cylinders", CylinderRows.Run),
        ("magnets", MagnetRows.Run), ("foil", FoilRows.Run), ("liquids", LiquidRows.Run), ("gases", GasRows.Run),
    ];

    public static string Name => "series";

    public static int Run(string[] arguments)
    {
        foreach (var (name, run) in Groups)
            if (arguments.Length == 0 || arguments.Contains(name))
                run();
        return 0;
    }
}
