using Fieldwright.Circuits.Elements;
using Fieldwright.Matter;
using Fieldwright.Matter.Heat;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Thermal;

/// <summary>Which way a surface faces, as still air feels it.</summary>
public enum Facing
{
    /// <summary>A wall; its length is its height.</summary>
    Upright,

    /// <summary>A level face looking up; its length is area over perimeter.</summary>
    Up,

    /// <summary>A level face looking down; its length is area over perimeter.</summary>
    Down,

    /// <summary>A level round bar or wire; its length is its diameter.</summary>
    LevelCylinder,

    /// <summary>A ball; its length is its diameter.</summary>
    Ball,
}

/// <summary>Still air at one atmosphere round a surface: q = h A (T₁ − T₂), h from the usual correlations with the air at the mean of both temperatures.</summary>
/// <remarks>
/// <para>Walls and level cylinders after Churchill and Chu (1975), balls after Churchill (1983), level faces after McAdams (0.54 Ra^¼ or 0.15 Ra^⅓ where heat rises from the
/// face, 0.27 Ra^¼ where it is held under it; never below a Nusselt number of 1). A face colder than the air has its directions swapped.</para>
/// <para>Accuracy: 10 to 20 % of h for a free surface in quiet air, and up to a factor in a draught; walls and cylinders to Ra 10¹², level faces from Ra 10⁴ (up) and 10⁵
/// (down) to 10¹¹. All recalled from memory and checked against worked examples.</para>
/// </remarks>
/// <source key="ChurchillChu1975"/>
/// <source key="Churchill1983"/>
/// <source key="McAdams1954"/>
public sealed class NaturalConvection : FlowFromTemperatures
{
    private readonly double area, length;
    private readonly Facing facing;

    /// <summary>A surface in still air.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node of the surface.</param>
    /// <param name="to">Node of the air.</param>
    /// <param name="area">Area, m²; positive.</param>
    /// <param name="facing">Which way it faces.</param>
    /// <param name="length">Its length in the sense of <see cref="Facing"/>, m; positive.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive.</exception>
    public NaturalConvection(string name, string from, string to, double area, Facing facing, double length)
        : base(name, from, to)
    {
        this.area = Guard.Positive(area);
        this.length = Guard.Positive(length);
        this.facing = facing;
    }

    /// <summary>Heat transfer coefficient h, W/(m² K).</summary>
    /// <param name="facing">Which way the surface faces.</param>
    /// <param name="length">Its length in the sense of <see cref="Facing"/>, m.</param>
    /// <param name="surface">Temperature of the surface, K; positive.</param>
    /// <param name="air">Temperature of the air, K; positive.</param>
    public static double Coefficient(Facing facing, double length, double surface, double air)
    {
        double film = 0.5 * (Guard.Positive(surface) + Guard.Positive(air));
        double k = Air.ThermalConductivity(film), nu = Air.KinematicViscosity(film), alpha = Air.Diffusivity(film);
        double ra = PhysicalConstants.StandardGravity * Math.Abs(surface - air) / film * length * length * length / (nu * alpha);
        return Nusselt(surface >= air ? facing : Swapped(facing), ra, nu / alpha) * k / length;
    }

    /// <summary>Nusselt number of a surface hotter than the air.</summary>
    /// <param name="facing">Which way it faces.</param>
    /// <param name="ra">Rayleigh number; not negative.</param>
    /// <param name="pr">Prandtl number; positive.</param>
    public static double Nusselt(Facing facing, double ra, double pr)
    {
        Guard.NotNegative(ra);
        Guard.Positive(pr);
        double Spread(double c) => Math.Pow(1 + Math.Pow(c / pr, 9.0 / 16), 8.0 / 27);
        double sixth = Math.Pow(ra, 1.0 / 6), fourth = Math.Sqrt(Math.Sqrt(ra));
        return facing switch
        {
            Facing.Upright => Square(0.825 + 0.387 * sixth / Spread(0.492)),
            Facing.LevelCylinder => Square(0.60 + 0.387 * sixth / Spread(0.559)),
            Facing.Ball => 2 + 0.589 * fourth / Math.Pow(1 + Math.Pow(0.469 / pr, 9.0 / 16), 4.0 / 9),
            Facing.Up => Math.Max(1, Math.Max(0.54 * fourth, 0.15 * Math.Cbrt(ra))),
            _ => Math.Max(1, 0.27 * fourth),
        };
    }

    /// <inheritdoc/>
    public override double Flow(double first, double second, out double slopeFirst, out double slopeSecond)
    {
        double Heat(double a, double b) => area * Coefficient(facing, length, Math.Max(a, 1), Math.Max(b, 1)) * (a - b);
        double step = 1e-5 * Math.Max(Math.Abs(first - second), 1);
        slopeFirst = (Heat(first + step, second) - Heat(first - step, second)) / (2 * step);
        slopeSecond = (Heat(first, second + step) - Heat(first, second - step)) / (2 * step);
        return Heat(first, second);
    }

    private static Facing Swapped(Facing facing) => facing switch { Facing.Up => Facing.Down, Facing.Down => Facing.Up, _ => facing };

    private static double Square(double x) => x * x;
}
