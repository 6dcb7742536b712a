using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.File;
using Fieldwright.Matter.Heat;
using Xunit;

namespace Fieldwright.Validation.FoilMelting;

/// <summary>How long a strip of copper takes to melt, through the file, against Onderdonk's equation; see source.md.</summary>
public class FoilMelting
{
    [Theory]
    [InlineData(0.1)]
    [InlineData(1)]
    [InlineData(5)]
    public void CopperStrip_MeltingTime_AgreesWithOnderdonk(double seconds)
    {
        const double Width = 10e-3, Thickness = 50e-6;
        double current = FusingCurrent.Onderdonk(Width * Thickness, seconds, 293.15);
        string text = string.Create(CultureInfo.InvariantCulture,
            $"apparatus: Strip\nsymmetry: free\nhall: {{temperature: 20 °C}}\nparts:\n  strip: {{shape: foil loop, length: 300 mm, width: 10 mm, thickness: 0.05 mm, span: 50 mm, carries: {current:R} A, at: {{z: 0 mm}}, of: copper}}\n");
        var reading = ApparatusFile.Read(text, "strip.yaml");
        Assert.Empty(reading.Mistakes);
        Assert.True(MeasureReader.TryRead("melting time of strip", reading.Apparatus!, out var measure, out _));
        var answer = Rehearsal.Ask(reading.Apparatus!, measure, new RehearsalOptions(0.01), cancellation: TestContext.Current.CancellationToken).Leading!;
        // His 33 is given to two digits, 1.5 %, and the specific heat of copper rises by more than a tenth up to melting while both take one number for it.
        Assert.Equal(seconds, answer.Value, 0.03 * seconds);
    }
}
