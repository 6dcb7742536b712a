using System.Text.RegularExpressions;
using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Magnets;
using Xunit;
using static Fieldwright.Tests.Series.SeriesReference;

namespace Fieldwright.Tests.Series.Magnets;

public class MagnetTests
{
    private static void Near(Vector expected, Vector actual, double tolerance) =>
        Assert.True((expected - actual).Length <= tolerance, $"expected {expected}, found {actual}, {(expected - actual).Length:E2} apart against {tolerance:E2}");

    private static CylinderMagnet Disc(string text, double lowerFace)
    {
        var numbers = Regex.Match(text, @"R([\d.]+) h([\d.]+) J([\d.]+)").Groups;
        var height = 1e-3 * Number(numbers[2].Value);
        return new CylinderMagnet(1e-3 * Number(numbers[1].Value), height, Number(numbers[3].Value), new Vector(0, 0, lowerFace + 0.5 * height));
    }

    [Fact]
    public void CylinderLoad_CoaxialCases_AgreeWithThePublishedDoubleIntegral()
    {
        // Forces go as J²/μ₀; the table was computed with μ₀ = 4π·10⁻⁷ and is printed with six decimals.
        var scale = PhysicalConstants.MagneticConstant / Permeability;
        var seen = 0;
        foreach (var row in Rows("magnets-coaxial-force.csv"))
        {
            double gap = Number(row[1]), attraction = Number(row[2]), found;
            if (row[0].Contains("iron plane", StringComparison.Ordinal))
                found = -Disc(row[0], gap).LoadFromIronPlane().Force.Z;
            else if (row[0].Contains(" over ", StringComparison.Ordinal))
            {
                var (upper, lower) = (row[0].Split(" over ")[0], row[0].Split(" over ")[1]);
                var low = Disc(lower, 0);
                found = -CylinderMagnet.Load(low, Disc(upper, low.Length + gap)).Force.Z;
            }
            else
            {
                var low = Disc(row[0], 0);
                found = -CylinderMagnet.Load(low, Disc(row[0], low.Length + gap)).Force.Z;
            }
            Assert.Equal(attraction, scale * found, 6e-7);
            seen++;
        }
        Assert.Equal(17, seen);
    }

    [Fact]
    public void CylinderLoad_SlightlyOffAxis_ApproachesTheCoaxialForceQuadratically()
    {
        var low = new CylinderMagnet(0.01, 0.01, 1.2);
        Vector Force(double x) => CylinderMagnet.Load(low, new CylinderMagnet(0.01, 0.008, 1.1, new Vector(x, 0, 0.014))).Force;
        var coaxial = Force(0).Z;
        var (d1, d2) = (Force(2e-4).Z - coaxial, Force(4e-4).Z - coaxial);
        Assert.Equal(4, d2 / d1, 0.02);
        Assert.True(Math.Abs(d1) < 1e-2 * Math.Abs(coaxial));
    }

    [Fact]
    public void CylinderLoad_OffsetAndTilted_ObeysActionAndReactionAndBalancesTorques()
    {
        var first = new CylinderMagnet(0.01, 0.01, 1.2, new Vector(0.002, 0, 0), new Vector(0.1, 0.2, 1));
        var second = new CylinderMagnet(0.008, 0.012, -0.9, new Vector(0.009, -0.004, 0.025), new Vector(-0.4, 0.3, 1), 0.003);
        var (there, back) = (CylinderMagnet.Load(first, second), CylinderMagnet.Load(second, first));
        Near(there.Force, -back.Force, 1e-8 * there.Force.Length);
        // No net torque on the pair: T₁ + T₂ + (c₂ − c₁)×F₂ = 0.
        Near(default, there.Torque + back.Torque + Vector.Cross(second.Centre - first.Centre, there.Force), 1e-8 * there.Torque.Length);
    }

