using Fieldwright.Matter;
using Fieldwright.Numerics;
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

    /// <summary>The second way, with nothing in common: poles on the end faces of both magnets, pair by pair by Coulomb's law, where the library sums a closed-form field along current sheets.</summary>
    [Fact]
    public void Load_OfMagnetsAskew_IsThatOfTheirPolesPairByPair()
    {
        var disc = new CylinderMagnet(0.01, 0.008, 1.2);
        var rod = new CylinderMagnet(0.006, 0.012, -0.9, new Vector(0.007, 0.003, 0.019), new Vector(0.3, 0.2, 1));
        var ring = new CylinderMagnet(0.01, 0.006, 1.1, new Vector(-0.004, 0.012, -0.02), new Vector(0.5, 0, 1), 0.004);
        var block = new BarMagnet(new Vector(0.016, 0.012, 0.006), new Vector(0, 0, 1), new Vector(0.029, 0.002, 0.012));
        (ICurrents Body, Vector Centre, List<(Vector At, double Pole)> Poles)[] all = [
            (disc, disc.Centre, Faces(disc)), (rod, rod.Centre, Faces(rod)), (ring, ring.Centre, Faces(ring)), (block, block.Centre, Faces(block))];
        for (var i = 0; i < all.Length; i++)
            for (var j = 0; j < all.Length; j++)
            {
                if (i == j)
                    continue;
                Vector force = default, torque = default;
                foreach (var (from, p) in all[i].Poles)
                    foreach (var (to, q) in all[j].Poles)
                    {
                        var arm = to - from;
                        var part = p * q / (4 * Math.PI * PhysicalConstants.MagneticConstant * arm.Length * arm.Length * arm.Length) * arm;
                        force += part;
                        torque += Vector.Cross(to - all[j].Centre, part);
                    }
                var load = Loads.Between(all[i].Body, all[j].Body, 1e-8);
                // Gauss of eight rings and twenty places round, or twelve by twelve, some millimetres apart: six digits.
                Assert.True((load.Force - force).Length < 2e-5 * force.Length, FormattableString.Invariant($"{i} on {j}: {(load.Force - force).Length / force.Length}"));
                Assert.True((load.Torque - torque).Length < 2e-5 * Math.Max(torque.Length, 1e-3 * force.Length), FormattableString.Invariant($"torque of {i} on {j}: {(load.Torque - torque).Length}"));
            }
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

    // Poles of a weber on the ends: rings of Gauss in the square of the radius.
    private static List<(Vector, double)> Faces(CylinderMagnet magnet)
    {
        var rule = Quadrature.GaussLegendre(8);
        const int round = 20;
        var across = Vector.Cross(magnet.Axis, new Vector(0.6, -0.8, 0.1));
        var first = 1 / across.Length * across;
        var second = Vector.Cross(magnet.Axis, first);
        var poles = new List<(Vector, double)>();
        for (var end = -1; end <= 1; end += 2)
            for (var i = 0; i < rule.Count; i++)
                for (var k = 0; k < round; k++)
                {
                    double inner = magnet.BoreRadius * magnet.BoreRadius, outer = magnet.Radius * magnet.Radius, r = Math.Sqrt(inner + 0.5 * (1 + rule.Nodes[i]) * (outer - inner)), angle = 2 * Math.PI * k / round;
                    poles.Add((magnet.Centre + 0.5 * end * magnet.Length * magnet.Axis + r * Math.Cos(angle) * first + r * Math.Sin(angle) * second,
                        end * magnet.Polarisation * 0.5 * rule.Weights[i] * Math.PI * (outer - inner) / round));
                }
        return poles;
    }

    private static List<(Vector, double)> Faces(BarMagnet block)
    {
        var rule = Quadrature.GaussLegendre(12);
        var poles = new List<(Vector, double)>();
        for (var end = -1; end <= 1; end += 2)
            for (var i = 0; i < rule.Count; i++)
                for (var j = 0; j < rule.Count; j++)
                    poles.Add((block.Centre + 0.5 * new Vector(block.Size.X * rule.Nodes[i], block.Size.Y * rule.Nodes[j], end * block.Size.Z),
                        end * block.Polarisation.Z * 0.25 * rule.Weights[i] * rule.Weights[j] * block.Size.X * block.Size.Y));
        return poles;
    }
}
