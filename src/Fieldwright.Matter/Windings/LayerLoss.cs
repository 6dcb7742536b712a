using Fieldwright.Numerics;

namespace Fieldwright.Matter.Windings;

/// <summary>How much the resistance of a layered winding of round wire rises on alternating current, by Dowell's one-dimensional field.</summary>
/// <remarks>
/// Each layer is taken as a sheet of the same copper, ξ = (π/4)^¾ (d/δ) √(d/pitch), in a field that runs along the layers and rises from nothing at one side: right for a coil that fills a window of
/// steel, an overstatement for an open coil, whose field spreads (common practice: within 20 % for close layers up to ξ ≈ 3). Litz of N strands counts as √N layers of strands for each layer.
/// </remarks>
/// <source key="Dowell1966"/>
public static class LayerLoss
{
    /// <summary>Alternating over direct resistance of a winding.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="frequency">Hz; not negative.</param>
    /// <param name="temperature">Temperature, K.</param>
    public static double Factor(WindingAnalysis winding, double frequency, double temperature)
    {
        ArgumentNullException.ThrowIfNull(winding);
        var wire = winding.Conductor;
        if (Guard.NotNegative(frequency) == 0)
            return 1;
        double skin = Math.Sqrt(wire.Metal.ResistivityAt(temperature) / (Math.PI * frequency * PhysicalConstants.MagneticConstant));
        double xi = Math.Pow(Math.PI / 4, 0.75) * wire.BareDiameter / skin * Math.Sqrt(wire.BareDiameter / wire.OverallDiameter);
        return Factor(xi, winding.Layers * Math.Sqrt(wire.Strands));
    }

    /// <summary>Dowell's factor of m layers: ξ [M(ξ) + ⅔ (m² − 1) D(ξ)].</summary>
    /// <param name="xi">Thickness of the sheet over skin depth; not negative.</param>
    /// <param name="layers">m; 1 or more.</param>
    public static double Factor(double xi, double layers)
    {
        Guard.NotNegative(xi);
        Guard.InRange(layers, 1, 1e9);
        // Below, the series of both functions: what is left out is of the eighth order.
        if (xi < 0.05)
            return 1 + (5 * layers * layers - 1) / 45 * Math.Pow(xi, 4);
        if (xi > 300)
            return xi * (1 + 2.0 / 3 * (layers * layers - 1));
        double skin = (Math.Sinh(2 * xi) + Math.Sin(2 * xi)) / (Math.Cosh(2 * xi) - Math.Cos(2 * xi));
        double neighbours = (Math.Sinh(xi) - Math.Sin(xi)) / (Math.Cosh(xi) + Math.Cos(xi));
        return xi * (skin + 2.0 / 3 * (layers * layers - 1) * neighbours);
    }
}