    [Fact]
    public void CylinderLoad_OffsetForce_IsTheSlopeOfTheEnergy()
    {
        // W(s) from the force along z brought in from afar must have the sideways force as its slope: curl F = 0.
        var low = new CylinderMagnet(0.01, 0.01, 1.2);
        Vector Force(double x, double z) => CylinderMagnet.Load(low, new CylinderMagnet(0.01, 0.008, 1.1, new Vector(x, 0, z))).Force;
        const double h = 1e-4;
        var dFxdz = (8 * (Force(0.004, 0.014 + h).X - Force(0.004, 0.014 - h).X) - (Force(0.004, 0.014 + 2 * h).X - Force(0.004, 0.014 - 2 * h).X)) / (12 * h);
        var dFzdx = (8 * (Force(0.004 + h, 0.014).Z - Force(0.004 - h, 0.014).Z) - (Force(0.004 + 2 * h, 0.014).Z - Force(0.004 - 2 * h, 0.014).Z)) / (12 * h);
        Close(dFzdx, dFxdz, 1e-5);
    }

    [Fact]
    public void CylinderLoad_FarAway_TendsToDipoles()
    {
        var first = new CylinderMagnet(0.01, 0.01, 1.2);
        foreach (var scale in new[] { 0.2, 0.4 })
        {
            var second = new CylinderMagnet(0.01, 0.01, 1.2, scale * new Vector(0.6, 0, 0.8), new Vector(1, 1, 0));
            var load = CylinderMagnet.Load(first, second);
            var dipole = Dipole.Force(first.Moment, second.Moment, second.Centre);
            var torque = Dipole.Torque(second.Moment, Dipole.FluxDensity(first.Moment, second.Centre));
            // The next multipole is (size/distance)² = 0.0025 at 0.2 m, times a factor of some units; a quarter of that at twice the distance.
            var share = 0.0025 * 4 * (0.04 / (scale * scale));
            Near(dipole, load.Force, share * dipole.Length);
            Near(torque, load.Torque, share * torque.Length);
        }
    }

    [Fact]
    public void CylinderField_IsThatOfAThinCoil()
    {
        // A coil of 1 μm build with the sheet's ampere-turns.
        var magnet = new CylinderMagnet(0.01, 0.02, 1.2);
        var coil = new ThickCoil(0.01 - 5e-7, 0.01 + 5e-7, -0.01, 0.01, 1);
        var current = 1.2 / PhysicalConstants.MagneticConstant * 0.02;
        foreach (var point in new[] { new Vector(0.003, 0.002, 0.004), new Vector(0.015, 0, 0.012), new Vector(0, 0, 0.03) })
            Near(coil.FluxDensity(point, current), magnet.FluxDensity(point), 1e-6);
        // On the axis: (J/2)(z₊/√(z₊²+R²) − z₋/√(z₋²+R²)).
        Close(0.6 * (0.04 / Math.Sqrt(0.0016 + 1e-4) - 0.02 / Math.Sqrt(4e-4 + 1e-4)), magnet.FluxDensity(new Vector(0, 0, 0.03)).Z, 1e-12);
    }

    [Fact]
    public void RingMagnet_IsTheDiscLessItsCore()
    {
        var low = new CylinderMagnet(0.012, 0.004, 0.4);
        CylinderMagnet Upper(double radius, double bore) => new(radius, 0.006, 1.1, new Vector(0.001, 0, 0.012), null, bore);
        var ring = CylinderMagnet.Load(low, Upper(0.01, 0.004)).Force;
        Near(CylinderMagnet.Load(low, Upper(0.01, 0)).Force - CylinderMagnet.Load(low, Upper(0.004, 0)).Force, ring, 1e-8 * ring.Length);
    }

