using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Currents;
using Fieldwright.Series.Magnets;
using Xunit;

namespace Fieldwright.Tests.Series.Currents;

public class LoadsTests
{
    private static readonly CylinderMagnet Disc = new(0.01, 0.008, 1.2, new Vector(0.004, 0, 0), new Vector(0.2, 0.1, 1));
    private static readonly BarMagnet Bar = new(new Vector(0.02, 0.012, 0.006), new Vector(0.5, -0.3, 1.1), new Vector(0.002, 0.01, 0.025), new Vector(1, 0.3, 0), Vector.AlongZ);
    private static readonly ThickCoil Coil = new(0.015, 0.02, -0.005, 0.005, 200, new Vector(0, 0.01, -0.025), new Vector(0, 0.3, 1));

    public static TheoryData<int, int> Pairs => new() { { 0, 1 }, { 0, 2 }, { 1, 2 } };

    private static ICurrents Body(int i) => i switch { 0 => Disc, 1 => Bar, _ => Coil };

    [Theory]
    [MemberData(nameof(Pairs))]
    public void Load_OfAPair_IsOppositeAndItsTorquesBalance(int i, int j)
    {
        ICurrents first = Body(i), second = Body(j);
        var there = Loads.Between(first, second);
        var back = Loads.Between(second, first);
        var size = there.Force.Length;
        Assert.True((there.Force + back.Force).Length < 1e-6 * size, $"{there.Force} against {back.Force}");
        // About one point: the torques about the centres and those of the forces there.
        var turn = there.Torque + back.Torque + Vector.Cross(second.Centre - first.Centre, there.Force);
        Assert.True(turn.Length < 1e-6 * (there.Torque.Length + size * 0.01));
    }

    /// <summary>Current sheets against pole sheets: another integral for the same load.</summary>
    [Fact]
    public void Load_OfTwoBars_IsThatOfTheirPoles()
    {
        var other = new BarMagnet(new Vector(0.015, 0.01, 0.01), new Vector(0, 0, 1), new Vector(-0.005, 0, 0));
        MagnetLoad poles = BarMagnet.Load(other, Bar), sheets = Loads.Between(other, Bar);
        Assert.True((poles.Force - sheets.Force).Length < 1e-6 * poles.Force.Length);
        Assert.True((poles.Torque - sheets.Torque).Length < 1e-6 * poles.Torque.Length);
    }

    [Fact]
    public void Load_FarApart_IsThatOfDipoles()
    {
        // The next multipole is smaller by (size/distance)², 1e-4 here; five of it allowed.
        var far = new CylinderMagnet(0.01, 0.008, 1.2, new Vector(0.6, 0.3, 1), new Vector(1, 0, 0.5));
        var exact = Loads.Between(Disc, far);
        var dipoles = Dipole.Force(Disc.Moment, far.Moment, far.Centre - Disc.Centre);
        Assert.True((exact.Force - dipoles).Length < 5e-4 * dipoles.Length);
        var torque = Dipole.Torque(far.Moment, Dipole.FluxDensity(Disc.Moment, far.Centre - Disc.Centre));
        Assert.True((exact.Torque - torque).Length < 5e-4 * torque.Length);
    }
}
