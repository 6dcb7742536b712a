using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Xunit;

namespace Fieldwright.Tests.Bench.Routes;

public class RouteSessionTests
{
    private static readonly Apparatus Magnets = File.Bench.Read(
        """
        apparatus: Two magnets
        symmetry: round
        parts:
          low: {shape: disc, radius: 10 mm, thickness: 5 mm, of: {remanence: 1 T}, magnetised: up}
          high: {shape: disc, radius: 10 mm, thickness: 5 mm, at: {z: 20 mm}, of: {remanence: 1 T}, magnetised: up}
        """);

    [Fact]
    public void At_OnePartThenAnother_SolvesForBothTheSecondTime()
    {
        var route = new Counting();
        var session = new RouteSession(route, 0.01, TestContext.Current.CancellationToken);
        var here = Circumstances.Of(Magnets, null, []);
        session.At(here, Wanted.Forces, "low");
        session.At(here, Wanted.Forces, "LOW");
        Assert.Equal(["low"], Assert.Single(route.Asked)!);
        session.At(here, Wanted.Forces, "high");
        session.At(here, Wanted.Forces, "low");
        Assert.Equal(2, route.Asked.Count);
        Assert.Equal(["high", "low"], route.Asked[1]!.Order());
        session.At(here, Wanted.Forces);
        session.At(here, Wanted.Forces, "low");
        Assert.Equal(3, route.Asked.Count);
        Assert.Null(route.Asked[2]);
    }

    [Fact]
    public void At_NoPartMatters_AsksAboutThoseExpectedOnly()
    {
        var route = new Counting();
        var session = new RouteSession(route, 0.01, TestContext.Current.CancellationToken) { Also = Wanted.Forces, AlsoAbout = new HashSet<string> { "low" } };
        session.At(Circumstances.Of(Magnets, null, []), Wanted.Impedance);
        Assert.Equal(["low"], Assert.Single(route.Asked)!);
    }

    [Fact]
    public void Loosely_WhatIsKnownBetter_IsNotSolvedAgainAndTheFinerSessionStaysFine()
    {
        var route = new Counting();
        var session = new RouteSession(route, 0.01, TestContext.Current.CancellationToken);
        var here = Circumstances.Of(Magnets, null, []);
        session.At(here, Wanted.Forces, "low");
        var loose = session.Loosely(0.05);
        loose.At(here, Wanted.Forces, "low");
        Assert.Single(route.Asked);
        loose.At(here, Wanted.Heat, "low");
        session.At(here, Wanted.Heat, "low");
        Assert.Equal([0.01, 0.05, 0.01], route.Targets);
    }

    [Fact]
    public void Solve_OfTheField_HoldsForcesOfThePartsAskedAboutOnly()
    {
        IRoute route = new FieldRoute();
        var point = route.Solve(Magnets, Wanted.Forces, new HashSet<string> { "low" }, 0.05, TestContext.Current.CancellationToken);
        Assert.Equal(["low"], point.ForceUp.Keys);
        Assert.True(point.ForceUp["low"].Value > 1);
    }

    [Fact]
    public void Solve_SteadyCurrents_NeedsNoField()
    {
        var apparatus = File.Bench.Read(
            """
            apparatus: Coil on a battery
            symmetry: round
            windings:
              coil: {turns: 300, wire: 0.5 mm grade 1, between radii: [6 mm, 12 mm], from z: 0 mm, to z: 18 mm}
            supplies:
              cell: {battery: 6 V, internal resistance: 1 ohm, feeds: coil}
            """);
        var point = new FieldRoute().Solve(apparatus, Wanted.Impedance, 0.01, TestContext.Current.CancellationToken);
        Assert.Null(point.Inductance);
        Assert.Equal(6, point.Currents["coil"].Real * (1 + point.Impedance![0, 0].Real), 1e-9);
    }

    /// <summary>A ball too heavy for a coil it fits through comes to rest nowhere in the file.</summary>
    [Fact]
    public void Rest_NothingUnderAPartThatDoesNotLift_SaysThatItFalls()
    {
        var apparatus = File.Bench.Read(
            """
            apparatus: Ball over a wide coil
            symmetry: round
            parts:
              ball: {shape: ball, radius: 20 mm, of: copper, moves: up and down}
            windings:
              coil: {turns: 500, wire: 1 mm grade 2, between radii: [25 mm, 45 mm], from z: -40 mm, to z: -2 mm}
            supplies:
              box: {current: 1 A, frequency: 50 Hz, feeds: coil}
            """);
        var session = new RouteSession(new BallRoute(), 0.01, TestContext.Current.CancellationToken);
        var thrown = Assert.Throws<RouteFailedException>(() => session.Rest(Circumstances.Of(apparatus, null, []), apparatus.Parts[0]));
        Assert.Contains("falls", thrown.Message);
    }

    // Notes what it is asked; finds nothing.
    private sealed class Counting : IRoute
    {
        public List<IReadOnlySet<string>?> Asked { get; } = [];

        public List<double> Targets { get; } = [];

        public RouteName Name => RouteName.Field;

        public Wanted Serves(Apparatus apparatus) => Wanted.Forces | Wanted.Heat | Wanted.Impedance;

        public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation) => Solve(apparatus, wanted, null, relativeTarget, cancellation);

        public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, IReadOnlySet<string>? about, double relativeTarget, CancellationToken cancellation)
        {
            Asked.Add(about);
            Targets.Add(relativeTarget);
            return new OperatingPoint { Currents = new Dictionary<string, System.Numerics.Complex>() };
        }
    }
}
