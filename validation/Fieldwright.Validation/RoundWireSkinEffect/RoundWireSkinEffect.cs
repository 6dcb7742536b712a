using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Validation.RoundWireSkinEffect;

/// <summary>Resistance and internal inductance of a round wire against frequency, by the planar field route with an imposed total current; see source.md.</summary>
public class RoundWireSkinEffect
{
    private const double Radius = 1e-3, Sigma = 5.8e7, Current = 10;

    public static TheoryData<double, double, double> Rows()
    {
        var table = PublishedTable.Read("skin-round-wire.csv");
        var data = new TheoryData<double, double, double>();
        for (var i = 0; i < table.Count; i++) data.Add(table.Number(i, "x"), table.Number(i, "R_over_Rdc"), table.Number(i, "Li_over_Lidc"));
        return data;
    }

    /// <summary>The wire's return is a thin tube of evenly spread current, concentric, so that the field within the wire is that of the isolated wire.
    /// The table is exact to its digits (1e-8): the tolerance is our own bar and the rounding.</summary>
    [Trait(Bars.Trait, "yes")]
    [Theory]
    [MemberData(nameof(Rows))]
    public void RoundWire_ResistanceAndInnerInductance_AgreeWithTheBesselForm(double x, double resistance, double inductance)
    {
        var omega = Math.Pow(x / Radius, 2) / (PhysicalConstants.MagneticConstant * Sigma);
        Point centre = new(0, 0);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long,
            Frequency = omega / (2 * Math.PI),
            Parts = [Outline.Circle(3, centre, 2.2 * Radius), Outline.Circle(2, centre, 2 * Radius), Outline.Circle(1, centre, Radius)],
            Matter = new Dictionary<int, RegionMatter> { [1] = new("wire", Sigma) },
            Windings = [FieldWinding.InOneRegion("return", 3, -1, new ImposedCurrent(Current))],
            Conductors = [new("wire", [1], new ImposedCurrent(Current))],
        };
        var result = AdaptiveField.Solve(model, [new LossGoal("loss", [1])], new(1e-4), cancellation: TestContext.Current.CancellationToken);
        Assert.True(result.DemandMet);
        var loss = result.Answers[0];
        var direct = 0.5 * Current * Current / (Sigma * Math.PI * Radius * Radius);
        Bars.Reach("round wire, loss", loss.Value / direct, loss.ErrorBar / direct, resistance, 1e-8);
        // voltage along the wire: R + jω(Li + Le), with Le of the coaxial gap and of the tube's own flux taken off by the tube's mean potential
        var field = (HarmonicField)result.Field;
        var reactance = (field.ConductorVoltage(1) / Current).Imaginary;
        var surface = field.VectorPotential(Radius, 0) / Current;
        var inner = (reactance - (omega * surface.Real)) / omega;
        var innerDirect = PhysicalConstants.MagneticConstant / (8 * Math.PI);
        // the potential at one point is an order less good than the loss: one part in a thousand
        Assert.InRange(inner / innerDirect, inductance - 1e-3, inductance + 1e-3);
    }
}
