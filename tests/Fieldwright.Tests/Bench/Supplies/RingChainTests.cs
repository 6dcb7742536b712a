using System.Numerics;
using Fieldwright.Bench.Model;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Supplies;

/// <summary>The ring's lamp in its three states through the whole chain: mains, winding, field, lamp.</summary>
/// <remarks>
/// The chain is worked again by hand from what its links say: wire from its table, inductances from the field's linkages, the transformer's 24 V behind the box's resistor, and the lamp by the published
/// exponents of rerating (current 0.55, light 3.4), closed by bisection. Nothing of the network solver is used.
/// </remarks>
public class RingChainTests
{
    private const double Omega = 100 * Math.PI, Box = 6, Mains = 24;

    [Theory]
    [InlineData("closed ring"), InlineData("ring with a gap"), InlineData("no iron")]
    public void Lamp_InEachState_IsWhatTheLinksMakeOfTheMains(string state)
    {
        var ring = Read.Example("ring-and-lamp");
        double A(string measure) => InrushTests.Ask(measure, ring, state);
        Complex z1 = new(A("resistance of primary") + Box, Omega * A("inductance of primary")), z2 = new(A("resistance of secondary"), Omega * A("inductance of secondary")), zm = new(0, Omega * A("mutual inductance of primary and secondary"));
        // 1 mm of copper wire is 21.76 mΩ/m (IEC 60317's nominal value), so 0.8 mm 34.0 mΩ/m: 0.2 % for the temperature of the hall and the value of the table.
        Assert.Equal(0.02176 / 0.64 * A("wire length of primary") * (234.5 + 17) / (234.5 + 20), A("resistance of primary"), 0.01 * A("resistance of primary"));
        // Lamp: the voltage at which mesh and filament carry the same current.
        double low = 0, high = 7;
        for (int i = 0; i < 60; i++)
        {
            double volts = 0.5 * (low + high), amperes = Filament(volts);
            var mesh = zm * Mains / (z1 * (z2 + (amperes > 0 ? volts / amperes : 12.0 / 13)) - zm * zm);
            (low, high) = mesh.Magnitude > amperes ? (volts, high) : (low, volts);
        }

        double lamp = 0.5 * (low + high);
        var loaded = z2 + lamp / Filament(lamp);
        double current = (Mains * loaded / (z1 * loaded - zm * zm)).Magnitude;
        Assert.Equal(lamp, A("voltage at lamp"), 2e-3 * lamp + 1e-6);
        Assert.Equal(Math.Pow(lamp / 6, 3.4), A("brightness of lamp"), 8e-3 * Math.Pow(lamp / 6, 3.4) + 1e-12);
        Assert.Equal(current, A("current in primary"), 2e-3 * current);
        // What the box takes at the winding is the copper's heat and the lamp's; steel loses nothing in this picture.
        double power = A("copper loss in primary") + A("copper loss in secondary") + A("power in lamp");
        Assert.Equal(power, A("power from safe box"), 5e-3 * power);
    }

    // 6 V, 3 W: half an ampere at rating; below the law the cold filament of 12/13 Ω.
    private static double Filament(double volts) => Math.Min(0.5 * Math.Pow(volts / 6, 0.55), volts / (12.0 / 13));
}
