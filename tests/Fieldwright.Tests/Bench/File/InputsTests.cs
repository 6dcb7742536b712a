using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

public class InputsTests
{
    [Fact]
    public void Input_Every_IsReadBackByItsName()
    {
        foreach (var apparatus in new[] { Bench.Disc, Bench.Ring })
            foreach (var input in Inputs.Of(apparatus))
            {
                Assert.True(Inputs.TryReadName(input.Name.Text, apparatus, out var name, out _), input.Name.Text);
                Assert.Equal(input.Name, name);
            }
    }

    [Fact]
    public void Input_EveryWithANumber_ComesBackFromItsOwnWriting()
    {
        foreach (var apparatus in new[] { Bench.Disc, Bench.Ring })
            foreach (var input in Inputs.Of(apparatus).Where(i => i.Value is not null && i.Value != 0))
            {
                string written = Inputs.Write(input.Name, input.Value!.Value, apparatus);
                Assert.True(Inputs.TryRead($"{input.Name.Text}={written}", apparatus, out var setting, out var mistake), $"{input.Name.Text}={written}: {mistake?.Finding}");
                // Writing keeps six digits.
                Assert.Equal(input.Value.Value, setting.Value, Math.Abs(input.Value.Value) * 1e-5);
            }
    }

    [Fact]
    public void Apply_EveryInputChanged_ChangesThatInputAloneAndLeavesTheOriginal()
    {
        foreach (var apparatus in new[] { Bench.Disc, Bench.Ring })
            foreach (var input in Inputs.Of(apparatus).Where(i => i.Value is not null && i.Value != 0))
            {
                double changed = input.Value!.Value * 0.9999;
                var turned = Inputs.Apply(apparatus, [new Setting(input.Name, changed)]);
                // The currents and the voltage of one supply are one and the same knob.
                bool knob = input.Name.Quantity is "current" or "voltage";
                foreach (var (before, after) in Inputs.Of(apparatus).Zip(Inputs.Of(turned)).Where(i => !knob || i.First.Name == input.Name || i.First.Name.Quantity is not ("current" or "voltage")))
                    Assert.True(after.Name == input.Name ? after.Value == changed : after.Name == before.Name && after.Value == before.Value, $"{input.Name.Text} moved {after.Name.Text}");
                Assert.Equal(input.Value, Inputs.Of(apparatus).Single(i => i.Name == input.Name).Value);
            }
    }

    [Fact]
    public void Current_WrittenAsRms_IsPeakInside()
    {
        Assert.True(Inputs.TryRead("current in inner=18 A", Bench.Disc, out var rms, out _));
        Assert.True(Inputs.TryRead("current in inner=18 A peak", Bench.Disc, out var peak, out _));
        Assert.Equal(18 * Math.Sqrt(2), rms.Value, 1e-12);
        Assert.Equal(18, peak.Value, 1e-12);
        Assert.Equal("18 A", Inputs.Write(rms.Input, rms.Value, Bench.Disc));
    }

    [Fact]
    public void Current_OfATransformer_SetsItInsteadOfItsVoltage()
    {
        var turned = Inputs.Apply(Bench.Disc, [new Setting(new InputName("voltage", "line", "voltage of line"), 100)]);
        Assert.Equal((100.0, (double?)null), (turned.Supplies[0].Voltage!.Value, turned.Supplies[0].Current));
        turned = Inputs.Apply(turned, [new Setting(new InputName("current", "outer", "current in outer"), 5)]);
        Assert.Equal(5, turned.Supplies[0].Current);
        Assert.Equal(SupplyKind.Mains, turned.Supplies[0].Kind);
    }

    [Theory]
    [InlineData("current in inner", "sets nothing", null)]
    [InlineData("current in inner=18", "has no unit", null)]
    [InlineData("current in inner=18 V", "wrong unit", null)]
    [InlineData("current in iner=18 A", "there is no 'iner'", "inner")]
    [InlineData("curent in inner=18 A", "no input 'curent'", "current in inner")]
    [InlineData("height of disc=-30 mm", "overlap", null)]
    [InlineData("thickness of disc=0 mm", "not allowed", null)]
    [InlineData("thickness of disc=1e308 m", "not allowed", null)]
    [InlineData("thickness of disc=NaN mm", "no value", null)]
    [InlineData("turns of inner=1e5", "do not fit", null)]
    [InlineData("material of disc=cheese", "no material", null)]
    [InlineData("material of disc=coper", "no material", "copper")]
    [InlineData("=", "names no input", null)]
    [InlineData("", "sets nothing", null)]
    public void Setting_ThatIsWrong_SaysWhat(string text, string finding, string? nearest)
    {
        Assert.False(Inputs.TryRead(text, Bench.Disc, out _, out var mistake));
        Assert.Contains(finding, mistake.Finding, StringComparison.Ordinal);
        Assert.Equal(nearest, mistake.NearestWord);
    }

    [Fact]
    public void Apply_OfNonsense_Throws()
    {
        // What was turned before in harmless ways is still looked at when a body moves.
        var warm = Inputs.Apply(Bench.Disc, [new Setting(new InputName("current", "outer", "current in outer"), 5), new Setting(new InputName("speed", "disc", "speed of disc"), 0.1)]);
        Assert.Throws<ArgumentException>(() => Inputs.Apply(warm, [new Setting(new InputName("height", "disc", "height of disc"), -0.03)]));
        Assert.Throws<ArgumentException>(() => Inputs.Apply(Bench.Disc, [new Setting(new InputName("height", "disc", "height of disc"), -0.03)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => Inputs.Apply(Bench.Disc, [new Setting(new InputName("thickness", "disc", "thickness of disc"), double.NaN)]));
        Assert.Throws<ArgumentException>(() => Inputs.Apply(Bench.Disc, [new Setting(new InputName("gap", "disc", "gap in disc"), 0.001)]));
    }

    [Fact]
    public void Material_OfTheFileOrKnown_CanBeSet()
    {
        Assert.True(Inputs.TryRead("material of core=air", Bench.Ring, out var air, out _));
        Assert.Equal("air", Inputs.Apply(Bench.Ring, [air]).Part("core")!.Material.Name);
        Assert.True(Inputs.TryRead("material of core=house steel", Bench.Ring, out var own, out _));
        Assert.Equal(2000, Inputs.Apply(Bench.Ring, [air, own]).Part("core")!.Material.RelativePermeability);
    }
}
