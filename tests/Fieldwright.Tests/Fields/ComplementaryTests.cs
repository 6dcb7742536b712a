using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Fields.ErrorEstimates;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Bounds from two complementary solutions must hold the truth on every mesh and close at order four where the field is smooth.</summary>
public class ComplementaryTests
{
    private static readonly BhCurve Steel = BhCurve.Create("test steel",
        [50, 100, 200, 400, 1000, 4000, 10000, 40000], [0.2, 0.6, 1.0, 1.3, 1.5, 1.7, 1.85, 2.1]);

    [Theory]
    [InlineData(12)]
    [InlineData(24)]
    [InlineData(48)]
    public void Cable_Coenergy_LiesBetweenTheBounds(int sectors)
    {
        var bracket = Complementary.Coenergy(Solved.Static(ScalarPotentialTests.Cable(sectors)), TestContext.Current.CancellationToken);
        var exact = ScalarPotentialTests.CableCoenergy();
        Assert.True(bracket.Holds(exact), $"{bracket} {exact}");
        // order four: (Δr)⁴ of fields that change over their radius
        Assert.InRange(bracket.HalfWidth / exact, 0, 200 * Math.Pow(1.0 / sectors, 4) * 10);
    }

    [Theory]
    [InlineData(Symmetry.Round, 3)]
    [InlineData(Symmetry.Long, 2)]
    public void MagnetisedBody_Energy_LiesBetweenBoundsThatCloseAtOrderFour(Symmetry symmetry, int share)
    {
        const double remanence = 1.2;
        var exact = (symmetry == Symmetry.Round ? 4.0 / 3 : 1) * Math.PI * remanence * remanence / (2 * share * PhysicalConstants.MagneticConstant);
        Bracket At(int sectors) => Complementary.Energy(Solved.Static(ScalarPotentialTests.Magnet(symmetry, remanence, sectors)), TestContext.Current.CancellationToken);
        var (coarse, fine) = (At(16), At(32));
        Assert.True(coarse.Holds(exact) && fine.Holds(exact), $"{coarse} {fine} {exact}");
        Assert.InRange(Solved.Rate(coarse.HalfWidth, fine.HalfWidth), 3.5, 4.6);
    }

