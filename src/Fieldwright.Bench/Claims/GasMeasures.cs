namespace Fieldwright.Bench.Claims;

/// <summary>What can be asked of a flat box of discs.</summary>
internal static class GasMeasures
{
    /// <summary>The kinds, in the order they are listed to people.</summary>
    public static IReadOnlyList<MeasureKind> Kinds { get; } =
    [
        Of("lid height", "mm", "Height at which the lid stands in the mean."),
        Of("disc temperature", "µJ", "Mean energy of motion of a disc: what kT is for a gas. Where the discs stream round, of their motion against the stream."),
        Of("mean speed", "mm/s", "Mean speed of the discs."),
        Of("rms speed", "mm/s", "Root of the mean square of the speed of the discs."),
        Of("gas pressure", "N/m", "Push on the walls for each length of wall, in a box that lies flat and is closed."),
        Of("pressure ratio on halving", "%", "Pressure with half the height over pressure with the whole, the energy of the discs being the same."),
        Of("diffusion coefficient", "mm2/s", "Mean square path of a disc over four times the time, the straight first stretch left out."),
        Of("diffusion of large disc", "mm2/s", "The same of the large disc."),
        Of("drift speed", "mm/s", "Mean speed sideways of the discs within two diameters over a floor that travels; between walls what it drags along comes back above."),
        Of("stream speed", "mm/s", "Mean speed sideways of all discs, in a box whose sides are joined and whose floor grips."),
        Of("escape rate", "1/s", "Discs that leave through the open top in a second, from when it is taken off a box that has come to its temperature until about a tenth are gone."),
    ];

    /// <summary>What a box must have so that a measure means something.</summary>
    public static string NeedsOf(string measure) => measure switch
    {
        "lid height" => "a lid",
        "gas pressure" => "a closed box that lies flat, without lid and large disc",
        "pressure ratio on halving" => "a closed box that lies flat and at rest, without lid, large disc and repulsion, in which nothing is lost",
        "diffusion of large disc" => "a large disc",
        "drift speed" => "a floor with grip",
        "stream speed" => "sides that are joined and a floor with grip",
        _ => "an open top",
    };

    private static MeasureKind Of(string name, string unit, string meaning) => new(name, "", SubjectKind.Nothing, unit, false, meaning);
}
