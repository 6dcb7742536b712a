using System.Numerics;

namespace Fieldwright.Fields.Harmonic;

/// <summary>What the slope of the effective reluctivity ν(|B|) adds to a harmonic system with ν held: c·B·Re(B*·δB) with c = (dν/d|B|)/|B| at each point.</summary>
/// <remarks>
/// Linear over the reals only: steel resists a change in phase with its field more than one in quadrature. In the dual, taken in the bilinear form of this
/// room, the phasor of the field and its conjugate change places: c·B*·Re(B·δB).
/// </remarks>
/// <param name="functions">Functions of a point.</param>
internal sealed class SaturationTerm(int functions)
{
    private readonly List<int> places = [];
    private readonly List<Complex> along = [];
    private readonly List<double> weights = [];

    /// <summary>Adds one quadrature point.</summary>
    /// <param name="weight">Weight times c, A·m/Wb³ of the volume; never negative for steel.</param>
    /// <param name="at">Where each function's coefficient stands.</param>
    /// <param name="alongField">B·B_i of each function, its sign included.</param>
    public void Add(double weight, ReadOnlySpan<int> at, ReadOnlySpan<Complex> alongField)
    {
        weights.Add(weight);
        places.AddRange(at);
        along.AddRange(alongField);
    }

    /// <summary>Adds the term times x, or its dual, to a vector.</summary>
    public void Add(Complex[] x, Complex[] to, bool dual)
    {
        var sense = dual ? -1 : 1;
        for (var p = 0; p < weights.Count; p++)
        {
            var first = p * functions;
            var sum = 0.0;
            for (var i = first; i < first + functions; i++) sum += (along[i].Real * x[places[i]].Real) + (sense * along[i].Imaginary * x[places[i]].Imaginary);
            sum *= weights[p];
            for (var i = first; i < first + functions; i++) to[places[i]] += sum * new Complex(along[i].Real, sense * along[i].Imaginary);
        }
    }
}
