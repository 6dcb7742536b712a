using Fieldwright.Series.Coils;
using Xunit;

namespace Fieldwright.Validation.MeasuredCoilOnItsAxis;

/// <summary>Readings of the field along the axis of a coil beside the field of a loop; see source.md.</summary>
public class MeasuredCoilOnItsAxis
{
    [Fact]
    public void Coil_ReadAlongItsAxis_FollowsTheLawOfALoop()
    {
        var table = PublishedTable.Read("measured-coil-axis.csv");
        var read = Enumerable.Range(0, table.Count).Where(r => table.Text(r, "coils") == "single" && table.Text(r, "current_mA") == "500")
            .Select(r => (At: 1e-3 * table.Number(r, "position_mm"), Reading: table.Number(r, "reading"))).ToList();
        double Left(double radius) => Valley(centre => Residual(read, radius, centre), -0.06, -0.04).Value;
        var (fitted, least) = Valley(Left, 0.08, 0.14);
        // The readings have three decimals: radius 106.8 ± 0.2 mm, none further off than 0.0006.
        Assert.Equal(0.1068, fitted, 2e-4);
        Assert.True(least < 6e-4, $"{least}");
        // A tenth more or less in radius and the readings no longer fit.
        Assert.True(Left(0.9 * fitted) > 4 * least && Left(1.1 * fitted) > 4 * least);
    }

    // Largest departure of the readings from the axial field of a loop, the best scale being taken.
    private static double Residual(List<(double At, double Reading)> read, double radius, double centre)
    {
        var field = read.ConvertAll(p => Filament.FieldOfLoop(radius, 0, p.At - centre).Axial);
        double scale = field.Zip(read, (b, p) => b * p.Reading).Sum() / field.Sum(b => b * b);
        return field.Zip(read, (b, p) => Math.Abs(p.Reading - scale * b)).Max();
    }

    private static (double At, double Value) Valley(Func<double, double> f, double low, double high)
    {
        double golden = 0.5 * (Math.Sqrt(5) - 1);
        while (high - low > 1e-6)
        {
            double a = high - golden * (high - low), b = low + golden * (high - low);
            if (f(a) < f(b))
                high = b;
            else
                low = a;
        }

        return (0.5 * (low + high), f(0.5 * (low + high)));
    }
}
