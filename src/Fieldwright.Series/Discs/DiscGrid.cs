using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Discs;

/// <summary>Points of a disc at which the field is taken: planes through its thickness, radii, and places round.</summary>
internal sealed class DiscGrid
{
    /// <param name="body">The disc.</param>
    /// <param name="size">How finely its currents are described.</param>
    public DiscGrid(DiscBody body, DiscOverCoils.Size size)
    {
        GaussRule across = GaussRule.WithNodes(size.Radii), deep = GaussRule.WithNodes(size.Depths + 1);
        var width = body.OuterRadius - body.InnerRadius;
        Radii = Array.ConvertAll(across.Nodes, x => body.InnerRadius + width * x);
        Heights = Array.ConvertAll(deep.Nodes, u => body.Thickness * (u - 0.5));
        Profiles = new double[Heights.Length, size.Depths];
        Weights = new double[Heights.Length * Radii.Length];
        var profile = new double[size.Depths];
        for (var p = 0; p < Heights.Length; p++)
        {
            DepthCoupling.Profiles(deep.Nodes[p], profile);
            for (var q = 0; q < profile.Length; q++)
                Profiles[p, q] = profile[q];
            for (var i = 0; i < Radii.Length; i++)
                Weights[p * Radii.Length + i] = deep.Weights[p] * 2 * Math.PI * width * across.Weights[i] * Radii[i];
        }
    }

    /// <summary>Radii, m.</summary>
    public double[] Radii { get; }

    /// <summary>Heights of the planes above the middle, m.</summary>
    public double[] Heights { get; }

    /// <summary>Polynomial q through the thickness at plane p: [p, q].</summary>
    public double[,] Profiles { get; }

    /// <summary>Area that a plane and radius stands for, all round, m²: plane after plane.</summary>
    public double[] Weights { get; }

    /// <summary>Planes times radii.</summary>
    public int Count => Weights.Length;
}
