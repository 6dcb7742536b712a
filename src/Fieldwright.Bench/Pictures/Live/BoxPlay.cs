using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Particles;

namespace Fieldwright.Bench.Pictures.Live;

/// <summary>A flat box kept going under the reader's eyes: it is asked for one moment after another, and its dials may turn while it runs. For one thread at a time.</summary>
public sealed class BoxPlay
{
    private HardDiscs discs;
    private double before;

    /// <summary>Sets a box going.</summary>
    /// <param name="box">The box.</param>
    /// <exception cref="RouteFailedException">The discs have no room.</exception>
    public BoxPlay(ParticleBox box)
    {
        ArgumentNullException.ThrowIfNull(box);
        Box = box;
        discs = Begin(box, b => BoxRun.Start(b));
    }

    /// <summary>The box as it stands.</summary>
    public ParticleBox Box { get; private set; }

    /// <summary>Time since it was set going, s.</summary>
    public double Now => before + discs.Now;

    /// <summary>The discs that are still in it.</summary>
    public IReadOnlyList<DiscState> Discs => discs.States;

    /// <summary>Height of the floor, m.</summary>
    public double Floor => BoxRun.Description(Box).Floor?.HeightAt(discs.Now) ?? 0;

    /// <summary>Height of the lid, m; NaN without one.</summary>
    public double Lid => discs.LidHeight;

    /// <summary>Discs that left through the open top.</summary>
    public int Escaped => discs.Escaped;

    /// <summary>Lets time pass.</summary>
    /// <param name="time">How long, s; positive.</param>
    /// <param name="cancellation">Stops the work.</param>
    public void Advance(double time, CancellationToken cancellation = default) => discs.Run(discs.Now + time, cancellation);

    /// <summary>Turns the box into another, its discs going on from where they are; where that leaves them no room it starts anew.</summary>
    /// <exception cref="RouteFailedException">The discs have no room in the other box at all.</exception>
    public void Become(ParticleBox box)
    {
        ArgumentNullException.ThrowIfNull(box);
        if (box == Box)
            return;
        double now = Now, lid = discs.LidHeight;
        var standing = discs.States;
        bool goesOn = (box.Discs with { Moment = Box.Discs.Moment }) == Box.Discs && box.Large == Box.Large && discs.Escaped == 0;
        try
        {
            discs = goesOn ? new HardDiscs(BoxRun.Description(box with { Lid = box.Lid is { } l && double.IsFinite(lid) ? l with { Height = lid } : box.Lid }), standing) : Begin(box, b => BoxRun.Start(b));
        }
        catch (ArgumentException)
        {
            discs = Begin(box, b => BoxRun.Start(b));
        }

        (Box, before) = (box, now);
    }

    private static HardDiscs Begin(ParticleBox box, Func<ParticleBox, IReadOnlyList<DiscState>> start)
    {
        try
        {
            return new HardDiscs(BoxRun.Description(box), start(box));
        }
        catch (ArgumentException e)
        {
            throw new RouteFailedException(e.Message.Split(" (Parameter")[0], e);
        }
    }
}
