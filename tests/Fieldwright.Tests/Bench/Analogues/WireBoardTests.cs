using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Routes;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Analogues;

/// <summary>Wires for the tubes of a computed field: their currents against the flux by other routes.</summary>
public class WireBoardTests
{
    private const string Coil = """
        apparatus: Coil in air
        symmetry: round
        windings:
          coil: {turns: 200, wire: 0.5 mm grade 1, between radii: [20 mm, 26 mm], from z: 0 mm, to z: 30 mm}
        supplies:
          source: {current: 2 A, frequency: 0 Hz, feeds: coil}
        """;

    // Σ F δ over equal tubes is Σ i λ: by the elliptic integrals of the series route, which know nothing of the field's mesh.
    [Fact]
    public void CoilInAir_WiresInParallel_AreTheReluctanceOfTheSeriesRoute()
    {
        var board = WireBoard.Of(Read.Read(Coil), null, new WireBoardOptions(24), TestContext.Current.CancellationToken);
        var series = Assert.Single(board.Checks, c => c.Route == RouteName.Series);
        Assert.Equal(400, board.AmpereTurns, 4.0);
        // The field as fine as it goes: to the bars of both routes. The wires: what 24 tubes and the ones left off cost.
        Assert.Equal(series.Reluctance, board.AmpereTurns / board.FluxOfField, 0.01 * series.Reluctance);
        Assert.Equal(series.Reluctance, board.Reluctance, 0.02 * series.Reluctance);
        Assert.True(board.Wires.Where(w => w.Length is not null).Max(w => w.Length) > 1.2 * board.Options.Span, "Tubes inside the build go round fewer turns, so their wires are longer.");
    }

    [Fact]
    public void CoilInAir_BarPushedIn_MakesTheMeterRise()
    {
        var board = WireBoard.Of(Read.Read(Coil), null, new WireBoardOptions(8), TestContext.Current.CancellationToken);
        Assert.Equal(board.Current, board.Readings[0], 1e-9);
        for (int k = 1; k < board.Readings.Count; k++)
            Assert.True(board.Readings[k] > board.Readings[k - 1]);
        // Each wire shorter by the bar, and joining wires never hinders (Rayleigh): at least that much, and not a tenth more.
        double apart = board.Wires.Where(w => w.Length is not null).Sum(w => w.Current / (1 - board.Options.BarWidth / w.Length!.Value));
        Assert.InRange(board.Readings[^1], apart * (1 - 1e-9), 1.1 * apart);
    }

    private const string Magnet = """
        apparatus: Magnet
        symmetry: round
        materials:
          matter: {remanence: 1.2 T, recoil permeability: 1}
        parts:
          magnet: {shape: disc, radius: 10 mm, thickness: 5 mm, of: matter, magnetised: up}
        """;

    /// <summary>A magnet alone: its shell of current is Bᵣ L/μ₀, and Σ F δ is what that shell drives through the flux that the series route finds in it, which knows nothing of tubes.</summary>
    [Fact]
    public void MagnetAlone_WiresInParallel_AreTheReluctanceOfItsWorkingPoint()
    {
        var board = WireBoard.Of(Read.Read(Magnet), null, new WireBoardOptions(24), TestContext.Current.CancellationToken);
        var series = Assert.Single(board.Checks, c => c.Route == RouteName.Series);
        // A line from face to face bulges inside, so that its way along the remanence is the thickness all the same.
        Assert.Equal(1.2 * 5e-3 / (4e-7 * Math.PI), board.AmpereTurns, 0.01 * board.AmpereTurns);
        Assert.Equal(series.Reluctance, board.AmpereTurns / board.FluxOfField, 0.01 * series.Reluctance + series.Bar);
        Assert.Equal(series.Reluctance, board.Reluctance, 0.03 * series.Reluctance + series.Bar);
        Assert.True(board.Readings[^1] > board.Readings[0]);
    }

    /// <summary>Turned over, a magnet drives the same tubes the other way; beside a fed winding of direct current it shares its tubes and nothing can be set beside them.</summary>
    [Fact]
    public void Magnet_TurnedOverOrBesideAWinding_StillHasItsWires()
    {
        double up = WireBoard.Of(Read.Read(Magnet), null, new WireBoardOptions(6), TestContext.Current.CancellationToken).Reluctance;
        double down = WireBoard.Of(Read.Read(Magnet.Replace("magnetised: up", "magnetised: down", StringComparison.Ordinal)), null, new WireBoardOptions(6), TestContext.Current.CancellationToken).Reluctance;
        Assert.Equal(up, down, 0.005 * up);
        const string Beside = "\nwindings:\n  coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [20 mm, 26 mm], from z: -5 mm, to z: 5 mm}\nsupplies:\n  source: {current: 1 A, frequency: 0 Hz, feeds: coil}\n";
        var both = WireBoard.Of(Read.Read(Magnet + Beside), null, new WireBoardOptions(6), TestContext.Current.CancellationToken);
        Assert.Empty(both.Checks);
        // The line through the magnet and the coil has both behind it.
        Assert.InRange(both.AmpereTurns, 4775 + 50, 4775 * 1.01 + 100);
        Assert.Contains("alternates", Assert.Throws<RouteFailedException>(() => WireBoard.Of(Read.Read(Magnet + Beside.Replace("frequency: 0 Hz", "frequency: 50 Hz", StringComparison.Ordinal)), null, new WireBoardOptions(), TestContext.Current.CancellationToken)).Message);
    }
}