    [Fact]
    public void BarField_OnItsAxisAndFarAway_IsTheTextbookForm()
    {
        var bar = new BarMagnet(new Vector(0.02, 0.03, 0.01), new Vector(0, 0, 1.2));
        double Face(double z) => Math.Atan(0.02 * 0.03 / (2 * z * Math.Sqrt(4 * z * z + 0.02 * 0.02 + 0.03 * 0.03)));
        Close(1.2 / Math.PI * (Face(0.015) - Face(0.025)), bar.FluxDensity(new Vector(0, 0, 0.02)).Z, 1e-12);
        var point = new Vector(0.6, -0.5, 0.7);
        // Next multipole (0.03/1.05)²·3/4 at most.
        var dipole = Dipole.FluxDensity(bar.Moment, point);
        Near(dipole, bar.FluxDensity(point), 1e-3 * dipole.Length);
    }

    [Fact]
    public void BarField_TurnedAndPolarisedAnyhow_IsTheSameInItsOwnAxes()
    {
        var plain = new BarMagnet(new Vector(0.02, 0.03, 0.01), new Vector(0.3, -0.7, 1.2));
        // Own x along +y, own z along +x: own y = z×x = x̂×ŷ = ẑ.
        var turned = new BarMagnet(new Vector(0.02, 0.03, 0.01), new Vector(0.3, -0.7, 1.2), new Vector(1, 2, 3), new Vector(0, 1, 0), new Vector(1, 0, 0));
        foreach (var p in new[] { new Vector(0.015, 0.02, 0.03), new Vector(0.004, -0.003, 0.002), new Vector(-0.02, 0.0151, 0.001) })
        {
            var b = plain.FluxDensity(p);
            Near(new Vector(b.Z, b.X, b.Y), turned.FluxDensity(new Vector(1 + p.Z, 2 + p.X, 3 + p.Y)), 1e-12);
        }
        // Divergence-free across a face: the normal component of B is continuous.
        Assert.Equal(plain.FluxDensity(new Vector(0.002, 0.003, 0.005 - 1e-9)).Z, plain.FluxDensity(new Vector(0.002, 0.003, 0.005 + 1e-9)).Z, 1e-6);
        Assert.Equal(plain.FluxDensity(new Vector(0.01 - 1e-9, 0.003, 0.001)).X, plain.FluxDensity(new Vector(0.01 + 1e-9, 0.003, 0.001)).X, 1e-6);
    }

    [Fact]
    public void BarForce_ClosedForm_AgreesWithTheSumOverPoleFaces()
    {
        var first = new BarMagnet(new Vector(0.02, 0.012, 0.006), new Vector(0, 0, 0.38));
        foreach (var centre in new[] { new Vector(0, 0, 0.012), new Vector(0.004, -0.006, 0.015), new Vector(0.03, 0.01, 0.002) })
        {
            var second = new BarMagnet(new Vector(0.012, 0.02, 0.006), new Vector(0, 0, 0.4), centre);
            var closed = BarMagnet.ParallelForce(first, second);
            Near(BarMagnet.Load(first, second).Force, closed, 1e-8 * closed.Length);
        }
    }

    [Fact]
    public void BarLoad_TurnedBars_ObeyActionAndReactionAndBalanceTorques()
    {
        var first = new BarMagnet(new Vector(0.02, 0.012, 0.006), new Vector(0.1, 0, 1.2), default, new Vector(1, 0, 0), new Vector(0, 0.6, 0.8));
        var second = new BarMagnet(new Vector(0.01, 0.01, 0.03), new Vector(0, 0.2, 1), new Vector(0.02, 0.015, 0.03), new Vector(0, 1, 0), new Vector(1, 0, 1));
        var (there, back) = (BarMagnet.Load(first, second), BarMagnet.Load(second, first));
        Near(there.Force, -back.Force, 1e-8 * there.Force.Length);
        Near(default, there.Torque + back.Torque + Vector.Cross(second.Centre - first.Centre, there.Force), 1e-7 * there.Torque.Length);
    }

