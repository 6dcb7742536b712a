using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Supplies;

namespace Fieldwright.Bench;

/// <summary>One quantity moment by moment: the current of a winding from switching on, or the height, the way aside, the spin or the temperature of a body that is let go.</summary>
/// <param name="Name">What it is: <c>current in inner</c>.</param>
/// <param name="Unit">The unit people read it in.</param>
/// <param name="From">What the time is counted from, in words.</param>
/// <param name="Times">Times, s, rising from 0.</param>
/// <param name="Values">The quantity at each, SI.</param>
/// <param name="Marked">Index of the moment worth a ring.</param>
/// <param name="Bar">Half-width there, SI.</param>
/// <param name="Says">What the ring is, and what must be known about the course.</param>
public sealed record Course(string Name, string Unit, string From, IReadOnlyList<double> Times, IReadOnlyList<double> Values, int Marked, double Bar, string Says)
{
    private const int Points = 400;

    private static readonly (string Name, string Unit, Func<BodyCourse, double, double> Of)[] Flown =
    [
        ("height of", "mm", (c, t) => c.Height(t)), ("sideways drift of", "mm", (c, t) => c.Sideways(t)), ("spin of", "rpm", (c, t) => c.Spin(t)), ("temperature of", "°C", (c, t) => c.Temperature(t)),
    ];

    /// <summary>The courses that an apparatus has, by name.</summary>
    public static IReadOnlyList<string> Of(Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return [.. CurrentCourse.Windings(apparatus).Select(w => "current in " + w), .. Flights.Suits(apparatus) ? Flown.Select(f => f.Name + " " + Flights.Body(apparatus).Name) : []];
    }

    /// <summary>Follows one of them.</summary>
    /// <param name="apparatus">The apparatus, every setting applied.</param>
    /// <param name="name">One of its names.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">It cannot be followed.</exception>
    public static Course Follow(Apparatus apparatus, string name, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(name);
        if (Flights.Suits(apparatus) && Array.Find(Flown, f => Apparatus.Same(f.Name + " " + Flights.Body(apparatus).Name, name)) is { Name: not null } flown)
            return OfBody(Flights.Of(apparatus, Flights.Longest, cancellation), name, flown.Unit, flown.Of);
        const string Current = "current in ";
        return name.StartsWith(Current, StringComparison.OrdinalIgnoreCase) ? OfCurrent(CurrentCourse.Of(apparatus, name[Current.Length..], cancellation), name)
            : throw new ArgumentException($"There is no course '{name}'.", nameof(name));
    }

    private static Course OfCurrent(CurrentCourse c, string name)
    {
        double peak = c.Currents[c.Peak], bar = Math.Abs(peak) * c.RelativeBar;
        var shown = Shown.In(Math.Abs(peak) < 1 ? "mA" : "A");
        var time = Shown.In(c.Times[^1] < 2 ? "ms" : "s");
        return new Course(name, shown.Unit, "switching on", c.Times, c.Currents, c.Peak, bar,
            $"The ring is the highest current, {shown.ValueAndBar(Math.Abs(peak), bar)} after {time.Rounded(c.Times[c.Peak], 3)}; instantaneous values, with the inductances of the {Judge.Word(c.Route)} route. {c.Remark}");
    }

    // The last moment is the one worth a ring: there it is gone, or down.
    private static Course OfBody(Flights flights, string name, string unit, Func<BodyCourse, double, double> of)
    {
        double end = flights.Course.Time;
        double[] times = [.. Enumerable.Range(0, Points + 1).Select(i => end * i / Points)];
        Estimate last;
        try
        {
            last = flights.Of(c => of(c, c.Time));
        }
        catch (RouteFailedException e)
        {
            return Made(new Estimate(of(flights.Course, end), 0), e.Message);
        }

        return Made(last, "");

        Course Made(Estimate at, string more) => new(name, unit, "letting go", times, [.. times.Select(t => of(flights.Course, t))], Points, at.Bar, $"The ring is the end, {Shown.In(unit).ValueAndBar(at.Value, at.Bar)}. {flights.Ending} {more} {Flights.Said}".Replace("  ", " ", StringComparison.Ordinal));
    }
}
