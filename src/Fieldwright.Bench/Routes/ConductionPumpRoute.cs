using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Series;
using Fieldwright.Series.Liquids;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route for a direct-current pump: the exact field of magnets in the channel, weighted with the current that crosses it.</summary>
internal sealed class ConductionPumpRoute : IRoute
{
    /// <summary>What a reader must know about a channel.</summary>
    internal const string Remark = "The liquid moves as one piece; the current's own field and the currents that motion stirs at the ends of the field are left out.";

    // The current beyond the electrodes crosses on bent ways; what an uneven field does along them is not followed (common practice, no source).
    private const double BentShare = 0.1;

    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => apparatus.Layout == Layout.Free && apparatus.Frequency == 0 && apparatus.Windings.Count == 0
        && apparatus.Parts.Count(p => p.Shape is PumpChannelShape) == 1 && apparatus.Parts.Count(p => p.Shape is IronPlaneShape) <= 1
        && apparatus.Parts.All(p => p.Shape is PumpChannelShape or ProbeShape or IronPlaneShape || p.Magnetised is not null) ? Wanted.Forces | Wanted.Heat | Wanted.Curve : Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var part = apparatus.Parts.First(p => p.Shape is PumpChannelShape);
        var channel = (PumpChannelShape)part.Shape;
        var field = Across(apparatus, part, channel);
        var pump = Pump(apparatus, part, field.Value);
        var (pressure, _, loss) = pump.At(channel.Carries, 0);
        double thrust = pressure * channel.Width * channel.Thickness;
        var (x, _, _) = FreeSpace.Axes(part.Attitude);
        bool magnets = apparatus.Parts.Any(p => p.Magnetised is not null && p.Material.RelativePermeability > 1);
        return new OperatingPoint
        {
            Currents = new Dictionary<string, Complex>(),
            Heat = Dictionary(part, new Estimate(loss, 1e-6 * loss)),
            FieldAcross = new(Dictionary(part, field)),
            Loads = Dictionary(part, new SpaceLoad(thrust * x, default, Math.Abs(thrust) * field.RelativeBar, 0)),
            Remark = magnets ? Remark + " " + FreeBodiesRoute.MagnetRemark : Remark,
        };
    }

    /// <summary>The channel as a pump at a flux density, T.</summary>
    /// <exception cref="RouteFailedException">The liquid does not conduct.</exception>
    internal static ConductionPump Pump(Apparatus apparatus, Part part, double fluxDensity)
    {
        var channel = (PumpChannelShape)part.Shape;
        double conductivity = part.Material.ConductivityAt(apparatus.Ambient);
        if (!(conductivity > 0))
            throw new RouteFailedException($"'{part.Material.Name}' does not conduct.");
        return new ConductionPump(channel.Width, channel.Thickness, channel.Length, conductivity, fluxDensity, channel.WallResistance ?? double.PositiveInfinity, Spreads: true);
    }

    // Mean over the section at every station, then along the channel with the current that crosses there.
    private static Estimate Across(Apparatus apparatus, Part part, PumpChannelShape channel)
    {
        var spread = new ElectrodeSpread(channel.Length, channel.Width);
        var (x, y, z) = FreeSpace.Axes(part.Attitude);
        var centre = FreeSpace.Centre(part);
        (double Mean, double Beyond) With(string? unbent, int more)
        {
            var bodies = new FreeBodies(apparatus, null, unbent: unbent);
            var rule = Numerics.Quadrature.GaussLegendre(4 + more);
            return spread.MeanOf(along =>
            {
                double sum = 0;
                for (int i = 0; i < rule.Count; i++)
                    for (int j = 0; j < rule.Count; j++)
                        sum += 0.25 * rule.Weights[i] * rule.Weights[j] * Vector.Dot(z, bodies.Field(centre + along * x + 0.5 * channel.Width * rule.Nodes[i] * y + 0.5 * channel.Thickness * rule.Nodes[j] * z));
                return sum;
            });
        }

        var (mean, beyond) = With(null, 0);
        double bar = Math.Abs(With(null, 2).Mean - mean) + BentShare * beyond * Math.Abs(mean);
        // Half of what each magnet's recoil does.
        foreach (var magnet in apparatus.Parts.Where(p => p.Magnetised is not null && p.Material.RelativePermeability > 1))
            bar += 0.5 * Math.Abs(With(magnet.Name, 0).Mean - mean);
        return new Estimate(mean, bar);
    }

    private static Dictionary<string, T> Dictionary<T>(Part part, T value) => new(StringComparer.OrdinalIgnoreCase) { [part.Name] = value };
}
