using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Matter.Heat;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Foil;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route for a foil loop: the shape it takes under its weight, its stiffness, its own field and that of magnets beside it.</summary>
internal sealed class FoilRoute : IRoute
{
    private const int Links = 48;

    private const string Remark = "The leads beyond the supports are left out, and the foil is cold.";

    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => apparatus.Layout == Layout.Free && apparatus.Frequency == 0
        && apparatus.Parts.Count(p => p.Shape is FoilLoopShape) == 1 && apparatus.Parts.All(p => p.Shape is FoilLoopShape or ProbeShape || p.Magnetised is not null)
        && apparatus.Windings.Count == 0 ? Wanted.Foil | Wanted.Forces | Wanted.Heat : Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var part = apparatus.Parts.First(p => p.Shape is FoilLoopShape);
        var shape = (FoilLoopShape)part.Shape;
        var heat = Dictionary(part, new Estimate(shape.Carries * shape.Carries * Resistance(part, apparatus), 0));
        if ((wanted & (Wanted.Foil | Wanted.Forces)) == Wanted.None)
            return new OperatingPoint { Currents = new Dictionary<string, Complex>(), Heat = heat };
        try
        {
            FoilShape fine = Settled(apparatus, part, shape, Links, cancellation), rough = Settled(apparatus, part, shape, Links / 2, cancellation);
            // The error falls as the square of the links; a third of the change is what is left, and all of it is the bar.
            Estimate Of(Func<FoilShape, double> value) => new(value(fine) + (value(fine) - value(rough)) / 3, Math.Abs(value(fine) - value(rough)));
            var (x, _, _) = FreeSpace.Axes(new Attitude(0, 0, part.Attitude.Turned));
            Vector force = fine.OutsideForce.X * x + new Vector(0, 0, fine.OutsideForce.Z), before = rough.OutsideForce.X * x + new Vector(0, 0, rough.OutsideForce.Z);
            return new OperatingPoint
            {
                Currents = new Dictionary<string, Complex>(),
                Heat = heat,
                Foil = Dictionary(part, new FoilState(Of(f => f.MiddleTension), Of(f => f.OwnPush), Of(f => f.Opening), Of(f => f.Depth), Of(f => f.Sideways))),
                FoilLoads = Dictionary(part, new SpaceLoad(force, default, (force - before).Length, 0)),
                Remark = Remark,
            };
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message + " The foil may jump there.", e);
        }
    }

    /// <summary>Resistance of the strip at the temperature of the hall, ohm.</summary>
    internal static double Resistance(Part part, Apparatus apparatus)
    {
        var f = (FoilLoopShape)part.Shape;
        if (!(part.Material.Conductivity > 0))
            throw new RouteFailedException($"'{part.Material.Name}' does not conduct.");
        return part.Material.ResistivityAt(apparatus.Ambient) * f.Length / (f.Width * f.Thickness);
    }

    /// <summary>Temperature of a foil after a time without cooling, K.</summary>
    internal static double TemperatureAfter(Part part, Apparatus apparatus, double time)
    {
        var f = (FoilLoopShape)part.Shape;
        try
        {
            return AdiabaticRise.TemperatureAfter(part.Material, Math.Abs(f.Carries) / (f.Width * f.Thickness), time, apparatus.Ambient);
        }
        catch (ArgumentException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>Time until the foil reaches a temperature without cooling, s.</summary>
    internal static double TimeTo(Part part, Apparatus apparatus, double temperature)
    {
        var f = (FoilLoopShape)part.Shape;
        try
        {
            return AdiabaticRise.TimeTo(part.Material, Math.Abs(f.Carries) / (f.Width * f.Thickness), apparatus.Ambient, temperature);
        }
        catch (ArgumentException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>Time until the foil reaches its melting point without cooling, s.</summary>
    internal static double TimeToMelt(Part part, Apparatus apparatus)
    {
        if (part.Shape is not FoilLoopShape foil || part.Material.MeltingPoint is not { } melts)
            throw new RouteFailedException($"'{part.Name}' is no foil loop, or the melting point of {part.Material.Name} is not known.");
        return foil.Carries == 0 ? throw new RouteFailedException($"'{part.Name}' carries no current.") : TimeTo(part, apparatus, melts);
    }

    /// <summary>The field around a foil loop in its shape, and of the magnets beside it; the leads beyond the supports are left out.</summary>
    /// <exception cref="NotConvergedException">The foil finds no rest.</exception>
    internal static Surroundings Around(Apparatus apparatus, CancellationToken cancellation)
    {
        var part = apparatus.Parts.First(p => p.Shape is FoilLoopShape);
        var shape = (FoilLoopShape)part.Shape;
        var (x, _, _) = FreeSpace.Axes(new Attitude(0, 0, part.Attitude.Turned));
        var middle = new Vector(part.Place.X, part.Place.Y, part.Place.Z);
        IReadOnlyList<Vector> corners = [.. Settled(apparatus, part, shape, Links, cancellation).Points.Select(p => middle + p.X * x + new Vector(0, 0, p.Z))];
        var bodies = new FreeBodies(apparatus, null);
        return new Surroundings(p => ComplexVector.Scaled(1, bodies.Field(p) + shape.Carries * StraightPieces.FluxDensity(corners, p)), new Dictionary<string, Complex>(), corners);
    }

    private static FoilShape Settled(Apparatus apparatus, Part part, FoilLoopShape shape, int links, CancellationToken cancellation)
    {
        var bodies = new FreeBodies(apparatus, null);
        var (x, y, _) = FreeSpace.Axes(new Attitude(0, 0, part.Attitude.Turned));
        var middle = new Vector(part.Place.X, part.Place.Y, part.Place.Z);
        var strip = new FoilStrip(shape.Length, shape.Width, shape.Thickness, shape.Span,
            part.Material.Density ?? throw new RouteFailedException($"The density of {part.Material.Name} is not known."), shape.Elastic);
        double Across(double along, double up)
        {
            cancellation.ThrowIfCancellationRequested();
            double sum = 0;
            // Three Gauss points over the width.
            for (int k = -1; k <= 1; k++)
                sum += (k == 0 ? 8.0 : 5.0) / 18 * Vector.Dot(bodies.Field(middle + along * x + (0.5 * shape.Width * Math.Sqrt(0.6) * k) * y + new Vector(0, 0, up)), y);
            return sum;
        }

        return FoilLoop.Settle(strip, shape.Carries, bodies.All.Count == 0 ? null : Across, links);
    }

    private static Dictionary<string, T> Dictionary<T>(Part part, T value) => new(StringComparer.OrdinalIgnoreCase) { [part.Name] = value };
}
