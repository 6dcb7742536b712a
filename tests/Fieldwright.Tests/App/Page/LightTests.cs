using Xunit;

namespace Fieldwright.Tests.App.Page;

/// <summary>The light of a section, dot by dot, as a graphics card lays it (here one imitated by the processor) and as the processor does without one: neither sees the other's shaders or loops.</summary>
[Collection(PageTests.Name)]
public sealed class LightTests(Browser browser)
{
    private const int Wide = 160, High = 90;

    // The dots of one of the two, from the top, of the stage's own field: which layers, at which instant, in rad.
    private const string Dots = """
        async ([kind, shown, phase, wide, high]) => {
          const { Light } = await import('/light.js'), { Candle } = await import('/candle.js'), s = bench.stage, light = new (kind === 'card' ? Light : Candle)(document.createElement('canvas'));
          const clear = document.createElement('canvas'); clear.width = wide; clear.height = high; clear.getContext('2d');
          const scene = { ...s.scene, x: 0, y: 0.01, pixel: 0.0006 };
          s.colours.call({ light }); light.load(s.field); light.set(new Float32Array(s.spots().filter(m => !m.winding).flatMap(m => [m.x, m.y, m.room, m.re, m.im])));
          light.size(wide, high, wide, high); light.draw(clear); light.lay(scene);
          light.shine(scene, { instant: [Math.cos(phase), Math.sin(phase)], step: s.step, layers: Object.fromEntries(['flux', 'density', 'current'].map(l => [l, shown.includes(l)])), dots: 1, mark: 5.4, glow: s.glow() });
          if (kind !== 'card') return [...light.image.data];
          const bytes = new Uint8Array(4 * wide * high), turned = [];
          light.gl.readPixels(0, 0, wide, high, light.gl.RGBA, light.gl.UNSIGNED_BYTE, bytes);
          for (let y = high - 1; y >= 0; y--) turned.push(...bytes.subarray(4 * wide * y, 4 * wide * (y + 1)));
          return turned;
        }
        """;

    [Fact]
    public async Task Light_OfASection_IsWhereTheFieldIsAndTheSameByCardAndProcessor()
    {
        var served = browser.Shared;
        served.Write("light.yaml", Small.Plate);
        await using var window = await browser.Open();
        await window.Bench(served, "light.yaml");
        async Task<int[]> Of(string kind, string shown, double phase) => await window.Page.EvaluateAsync<int[]>(Dots, (object[])[kind, shown, phase, Wide, High]);
        double strongest = await window.Page.EvaluateAsync<double>("bench.stage.field.head.strongest");

        int[] strength = await Of("processor", "density", strongest), later = await Of("processor", "density", strongest + Math.PI / 2), back = await Of("processor", "density", strongest + Math.PI);
        // In the hole of the coil under the plate, and far out at the rim of the picture.
        double coil = await window.Page.EvaluateAsync<double>("Math.min(...bench.stage.field.head.bodies.find(b => b.matter === 3).loops[0].filter((_, i) => i % 2 === 0))");
        double low = await window.Page.EvaluateAsync<double>("(b => (Math.min(...b) + Math.max(...b)) / 2)(bench.stage.field.head.bodies.find(b => b.matter === 3).loops[0].filter((_, i) => i % 2 === 1))");
        Assert.True(Brightness(strength, 0.5 * coil, low) > 2 * Brightness(strength, 0.046, 0.034), "The field strength is no lighter in the coil than far from it.");
        Assert.True(Brightness(strength, 0.5 * coil, low) > 1.3 * Brightness(later, 0.5 * coil, low), "A quarter of a period later the coil's field is as strong as at its peak.");
        Assert.Equal(strength, back);
        foreach (string kind in (string[])["processor", "card"])
        {
            int[] dots = await Of(kind, "density", strongest);
            // The hatching of the plate is no image of itself.
            Assert.True(Off(dots, Mirrored(dots), 3) < 0.02, $"By {kind} the sides of the axis differ.");
        }

        // Lines are told from dot to dot by either in its own way, so that their edges differ a little.
        foreach (var (shown, share) in (IEnumerable<(string, double)>)[("flux", 0.04), ("density", 0.002), ("current", 0.002), ("flux density current", 0.04)])
        {
            int[] card = await Of("card", shown, strongest + 0.7), processor = await Of("processor", shown, strongest + 0.7);
            Assert.True(Off(card, processor, 12) < share, $"{shown}: {Off(card, processor, 12):P2} of the dots are not alike by card and by processor.");
        }

        int[] currents = await Of("processor", "current", strongest);
        var (right, left) = (At(currents, coil + 0.002, low), At(currents, -coil - 0.002, low));
        Assert.True((currents[right] > currents[right + 2]) != (currents[left] > currents[left + 2]), "The current of a round coil glows the same on both sides of the axis.");
        window.WasQuiet();
    }

    private static int At(int[] dots, double x, double y) => 4 * (Wide * (int)(High / 2 - (y - 0.01) / 0.0006) + (int)(Wide / 2 + x / 0.0006));

    private static double Brightness(int[] dots, double x, double y) => At(dots, x, y) is var i ? 0.2126 * dots[i] + 0.7152 * dots[i + 1] + 0.0722 * dots[i + 2] : 0;

    private static int[] Mirrored(int[] dots) => [.. Enumerable.Range(0, dots.Length).Select(i => dots[4 * (i / 4 / Wide * Wide + Wide - 1 - i / 4 % Wide) + i % 4])];

    // The share of values that differ by more than a little.
    private static double Off(int[] a, int[] b, int by) => a.Zip(b).Count(p => Math.Abs(p.First - p.Second) > by) / (double)a.Length;
}