    /// <summary>Self and mutual inductances of thick coils by elliptic integrals, from the series room: no line of code in common.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void CoilPair_Inductances_LieBetweenTheBounds(double fineness)
    {
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Outline.Rectangle(1, 0.02, 0, 0.03, 0.02), Outline.Rectangle(2, 0.025, 0.03, 0.045, 0.035)],
            Matter = new Dictionary<int, RegionMatter>(),
            Windings = [FieldWinding.InOneRegion("lower", 1, 300, new ImposedCurrent(1)), FieldWinding.InOneRegion("upper", 2, -200, new ImposedCurrent(0))],
        };
        var field = Solved.Static(MeshedModel.Create(model, fineness, TestContext.Current.CancellationToken));
        var l = Complementary.Inductances(field, TestContext.Current.CancellationToken);
        ThickCoil lower = new(0.02, 0.03, 0, 0.02, 300), upper = new(0.025, 0.045, 0.03, 0.035, -200);
        Assert.True(l[0, 0].Holds(lower.SelfInductance()), $"{l[0, 0]} {lower.SelfInductance()}");
        Assert.True(l[1, 1].Holds(upper.SelfInductance()), $"{l[1, 1]} {upper.SelfInductance()}");
        Assert.True(l[0, 1].Holds(ThickCoil.MutualInductance(lower, upper)), $"{l[0, 1]} {ThickCoil.MutualInductance(lower, upper)}");
        Assert.InRange(l[0, 0].HalfWidth / l[0, 0].Middle, 0, fineness > 1 ? 1e-3 : 2e-2);
        // the energy of one coil alone is ½LI²
        var energy = Complementary.Energy(field, TestContext.Current.CancellationToken);
        Assert.Equal(0.5 * l[0, 0].Middle, energy.Middle, energy.HalfWidth);
    }

    [Theory]
    [InlineData(100)]
    [InlineData(3000)]
    [InlineData(30000)]
    public void SteelTube_CoenergyLinkageAndEnergy_LieBetweenTheBounds(double current)
    {
        var field = Solved.Static(Tube(current));
        var inner = Complementary.Of(field, TestContext.Current.CancellationToken);
        var coenergy = inner.Coenergy;
        // the curve that is used: both ends without what the table leaves open
        var tight = new Bracket(field.Coenergy - inner.Geometry, field.Coenergy + inner.Mesh + inner.Geometry);
        var exact = TubeIntegral(current, Steel.CoenergyDensity, h => 0.5 * PhysicalConstants.MagneticConstant * h * h);
        Assert.True(coenergy.Holds(exact) && tight.Holds(exact), $"{coenergy} {tight} {exact}");
        Assert.InRange(tight.HalfWidth / exact, 0, 2e-3);
        var linkage = TubeIntegral(current, h => h * Steel.FluxDensity(h), h => PhysicalConstants.MagneticConstant * h * h) / current;
        var lambda = Complementary.FluxLinkage(field, "cable", TestContext.Current.CancellationToken);
        Assert.True(lambda.Holds(linkage), $"{lambda} {linkage}");
        var energy = Complementary.Energy(field, TestContext.Current.CancellationToken);
        Assert.True(energy.Holds((linkage * current) - exact), $"{energy} {(linkage * current) - exact}");
    }

    /// <summary>The energy of a magnetised cylinder goes with its area, of which parabolas over arcs of θ leave out θ⁴/480: the slack must hold that and be of its size.</summary>
    [Theory]
    [InlineData(16)]
    [InlineData(24)]
    public void Geometry_OfArcsDrawnAsParabolas_IsWorthTheAreaTheyLeaveOut(int sectors)
    {
        var field = Solved.Static(ScalarPotentialTests.Magnet(Symmetry.Long, 1.2, sectors));
        var left = Math.Pow(Math.PI / sectors, 4) / 480 * field.Energy;
        Assert.InRange(Complementary.Of(field, TestContext.Current.CancellationToken).Geometry / left, 1, 4);
    }

    /// <summary>w + w' − B·H of a coil beside a magnet, over the triangles, is the distance of the two solutions: only if B and H run the same way.</summary>
    [Fact]
    public void Shares_OfCoilAndMagnet_AddUpToTheDistanceOfTheBounds()
    {
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Outline.Rectangle(1, 0.02, 0, 0.03, 0.02), Outline.Rectangle(2, 0, 0.025, 0.01, 0.035)],
            Matter = Solved.Matter((2, new RegionMatter("magnet", 0, 1.05) { Remanence = new(0, 1.1) })),
            Windings = [FieldWinding.InOneRegion("coil", 1, 500, new ImposedCurrent(20))],
        };
        var field = Solved.Static(MeshedModel.Create(model, 2, TestContext.Current.CancellationToken));
        var bounds = Complementary.Of(field, TestContext.Current.CancellationToken);
        var inside = bounds.Shares.Take(field.Meshed.Space.InsideCount).Sum();
        Assert.InRange(inside / bounds.Mesh, 0.9, 1 + 1e-6);
        // linear matter: ∂W'/∂I from W' at no and at twice the current
        var linkage = Complementary.FluxLinkage(field, "coil", TestContext.Current.CancellationToken);
        Assert.True(linkage.Holds(field.FluxLinkage("coil")), $"{linkage} {field.FluxLinkage("coil")}");
        // all currents together are this one
        var linked = Complementary.EnergyAndLinked(field, TestContext.Current.CancellationToken).Linked;
        Assert.Equal(20 * linkage.Lower, linked.Lower, 1e-9 * Math.Abs(linked.Lower));
        Assert.Equal(20 * linkage.Upper, linked.Upper, 1e-9 * Math.Abs(linked.Upper));
    }

    /// <summary>Another smooth curve through the same table, from which every second point is then taken away: the bounds of the coarse table must hold it.</summary>
    [Fact]
    public void Enclosure_OfACoarseTable_HoldsTheCurveItWasTakenFrom()
    {
        // Fröhlich's curve: H = B/(μ(1 − B/J)), bending one way
        static double H(double b) => 60 * b / (1 - (b / 2.2));
        double[] b = [0.25, 0.6, 0.9, 1.2, 1.5, 1.7, 1.85];
        var curve = BhCurve.Create("coarse", [.. b.Select(H)], b);
        var enclosure = BhEnclosure.Of(curve);
        double above = 0, below = 0;
        for (var x = 0.002; x < 1.7; x += 0.002)
        {
            var (low, high) = enclosure.FieldStrength(x);
            Assert.InRange(H(x), low * (1 - 1e-12), high * (1 + 1e-12));
            Assert.InRange(curve.FieldStrength(x), low * (1 - 1e-3), high * (1 + 1e-3));
            above = Math.Max(above, enclosure.EnergyAbove(x));
            below = Math.Max(below, enclosure.CoenergyAbove(H(x)));
        }
        Assert.True(above > 0 && below > 0);
    }

    private static double TubeIntegral(double current, Func<double, double> steel, Func<double, double> air)
    {
        // H of a disc of 0.2, a steel tube from 0.4 to 0.7, a return shell from 0.8 to 0.9
        const int steps = 20000;
        var sum = 0.0;
        foreach (var (from, to, inSteel) in new[] { (0.0, 0.2, false), (0.2, 0.4, false), (0.4, 0.7, true), (0.7, 0.8, false), (0.8, 0.9, false) })
            for (var k = 0; k < steps; k++)
            {
                var r = from + ((to - from) * (k + 0.5) / steps);
                var enclosed = r < 0.2 ? r * r / 0.04 : r < 0.8 ? 1 : 1 - (((r * r) - 0.64) / 0.17);
                var h = current * enclosed / (2 * Math.PI * r);
                sum += 2 * Math.PI * r * (to - from) / steps * (inSteel ? steel(h) : air(h));
            }
        return sum;
    }

    private static MeshedModel Tube(double current)
    {
        double[] radii = [.. PolarMesh.Steps(0, 0.2, 3), .. PolarMesh.Steps(0.2, 0.4, 3), .. PolarMesh.Steps(0.4, 0.7, 6), 0.8, 0.9, 1.1];
        var space = PolarMesh.Build(Symmetry.Long, radii, 32, (ring, _) => ring switch { < 3 => 1, < 6 => 0, < 12 => 2, 13 => 3, _ => 0 });
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long,
            Parts = PolarMesh.Outlines(1, 2, 3),
            Matter = Solved.Matter((2, new RegionMatter("steel") { Curve = Steel })),
            Windings = [new FieldWinding("cable", [new(1, 1), new(3, -1)], new ImposedCurrent(new Complex(current, 0)))],
        };
        return MeshedModel.On(model, space);
    }
}
