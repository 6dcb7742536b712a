using Fieldwright.Numerics;
using Fieldwright.Series;
using Fieldwright.Series.Liquids;
using Xunit;

namespace Fieldwright.Tests.Series.Liquids;

public class LiquidTests
{
    [Fact]
    public void Hartmann_EveryRow_AgreesWithTheTable()
    {
        foreach (var row in SeriesReference.Rows("hartmann.csv"))
        {
            var ha = SeriesReference.Number(row[0]);
            Assert.Equal(SeriesReference.Number(row[1]), HartmannFlow.Mean(ha), 6e-9);
            Assert.Equal(SeriesReference.Number(row[2]), HartmannFlow.Profile(ha, 0), 6e-9);
        }
    }

    [Theory]
    [InlineData(1e-5)]
    [InlineData(0.03)]
    [InlineData(0.3)]
    [InlineData(7)]
    [InlineData(60)]
    public void Hartmann_ProfileSummed_IsTheMean(double ha) =>
        Assert.Equal(HartmannFlow.Mean(ha), Quadrature.Integrate(y => HartmannFlow.Profile(ha, y), 0, 1, 80), 1e-12);

    [Theory]
    [InlineData(0.3)]
    [InlineData(5)]
    public void Hartmann_Profile_BalancesPressureDragAndField(double ha)
    {
        // u″ − Ha² u + Ha² ū + … : with no net current J = σB(ū − u), so 1 + u″ + Ha²(ū − u) = 0 in units of Ga²/μ.
        const double h = 1e-3;
        foreach (var y in new[] { 0.0, 0.4, 0.9 })
        {
            double U(double at) => HartmannFlow.Profile(ha, at);
            var second = (U(y + h) - 2 * U(y) + U(y - h)) / (h * h);
            Assert.Equal(0, 1 + second + ha * ha * (HartmannFlow.Mean(ha) - U(y)), 1e-4);
        }
    }

    [Fact]
    public void Hartmann_NumberOfGalinstan_IsPlain() => // 0.1 T, half gap 5 mm, 3.3 MS/m, 2.2 mPa·s
        Assert.Equal(0.1 * 0.005 * Math.Sqrt(3.3e6 / 2.2e-3), HartmannFlow.Number(0.1, 0.005, 3.3e6, 2.2e-3), 1e-12);

    [Fact]
    public void Laminar_SquareAndSlot_AgreeWithShahAndLondon()
    {
        // Their table of f·Re (Fanning's, a quarter of Darcy's), from memory, five decimals.
        foreach (var (aspect, fanning) in new[] { (1, 14.22708), (0.5, 15.54806), (0.25, 18.23278), (0.125, 20.58464) })
            Assert.Equal(4 * fanning, DuctFriction.LaminarConstant(aspect), 4 * 1e-5);
        Assert.Equal(96, DuctFriction.LaminarConstant(1e-6), 1e-3);
        SeriesReference.Close(DuctFriction.LaminarConstant(0.3), DuctFriction.LaminarConstant(1 / 0.3), 1e-12);
    }

    [Fact]
    public void Turbulent_SmoothPipe_IsNearBlasius()
    {
        foreach (var re in new[] { 5e3, 2e4, 8e4 })
            SeriesReference.Close(0.3164 / Math.Pow(re, 0.25), DuctFriction.Pipe(re).Factor, 0.03); // Blasius 1913, said to hold within some per cent to Re = 1e5
        // Prandtl and von Kármán, smooth: 1/√f = 2 log₁₀(Re√f) − 0.8
        var f = DuctFriction.Pipe(1e6).Factor;
        Assert.Equal(2 * Math.Log10(1e6 * Math.Sqrt(f)) - 0.8, 1 / Math.Sqrt(f), 0.01);
    }

    [Fact]
    public void Turbulent_RoughPipe_IsNikuradses()
    {
        // Fully rough: 1/√f = −2 log₁₀(ε/3.7D).
        var f = DuctFriction.Pipe(1e9, 0.01).Factor;
        Assert.Equal(-2 * Math.Log10(0.01 / 3.7), 1 / Math.Sqrt(f), 1e-4);
    }

    [Theory]
    [InlineData(1000, FlowRegime.Laminar)]
    [InlineData(3000, FlowRegime.Unsettled)]
    [InlineData(1e5, FlowRegime.Turbulent)]
    public void Regime_ByReynolds_IsSaid(double reynolds, FlowRegime regime) => Assert.Equal(regime, DuctFriction.Pipe(reynolds).Regime);

    [Fact]
    public void PressureLoss_Laminar_IsPoiseuillesForASlot()
    {
        // Wide slot: Δp = 12 μ v L/h².
        const double h = 0.001, mu = 2e-3, v = 0.05, length = 0.3;
        var loss = DuctFriction.PressureLoss(-v, 1, h, length, 6400, mu);
        SeriesReference.Close(-12 * mu * v * length / (h * h), loss, 2e-3); // aspect 1/1000
        SeriesReference.Close(12 * mu * v * length / (h * h), HartmannFlow.PressureLoss(v, length, h / 2, mu, 0), 1e-12);
    }

    [Fact]
    public void ConductionPump_Energy_Balances()
    {
        foreach (var bypass in new[] { double.PositiveInfinity, 2e-4 })
        {
            var pump = new ConductionPump(0.02, 0.01, 0.05, 3.3e6, 0.4, bypass);
            var (pressure, voltage, loss) = pump.At(300, 0.5);
            Assert.Equal(voltage * 300, loss + pressure * 0.5 * 0.02 * 0.01, 1e-12 * voltage * 300);
        }
        var still = new ConductionPump(0.02, 0.01, 0.05, 3.3e6, 0.4).At(300, 0);
        Assert.Equal(0.4 * 300 / 0.01, still.Pressure, 1e-9); // BI/h
    }

    [Fact]
    public void Pump_Head_OfMercuryColumn_IsAnAtmosphere() =>
        Assert.Equal(0.760, LiquidPump.Head(LiquidPump.Pressure(101325e-4, 0.01, 0.01), 13595.1), 1e-5);

    [Fact]
    public void WorkingSpeed_ParabolaAgainstLine_IsTheRoot()
    {
        // 1000 − 500 v = 100 + 200 v² → v = (−500 + √(250000 + 720000))/400
        var v = LiquidPump.WorkingSpeed(x => 1000 - 500 * x, x => 100 + 200 * x * x, 2);
        Assert.Equal((Math.Sqrt(970000) - 500) / 400, v, 1e-10);
        Assert.Equal(0, LiquidPump.WorkingSpeed(_ => 50, _ => 100, 2));
        Assert.Throws<NotConvergedException>(() => LiquidPump.WorkingSpeed(_ => 1000, _ => 100, 2));
    }
}
