using Fieldwright.Matter;
using Fieldwright.Numerics.Ordinary;
using Fieldwright.Series;

namespace Fieldwright.Bench.Motion;

/// <summary>Where each quantity of a flying body stands in its state.</summary>
internal static class BodyState
{
    /// <summary>Place of the centre, m; speed, m/s; spin, rad/s; three each.</summary>
    public const int Place = 0, Speed = 3, Spin = 6;

    /// <summary>Attitude, a unit quaternion of four; temperature, K.</summary>
    public const int Attitude = 9, Temperature = 13;

    /// <summary>Work of the field's force, of its torque, and of the air, J; heat induced, heat lost, J; angle turned, rad.</summary>
    public const int FieldWork = 14, SpinWork = 15, AirWork = 16, Heat = 17, Lost = 18, Turned = 19;

    /// <summary>How many.</summary>
    public const int Count = 20;

    /// <summary>Three of them.</summary>
    public static Vector Three(ReadOnlySpan<double> y, int first) => new(y[first], y[first + 1], y[first + 2]);

    /// <summary>A direction that turns with the body.</summary>
    /// <param name="y">The state.</param>
    /// <param name="was">Where it pointed when the body was let go.</param>
    public static Vector Axis(ReadOnlySpan<double> y, Vector was)
    {
        double w = y[Attitude];
        var v = Three(y, Attitude + 1);
        var across = Vector.Cross(v, was);
        return was + 2 / (w * w + Vector.Dot(v, v)) * (w * across + Vector.Cross(v, across));
    }
}

/// <summary>How the way of a body that was let go ended.</summary>
internal enum FlightEnd
{
    /// <summary>It was still in the air.</summary>
    StillThere,

    /// <summary>It strayed sideways by its own radius.</summary>
    RanAway,

    /// <summary>It came down on what lies under it and the field does not carry it there.</summary>
    CameDown,

    /// <summary>It lies on what is under it: the field does not lift it.</summary>
    NeverRose,

    /// <summary>It met a winding from the side.</summary>
    MetAWinding,

    /// <summary>It reached its melting point.</summary>
    Melted,
}

/// <summary>The books of a flight, J.</summary>
/// <param name="Motion">Energy of motion and height gained.</param>
/// <param name="Spin">Energy of spin gained.</param>
/// <param name="ByForce">Work of the field's force.</param>
/// <param name="ByTorque">Work of its torque.</param>
/// <param name="ToAir">Work left in the air.</param>
/// <param name="InLandings">Energy lost in landings.</param>
/// <param name="Induced">Heat induced in it.</param>
/// <param name="Lost">Heat it gave off.</param>
/// <param name="Stored">Heat it holds.</param>
internal readonly record struct FlightBooks(double Motion, double Spin, double ByForce, double ByTorque, double ToAir, double InLandings, double Induced, double Lost, double Stored)
{
    /// <summary>What the mechanical books leave open, J.</summary>
    public double Open => Math.Abs(Motion + Spin + ToAir + InLandings - ByForce - ByTorque);

    /// <summary>What the books of heat leave open, J.</summary>
    public double HeatOpen => Math.Abs(Stored + Lost - Induced);
}

/// <summary>The way of a body that was let go, from then to its end.</summary>
/// <param name="end">How it ended.</param>
/// <param name="ways">Its pieces from landing to landing.</param>
/// <param name="start">Where its centre was let go, m.</param>
/// <param name="body">The body.</param>
/// <param name="landed">Energy lost in landings, J.</param>
internal sealed class BodyCourse(FlightEnd end, IReadOnlyList<FollowedWay> ways, Vector start, FlyingBody body, double landed)
{
    /// <summary>How it ended.</summary>
    public FlightEnd End => end;

    /// <summary>When, s.</summary>
    public double Time => ways[^1].End;

    /// <summary>Steps taken.</summary>
    public int Steps => ways.Sum(w => w.Steps);

    /// <summary>Whether nothing has pushed it sideways worth speaking of, so that it says nothing of how it stays.</summary>
    public bool IsUndisturbed => Sideways(Time) < 1e-6 * body.Radius && Sideways(0.5 * Time) < 1e-6 * body.Radius;

    /// <summary>Whether it is a disc or ring, of which one can say that it leans.</summary>
    public bool IsFlat => body is FlyingDisc;

    /// <summary>Where its centre is, m.</summary>
    public Vector Centre(double time) => Three(State(time), BodyState.Place);

    /// <summary>Height of the underside, m, counted under the centre as if it were level.</summary>
    public double Height(double time) => State(time)[BodyState.Place + 2] - body.Half;

    /// <summary>Speed upwards, m/s.</summary>
    public double Rising(double time) => State(time)[BodyState.Speed + 2];

    /// <summary>How far it has gone sideways from where it was let go, m.</summary>
    public double Sideways(double time) => Across(State(time)).Length;

    /// <summary>Which way it has gone, rad from the x axis towards y.</summary>
    public double Bearing(double time) => Across(State(time)) is var way ? Math.Atan2(way.Y, way.X) : 0;

    /// <summary>Speed, m/s.</summary>
    public double Speed(double time) => Three(State(time), BodyState.Speed).Length;

    /// <summary>Spin, rad/s; of a disc about its own axis.</summary>
    public double Spin(double time) => Math.Abs(body.Spinning(Axis(time), SpinAxis(time)));

    /// <summary>Angular velocity, rad/s.</summary>
    public Vector SpinAxis(double time) => Three(State(time), BodyState.Spin);

    /// <summary>Angle it has turned through in all, rad.</summary>
    public double Turned(double time) => Math.Abs(State(time)[BodyState.Turned]);

    /// <summary>How far its axis leans from the vertical, rad; of a ball how far a mark that was its topmost point has tipped.</summary>
    public double Tipped(double time) => Math.Acos(Math.Clamp(Axis(time).Z, -1, 1));

    /// <summary>Where its axis points.</summary>
    public Vector Axis(double time) => BodyState.Axis(State(time), body.Axis);

    /// <summary>Temperature, K.</summary>
    public double Temperature(double time) => State(time)[BodyState.Temperature];

    /// <summary>The books up to the end.</summary>
    public FlightBooks Books()
    {
        double[] first = ways[0].At(0), last = State(Time);
        double Motion(double[] y) => 0.5 * body.Mass * Square(Three(y, BodyState.Speed)) + body.Mass * PhysicalConstants.StandardGravity * y[BodyState.Place + 2];
        double Spun(double[] y) => 0.5 * Vector.Dot(body.Momentum(BodyState.Axis(y, body.Axis), Three(y, BodyState.Spin)), Three(y, BodyState.Spin));
        return new FlightBooks(Motion(last) - Motion(first), Spun(last) - Spun(first), last[BodyState.FieldWork], last[BodyState.SpinWork], -last[BodyState.AirWork], landed,
            last[BodyState.Heat], last[BodyState.Lost], (double.IsFinite(body.Capacity) ? body.Capacity : 0) * (last[BodyState.Temperature] - first[BodyState.Temperature]));
    }

    private Vector Across(double[] y) => new(y[BodyState.Place] - start.X, y[BodyState.Place + 1] - start.Y, 0);

    private double[] State(double time)
    {
        int at = 0;
        while (at < ways.Count - 1 && ways[at].End < time)
            at++;
        return ways[at].At(time);
    }

    private static double Square(Vector v) => Vector.Dot(v, v);

    private static Vector Three(double[] y, int first) => BodyState.Three(y, first);
}
