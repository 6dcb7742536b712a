using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits.Conduction;

namespace Fieldwright.Bench.Routes;

/// <summary>The circuit route for a direct-current pump at rest: the channel as a net of resistances. It knows no field, so only heat and voltage are asked of it.</summary>
internal sealed class ChannelNetRoute : IRoute
{
    private const string Remark = "The channel as a net of resistances; the bar is what a finer net changes.";

    /// <inheritdoc/>
    public RouteName Name => RouteName.Circuit;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => apparatus.Layout == Layout.Free && apparatus.Frequency == 0 && apparatus.Windings.Count == 0
        && apparatus.Parts.Count(p => p.Shape is PumpChannelShape) == 1 ? Wanted.Heat : Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var part = apparatus.Parts.First(p => p.Shape is PumpChannelShape);
        var channel = (PumpChannelShape)part.Shape;
        double conductivity = part.Material.ConductivityAt(apparatus.Ambient);
        if (!(conductivity > 0))
            throw new RouteFailedException($"'{part.Material.Name}' does not conduct.");
        var (value, bar) = ChannelNet.Conductance(channel.Length, channel.Width);
        // Walls lie beside the liquid.
        double liquid = conductivity * channel.Thickness * value, whole = liquid + (channel.WallResistance is { } wall ? 1 / wall : 0);
        double heat = channel.Carries * channel.Carries / whole;
        return new OperatingPoint
        {
            Currents = new Dictionary<string, Complex>(),
            Heat = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase) { [part.Name] = new(heat, heat * liquid / whole * bar / value) },
            Remark = Remark,
        };
    }
}
