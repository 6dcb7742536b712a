using Fieldwright.Series.Jets;
using Xunit;

namespace Fieldwright.Validation.BallInAFlow;

/// <summary>Drag of a ball in a stream against points of the standard drag curve; see source.md.</summary>
public class BallInAFlow
{
    /// <summary>The bar of the route is a tenth, and so is what is asked here.</summary>
    [Theory]
    [InlineData(1, 27.1)]
    [InlineData(10, 4.26)]
    [InlineData(100, 1.09)]
    [InlineData(1000, 0.47)]
    [InlineData(20000, 0.45)]
    public void BallInAFlow_Drag_KeepsToTheStandardCurve(double reynolds, double published) =>
        Assert.Equal(published, CarriedBall.DragCoefficient(reynolds), 0.1 * published);

    /// <summary>A pea, 8 mm and 0.3 g, falls through still water at its least flow over the mouth: weight without buoyancy against drag.</summary>
    [Fact]
    public void PeaInAWideJet_LeastFlow_BalancesWeightAndDrag()
    {
        double radius = 0.004, mass = 0.3e-3, bore = 0.02;
        var ball = new CarriedBall(1e-3, bore, radius, mass);
        double speed = ball.LeastFlow.Value / (0.25 * Math.PI * bore * bore);
        double drag = 0.5 * 998 * speed * speed * Math.PI * radius * radius * CarriedBall.DragCoefficient(2 * radius * speed * 998 / 1.003e-3);
        Assert.Equal(mass * 9.80665, drag, 1e-6 * drag);
    }
}
