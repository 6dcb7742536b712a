using System.Globalization;
using System.Text;

namespace Fieldwright.Matter.Units;

/// <summary>Powers of the base quantities in a quantity: length, mass, time, electric current, temperature, luminous intensity and plane angle.</summary>
/// <remarks>
/// Plane angle counts as a base quantity here, which the SI does not do: it keeps a speed of rotation (rad/s, rpm) apart from a frequency (Hz)
/// and an angle apart from a bare number. The default value is that of a bare number. Powers are whole and lie within ±127.
/// </remarks>
/// <param name="Length">Power of the metre.</param>
/// <param name="Mass">Power of the kilogram.</param>
/// <param name="Time">Power of the second.</param>
/// <param name="Current">Power of the ampere.</param>
/// <param name="Temperature">Power of the kelvin.</param>
/// <param name="LuminousIntensity">Power of the candela.</param>
/// <param name="Angle">Power of the radian.</param>
public readonly record struct Dimension(
    sbyte Length, sbyte Mass = 0, sbyte Time = 0, sbyte Current = 0, sbyte Temperature = 0, sbyte LuminousIntensity = 0, sbyte Angle = 0)
{
    /// <summary>A bare number.</summary>
    public static Dimension None => default;

    /// <summary>Dimension of a product.</summary>
    /// <param name="a">First factor.</param>
    /// <param name="b">Second factor.</param>
    /// <exception cref="OverflowException">A power leaves ±127.</exception>
    public static Dimension operator *(Dimension a, Dimension b) => a.Multiply(b);

    /// <summary>Dimension of a quotient.</summary>
    /// <param name="a">Numerator.</param>
    /// <param name="b">Denominator.</param>
    /// <exception cref="OverflowException">A power leaves ±127.</exception>
    public static Dimension operator /(Dimension a, Dimension b) => a.Divide(b);

    /// <summary>Dimension of the product with another.</summary>
    /// <param name="other">The other factor.</param>
    /// <exception cref="OverflowException">A power leaves ±127.</exception>
    public Dimension Multiply(Dimension other) => Combine(other, 1);

    /// <summary>Dimension of the quotient by another.</summary>
    /// <param name="other">The divisor.</param>
    /// <exception cref="OverflowException">A power leaves ±127.</exception>
    public Dimension Divide(Dimension other) => Combine(other, -1);

    /// <summary>Dimension of a whole power.</summary>
    /// <param name="power">The power; 0 gives a bare number.</param>
    /// <exception cref="OverflowException">A power leaves ±127.</exception>
    public Dimension Power(int power) => None.Combine(this, power);

    /// <summary>The dimension in base units: <c>kg m²/s³</c> is written <c>kg m^2 s^-3</c>; empty for a bare number.</summary>
    public override string ToString()
    {
        var text = new StringBuilder();
        foreach (var (symbol, power) in new[] { ("kg", Mass), ("m", Length), ("s", Time), ("A", Current), ("K", Temperature), ("cd", LuminousIntensity), ("rad", Angle) })
        {
            if (power == 0)
                continue;
            if (text.Length > 0)
                text.Append(' ');
            text.Append(symbol);
            if (power != 1)
                text.Append(CultureInfo.InvariantCulture, $"^{power}");
        }

        return text.ToString();
    }

    private Dimension Combine(Dimension other, int times)
    {
        checked
        {
            return new(
                (sbyte)(Length + other.Length * times), (sbyte)(Mass + other.Mass * times), (sbyte)(Time + other.Time * times),
                (sbyte)(Current + other.Current * times), (sbyte)(Temperature + other.Temperature * times),
                (sbyte)(LuminousIntensity + other.LuminousIntensity * times), (sbyte)(Angle + other.Angle * times));
        }
    }
}