    [Fact]
    public void BarLoad_FarAway_TendsToDipoles()
    {
        var first = new BarMagnet(new Vector(0.01, 0.01, 0.01), new Vector(0, 0, 1.2));
        var second = new BarMagnet(new Vector(0.01, 0.01, 0.01), new Vector(0.5, 0, 1), new Vector(0.2, 0.1, 0.15));
        var load = BarMagnet.Load(first, second);
        var dipole = Dipole.Force(first.Moment, second.Moment, second.Centre);
        // A cube has no next multipole but one: (a/d)⁴ = 2e-6 and the faces' error.
        Near(dipole, load.Force, 1e-5 * dipole.Length);
    }

    [Fact]
    public void BarOnIronPlane_PullsLikeItsPairAtTwiceTheGap()
    {
        var size = new Vector(0.02, 0.012, 0.006);
        const double gap = 0.004;
        var pull = new BarMagnet(size, new Vector(0, 0, 1.1), new Vector(0, 0, gap + 0.003)).LoadFromIronPlane().Force;
        var pair = BarMagnet.ParallelForce(new BarMagnet(size, new Vector(0, 0, 1.1)), new BarMagnet(size, new Vector(0, 0, 1.1), new Vector(0, 0, 0.006 + 2 * gap)));
        Near(pair, pull, 1e-8 * pair.Length);
        // Lying on its side it is pulled too, whatever its attitude: an image in iron always attracts.
        var lying = new BarMagnet(size, new Vector(1.1, 0, 0), new Vector(0, 0, gap + 0.003)).LoadFromIronPlane().Force;
        Assert.True(lying.Z < 0);
        // A polarisation along the bar's y must go like one along x of a bar turned a quarter round.
        var turned = new BarMagnet(new Vector(0.012, 0.02, 0.006), new Vector(0, 1.1, 0), new Vector(0, 0, gap + 0.003)).LoadFromIronPlane().Force;
        Near(lying, turned, 1e-9 * lying.Length);
    }

    [Fact]
    public void TubeDrag_ThinTube_AgreesWithTheWorkedDipole()
    {
        // m = 1 A·m², a = 10 mm, w = 1 mm, 58 MS/m: 0.402495 N·s/m with μ₀ = 4π·10⁻⁷, six digits.
        Close(0.402495, TubeDrag.OfDipole(1, 0.01, 0.001, 58e6), 2e-6);
        // A magnet small against the tube, in a thin wall, is that dipole: errors (wall/a)², (size/a)².
        var magnet = new CylinderMagnet(0.0005, 0.0008, 1);
        var moment = magnet.Moment.Z;
        Close(TubeDrag.OfDipole(moment, 0.01, 2e-5, 58e6), TubeDrag.OfMagnet(magnet, 0.00999, 0.01001, 58e6), 0.01);
    }

    [Fact]
    public void TubeDrag_TubeCutInTwo_AddsUp()
    {
        var magnet = new CylinderMagnet(0.005, 0.01, 1.2);
        var whole = TubeDrag.OfMagnet(magnet, 0.006, 0.008, 5.8e7);
        var thin = TubeDrag.OfMagnet(magnet, 0.006, 0.007, 5.8e7) + TubeDrag.OfMagnet(magnet, 0.007, 0.008, 5.8e7);
        Close(whole, thin, 1e-8);
        Close(0.5 * whole, TubeDrag.OfMagnet(magnet, 0.006, 0.008, 5.8e7, behind: 0), 1e-8);
    }

    [Fact]
    public void Magnets_ShapesThatAreNone_AreRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new CylinderMagnet(0.01, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new CylinderMagnet(0.01, 0.01, 1, default, null, 0.01));
        Assert.Throws<ArgumentException>(() => new CylinderMagnet(0.01, 0.01, 1, default, new Vector(0, 0, 0)));
        Assert.Throws<ArgumentException>(() => new CylinderMagnet(0.01, 0.01, 1).LoadFromIronPlane());
        Assert.Throws<ArgumentException>(() => new BarMagnet(new Vector(1, 1, 1), new Vector(0, 0, 1), default, new Vector(1, 0, 0), new Vector(1, 0, 1)));
        Assert.Throws<ArgumentException>(() => Dipole.FluxDensity(Vector.AlongZ, default));
    }
}
