using System.Numerics;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Discs;

/// <summary>The coils' field on a net of points through a disc, in the disc's own directions: outwards, along, and through it.</summary>
internal sealed class DiscNet
{
    private readonly DiscBody body;
    private readonly Frame frame;
    private readonly GaussRule radial;
    private readonly Complex[] turns;
    private readonly GaussRule deep;
    private readonly double[] heights;

    // [plane, radius][place round], T peak.
    private readonly Complex[,][] outward, along, through;

    // Flux through the hole at each plane, Wb.
    private readonly Complex[] hole;

    public DiscNet(DiscBody body, CoilSource[] sources, DiscOverCoils.Size size, Vector centre, Vector axis)
    {
        this.body = body;
        frame = new Frame(centre, axis);
        radial = GaussRule.WithNodes(size.Radii);
        double width = body.OuterRadius - body.InnerRadius;
        Radii = Array.ConvertAll(radial.Nodes, x => body.InnerRadius + width * x);
        IsCentred = sources.All(s => s.Coil.Frame.IsCoaxial(frame, s.Coil.OuterRadius + body.OuterRadius, out _, out _));
        Round = IsCentred ? 1 : 4 * size.Turns + 4;
        turns = [.. Enumerable.Range(0, Round).Select(k => Complex.FromPolarCoordinates(1, 2 * Math.PI * k / Round))];
        deep = GaussRule.WithNodes(size.Depths + 1);
        heights = Array.ConvertAll(deep.Nodes, u => body.Thickness * (u - 0.5));
        Profiles = new double[Planes, size.Depths];
        var profile = new double[size.Depths];
        for (var p = 0; p < Planes; p++)
        {
            DepthCoupling.Profiles(deep.Nodes[p], profile);
            for (var q = 0; q < profile.Length; q++)
                Profiles[p, q] = profile[q];
        }
        (outward, along, through) = (Room(), Room(), Room());
        for (var p = 0; p < Planes; p++)
            for (var i = 0; i < Radii.Length; i++)
                for (var k = 0; k < Round; k++)
                {
                    var (point, out_, on) = At(Radii[i], k, heights[p]);
                    foreach (var source in sources)
                    {
                        var b = source.Coil.FieldPerAmpere(point).FluxDensity;
                        outward[p, i][k] += source.PeakCurrent * Vector.Dot(b, out_);
                        along[p, i][k] += source.PeakCurrent * Vector.Dot(b, on);
                        through[p, i][k] += source.PeakCurrent * Vector.Dot(b, frame.Axis);
                    }
                }
        hole = new Complex[Planes];
        if (body.InnerRadius > 0)
            ThroughHole(sources, size.Radii);
    }

    /// <summary>Radii of the net, m.</summary>
    public double[] Radii { get; }

    /// <summary>Planes through the thickness.</summary>
    public int Planes => heights.Length;

    /// <summary>Polynomial q at plane p: [p, q].</summary>
    public double[,] Profiles { get; }

    /// <summary>Points round each.</summary>
    public int Round { get; }

    /// <summary>Whether disc and coils have one axis, so that nothing changes round it.</summary>
    public bool IsCentred { get; }

    /// <summary>exp(imφ) at a place round.</summary>
    public Complex Turn(int m, int k) => turns[(int)((((long)m * k) % Round + Round) % Round)];

    /// <summary>Linkage of each function of a mode, one polynomial through the thickness after the other, Wb.</summary>
    public Complex[] Linkages(DiscMode mode, int m)
    {
        var depths = Profiles.GetLength(1);
        var linkages = new Complex[mode.Functions * depths];
        double width = body.OuterRadius - body.InnerRadius;
        for (var p = 0; p < Planes; p++)
        {
            for (var i = 0; i < Radii.Length; i++)
            {
                Complex sum = 0;
                for (var k = 0; k < Round; k++)
                    sum += through[p, i][k] * Turn(-m, k);
                sum *= deep.Weights[p] * 2 * Math.PI / Round * width * radial.Weights[i] * Radii[i];
                for (var q = 0; q < depths; q++)
                    for (var a = 0; a < mode.Functions; a++)
                        linkages[q * mode.Functions + a] += Profiles[p, q] * mode.Values[a, i] * sum;
            }
            for (var q = 0; m == 0 && q < depths; q++)
                for (var a = 0; a < mode.Functions; a++)
                    linkages[q * mode.Functions + a] += deep.Weights[p] * Profiles[p, q] * mode.AtHole[a] * hole[p];
        }
        return linkages;
    }

    /// <summary>Mean force, N, and torque about the centre, N·m, of currents [plane, radius][place round], A/m peak, in the coils' field.</summary>
    public (Vector Force, Vector Torque) Press(Complex[,][] currentOutward, Complex[,][] currentAlong)
    {
        Vector force = default, torque = default;
        double width = body.OuterRadius - body.InnerRadius;
        for (var p = 0; p < Planes; p++)
            for (var i = 0; i < Radii.Length; i++)
                for (var k = 0; k < Round; k++)
                {
                    Complex kr = Complex.Conjugate(currentOutward[p, i][k]), kp = Complex.Conjugate(currentAlong[p, i][k]);
                    Complex br = outward[p, i][k], bp = along[p, i][k], bn = through[p, i][k];
                    var (point, out_, on) = At(Radii[i], k, heights[p]);
                    var area = deep.Weights[p] * 2 * Math.PI / Round * width * radial.Weights[i] * Radii[i];
                    var push = 0.5 * area * (kp * bn).Real * out_ - 0.5 * area * (kr * bn).Real * on + 0.5 * area * (kr * bp - kp * br).Real * frame.Axis;
                    if (IsCentred)
                        push = Vector.Dot(push, frame.Axis) * frame.Axis; // the one place round stands for all
                    force += push;
                    torque += Vector.Cross(point - frame.Origin, push);
                }
        return IsCentred ? (force, default) : (force, torque);
    }

    private void ThroughHole(CoilSource[] sources, int count)
    {
        var rule = GaussRule.WithNodes(count);
        for (var p = 0; p < Planes; p++)
            for (var i = 0; i < count; i++)
            {
                var r = body.InnerRadius * rule.Nodes[i];
                Complex sum = 0;
                for (var k = 0; k < Round; k++)
                {
                    var point = At(r, k, heights[p]).Point;
                    foreach (var source in sources)
                        sum += source.PeakCurrent * Vector.Dot(source.Coil.FieldPerAmpere(point).FluxDensity, frame.Axis);
                }
                hole[p] += 2 * Math.PI / Round * body.InnerRadius * rule.Weights[i] * r * sum;
            }
    }

    private (Vector Point, Vector Outward, Vector Along) At(double r, int k, double z)
    {
        var (cos, sin) = (turns[k].Real, turns[k].Imaginary);
        var point = frame.PointAt(r, cos, sin, z);
        var on = frame.Along(cos, sin);
        return (point, Vector.Cross(on, frame.Axis), on);
    }

    private Complex[,][] Room()
    {
        var room = new Complex[Planes, Radii.Length][];
        for (var p = 0; p < Planes; p++)
            for (var i = 0; i < Radii.Length; i++)
                room[p, i] = new Complex[Round];
        return room;
    }
}
