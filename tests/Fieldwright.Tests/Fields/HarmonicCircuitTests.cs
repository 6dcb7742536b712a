using System.Numerics;
using Fieldwright.Fields;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Windings, conductors and power in harmonic fields, on a wire inside two ring windings.</summary>
public class HarmonicCircuitTests
{
    private static readonly Complex J = Complex.ImaginaryOne;

    [Theory]
    [InlineData(Symmetry.Round)]
    [InlineData(Symmetry.Long)]
    public void VoltageDrive_PowerIn_EqualsLossesAndSatisfiesItsCircuit(Symmetry symmetry)
    {
        var field = Solved.Harmonic(Model(symmetry, new ImposedVoltage(new(3, 1), new(2e-4, -1e-4)), new OpenCircuit()), Space(symmetry));
        var current = field.Current("first");
        // E = (R + Z)·I + jωλ, to the rounding of the solver
        Close(new Complex(3, 1), (new Complex(2e-4, -1e-4) * current) + field.Voltage("first"), 1e-10);
        Close(0, field.Current("second"), 0);
        var power = 0.5 * (field.Voltage("first") * Complex.Conjugate(current)).Real;
        // Galerkin fields keep the power balance exactly
        Assert.InRange((field.SolidLoss + field.WindingLoss("first")) / power, 1 - 1e-9, 1 + 1e-9);
        Assert.True(field.SolidLoss > 0.01 * power);
        // reactive power is 2ω times the mean magnetic energy: ½Im(U·I*) = 2ωW
        var reactive = 0.5 * (field.Voltage("first") * Complex.Conjugate(current)).Imaginary;
        Assert.InRange(2 * field.Model.AngularFrequency * field.Energy / reactive, 1 - 1e-9, 1 + 1e-9);
    }

    [Theory]
    [InlineData(Symmetry.Round)]
    [InlineData(Symmetry.Long)]
    public void Impedances_AreReciprocalAndPredictAnyDrive(Symmetry symmetry)
    {
        var space = Space(symmetry);
        var field = Solved.Harmonic(Model(symmetry, new ImposedCurrent(1), new OpenCircuit()), space);
        var z = field.ImpedanceMatrix();
        Close(z[0, 1], z[1, 0], 1e-9);
        Complex i1 = new(2, -1), i2 = new(0.5, 3);
        var other = field.WithCurrents([i1, i2]);
        Close((z[0, 0] * i1) + (z[0, 1] * i2), other.Voltage("first"), 1e-9);
        Close((z[1, 0] * i1) + (z[1, 1] * i2), other.Voltage("second"), 1e-9);
        // the same fields by solving anew with both currents imposed
        var anew = Solved.Harmonic(Model(symmetry, new ImposedCurrent(i1), new ImposedCurrent(i2)), space);
        Assert.Equal(anew.SolidLoss, other.SolidLoss, 1e-9 * anew.SolidLoss);
    }

    [Fact]
    public void LongConductor_LeftAlone_CarriesNoNetCurrent()
    {
        var field = Solved.Harmonic(Model(Symmetry.Long, new ImposedCurrent(5), new OpenCircuit()), Space(Symmetry.Long));
        Assert.True(Complex.Abs(field.NetCurrent(1)) < 1e-9);
        Assert.True(field.Loss(1) > 0);
    }

    [Fact]
    public void LongConductor_DrivenByAVoltage_AgreesWithTheSameCurrentImposed()
    {
        var space = PolarMesh.Build(Symmetry.Long, [.. PolarMesh.Steps(0, 1, 6), 1.5, 1.7, 2], 32, (ring, _) => ring < 6 ? 1 : ring == 7 ? 2 : 0, depth: 2);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long,
            Depth = 2,
            Frequency = 0.05,
            Parts = PolarMesh.Outlines(1, 2),
            Matter = Solved.Matter((1, new RegionMatter("wire", 1e7)), (2, new RegionMatter("tube", 1e7))),
            Conductors = [new("wire", [1], new ImposedCurrent(10)), new("tube", [2], new ImposedCurrent(-10))],
        };
        var imposed = Solved.Harmonic(model, space);
        Close(10, imposed.NetCurrent(1), 1e-9);
        Complex series = new(1e-7, 2e-7);
        var source = imposed.ConductorVoltage(1) + (series * 10);
        var driven = Solved.Harmonic(model with { Conductors = [model.Conductors[0] with { Drive = new ImposedVoltage(source, series) }, model.Conductors[1]] }, space);
        Close(10, driven.NetCurrent(1), 1e-8);
    }

    [Fact]
    public void LongModel_WithANetCurrent_IsRefused()
    {
        var model = Model(Symmetry.Long, new ImposedCurrent(5), new OpenCircuit());
        var oneWay = model with { Windings = [FieldWinding.InOneRegion("first", 2, 1, new ImposedCurrent(5)), model.Windings[1]] };
        var refusal = Assert.Throws<NetCurrentException>(() => Solved.Harmonic(oneWay, Space(Symmetry.Long)));
        Assert.Equal(5, refusal.NetCurrent, 1e-6);
    }

    private static FieldModel Model(Symmetry symmetry, WindingDrive first, WindingDrive second) => new()
    {
        Symmetry = symmetry,
        Frequency = 0.1,
        Parts = PolarMesh.Outlines(1, 2, 3, 4, 5),
        Matter = Solved.Matter((1, new RegionMatter("core", 1e7))),
        Windings =
        [
            symmetry == Symmetry.Round ? FieldWinding.InOneRegion("first", 2, 40, first, 1e-4) : new FieldWinding("first", [new(2, 40), new(3, -40)], first, 1e-4),
            symmetry == Symmetry.Round ? FieldWinding.InOneRegion("second", 4, 25, second, 1e-4) : new FieldWinding("second", [new(4, 25), new(5, -25)], second, 1e-4),
        ],
    };

    /// <summary>A core of radius 1; the second ring and the fourth hold windings in opposite quarters (long) or in the lower and upper half (round).</summary>
    private static Fieldwright.Fields.Elements.FieldSpace Space(Symmetry symmetry) => PolarMesh.Build(
        symmetry, [.. PolarMesh.Steps(0, 1, 5), 1.2, 1.4, 1.6, 1.8], 24, (ring, sector) => ring switch
        {
            < 5 => 1,
            6 when sector is >= 0 and < 6 => 2,
            6 when sector is >= 12 and < 18 => 3,
            7 when sector is >= 4 and < 10 => 4,
            7 when sector is >= 16 and < 22 => 5,
            _ => 0,
        });

    private static void Close(Complex expected, Complex found, double relative) =>
        Assert.True(Complex.Abs(expected - found) <= Math.Max(1e-12, relative * Complex.Abs(expected)), $"expected {expected}, found {found}");
}
