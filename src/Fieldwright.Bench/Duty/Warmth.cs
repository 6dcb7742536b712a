namespace Fieldwright.Bench.Duty;

/// <summary>How warm the bodies of an apparatus get under a given input of heat, as one route follows it. Bodies go by their names; beside a winding, whose name stands for the mean of its wire, stands its <see cref="HotSpot"/>.</summary>
internal abstract class Warmth
{
    /// <summary>Name under which the hottest turn of a winding is read.</summary>
    public static string HotSpot(string winding) => winding + " hot spot";

    /// <summary>Temperature of each body after a time, K.</summary>
    /// <exception cref="Routes.RouteFailedException">It could not be followed.</exception>
    public abstract IReadOnlyDictionary<string, double> After(double time);

    /// <summary>Temperature of each body when everything has settled, K.</summary>
    /// <exception cref="Routes.RouteFailedException">It does not settle: the rising resistance makes heat faster than it can leave.</exception>
    public abstract IReadOnlyDictionary<string, double> Steady();

    /// <summary>Time until a body passes a temperature, s, rising or falling; infinite when it has not after a given time.</summary>
    /// <exception cref="Routes.RouteFailedException">It could not be followed.</exception>
    public abstract double TimeTo(string body, double temperature, double longest);

    /// <summary>Temperature of the hottest turn of a winding after a time, K.</summary>
    public virtual double HotSpotAfter(string winding, double time) => After(time)[HotSpot(winding)];

    /// <summary>Time until the hottest turn of a winding passes a temperature above the hall's, s; infinite when it has not after a given time.</summary>
    public virtual double HotSpotTimeTo(string winding, double temperature, double longest) => TimeTo(HotSpot(winding), temperature, longest);

    /// <summary>What follows when everything is switched off after a time, s: its time starts there.</summary>
    public abstract Warmth OffAfter(double time);

    // Whether a body settles below a temperature; what never settles does not.
    private protected bool SettlesBelow(string body, double temperature)
    {
        try
        {
            return Steady()[body] < temperature;
        }
        catch (Routes.RouteFailedException)
        {
            return false;
        }
    }
}
