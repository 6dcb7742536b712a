using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Liquids;

/// <summary>How the current between two electrodes that face one another across a long channel spreads beyond their ends.</summary>
/// <remarks>
/// The channel runs on without limit, its other walls insulate, the liquid is at rest in the mean (motion in an even field only shifts the voltage). The strip is
/// mapped on the half plane and that on a rectangle, so everything is an elliptic integral of modulus k = e^(−πL/w). Derived here; the map is Schwarz and Christoffel's.
/// </remarks>
/// <source key="Smythe1968" at="conformal maps of polygons"/>
public sealed class ElectrodeSpread
{
    private const int PanelNodes = 24;

    // Beyond e^(−12) of the voltage nothing is left to sum.
    private const double Reach = 12 / Math.PI;

    private readonly double modulus2, quarter;

    /// <summary>Sets up the channel.</summary>
    /// <param name="length">Length of the electrodes along the channel, m.</param>
    /// <param name="width">Distance of the electrodes across it, m.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive.</exception>
    public ElectrodeSpread(double length, double width)
    {
        Length = Guard.Positive(length);
        Width = Guard.Positive(width);
        modulus2 = Math.Exp(-2 * Math.PI * length / width);
        quarter = SpecialFunctions.EllipticK(modulus2);
        // K of the complement: ln(4/k) once k² is too small to be told from nothing.
        double other = modulus2 > 1e-16 ? SpecialFunctions.EllipticKFromComplement(modulus2) : Math.Log(4) + Math.PI * length / width;
        Conductance = other / (2 * quarter);
    }

    /// <summary>Length of the electrodes, m.</summary>
    public double Length { get; }

    /// <summary>Distance of the electrodes, m.</summary>
    public double Width { get; }

    /// <summary>Conductance over conductivity × height: K′/2K, near L/w + 2 ln 2/π for electrodes longer than the channel is wide. Relative error below 1e-12.</summary>
    public double Conductance { get; }

    /// <summary>Voltage across the channel at a station over that of the electrodes: 1 between them, falling as e^(−π·distance/w) beyond. It is also the mean current density across the channel there, over that between the electrodes.</summary>
    /// <param name="along">Distance from the middle of the electrodes along the channel, m; either sign.</param>
    /// <returns>Between 0 and 1; error below 1e-10.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The distance is not finite.</exception>
    public double Share(double along)
    {
        double beyond = Math.Abs(Guard.Finite(along)) - 0.5 * Length;
        if (beyond <= 0)
            return 1;
        // F(asin s, k)/K, s = e^(−π·beyond/w).
        double end = Math.Asin(Math.Exp(-Math.PI * beyond / Width)), sum = 0;
        var rule = GaussRule.WithNodes(PanelNodes);
        for (var i = 0; i < PanelNodes; i++)
        {
            var sin = Math.Sin(end * rule.Nodes[i]);
            sum += rule.Weights[i] * end / Math.Sqrt(1 - modulus2 * sin * sin);
        }
        return sum / quarter;
    }

    /// <summary>Mean of a quantity along the channel, weighted with the current that crosses at each station: of the flux density, the one that pressure and back voltage are made of.</summary>
    /// <param name="along">The quantity by distance from the middle of the electrodes, m.</param>
    /// <returns>Its mean, in its own unit, and the share of the current that crosses beyond the electrodes; Gauss sums of 24 points between the electrodes and 24 beyond each end, good for what is smooth there.</returns>
    /// <exception cref="ArgumentNullException">There is no quantity.</exception>
    public (double Mean, double Beyond) MeanOf(Func<double, double> along)
    {
        ArgumentNullException.ThrowIfNull(along);
        var rule = GaussRule.WithNodes(PanelNodes);
        double total = 0, between = 0, weight = 0;
        for (var i = 0; i < PanelNodes; i++)
        {
            between += rule.Weights[i] * Length * along((rule.Nodes[i] - 0.5) * Length);
            // Beyond the ends the share falls as a root at first: distance = reach·u².
            double u = rule.Nodes[i], away = 0.5 * Length + Reach * Width * u * u, w = rule.Weights[i] * 2 * u * Reach * Width * Share(away);
            total += w * (along(away) + along(-away));
            weight += 2 * w;
        }
        return ((between + total) / (Length + weight), weight / (Length + weight));
    }
}
