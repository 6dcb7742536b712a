using System.Globalization;
using Xunit;

namespace Fieldwright.Tests.Tutorials;

/// <summary>The tutorial of the field room runs and prints what can be true; that its page prints it to the letter is seen to in <see cref="TutorialTests"/>.</summary>
public class FieldsTutorialTests
{
    [Fact]
    public void FieldsTutorial_Run_PrintsLiftHeatAndFlight()
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture);
        FieldsTutorial.Run(output);
        var lines = output.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(7, lines.Length);
        var lift = lines[0].Split(' ');
        double value = double.Parse(lift[1], CultureInfo.InvariantCulture), bar = double.Parse(lift[3], CultureInfo.InvariantCulture);
        Assert.True(value > 0.051 * 9.81 && bar <= 0.0105 * value, lines[0]);
        Assert.Contains("0.2500 of the whole", lines[4]);
        // free fall upwards of that lift bounds the rise: half a·t², a from the largest lift, twice the mean
        var risen = double.Parse(lines[5].Split(' ')[5], CultureInfo.InvariantCulture);
        Assert.InRange(risen, 0.1, 1e3 * 0.5 * (2 * value / 0.051) * 0.02 * 0.02);
    }
}
