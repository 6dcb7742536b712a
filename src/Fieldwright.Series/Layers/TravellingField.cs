using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Layers;

/// <summary>
/// Windings laid along a flat, tubular or rotating stack of layers, each with its conductivity, permeability and motion: thrust, normal force, heat,
/// voltage and field, harmonic by harmonic of the winding's true spectrum.
/// </summary>
/// <remarks>
/// For each harmonic exp(j(ωt − κx)) every layer is solved exactly and joined at the faces by a tridiagonal system for the potential there, which stays
/// stable however thick the layers. In a moving layer the fields change at the slip frequency ω − κ·speed. Materials linear; the current has no ends
/// across (see <see cref="LinearMotorFactors.TransverseEdge"/> for sheets of finite width); slots have no depth (see <see cref="LinearMotorFactors.Carter"/>);
/// moving layers are of one shape along the travel. Exact but for the harmonics left out (<see cref="TravellingFieldAnswer.ThrustError"/>). Derived here from the field in
/// each layer and its continuity at the faces; held to TEAM 30a. Immutable; threads may share it.
/// </remarks>
public sealed class TravellingField
{
    // Thin sheets at Gauss points stand for a filled layer of a tubular stack.
    private const int TubularSheets = 6;

    private readonly StackShape shape;
    private readonly double across; // depth, or 2π for a tubular stack
    private readonly double period;
    private readonly Layer[] layers;
    private readonly int[] origin; // layer of the caller's list
    private readonly double[] faces;
    private readonly Place[] places;
    private readonly int callerLayers;
    private readonly int phases;
    private readonly FilledLayer[]?[] filled; // by harmonic and layer; made when first asked for
    private AtRest rest;

    /// <summary>Sets up a stack with its windings.</summary>
    /// <param name="shape">How the layers lie.</param>
    /// <param name="layers">Layers, from the bottom up or from the axis outwards; two or more, the ends without limit (see <see cref="Layer.Thickness"/>).</param>
    /// <param name="windings">Windings in their places, all of the same period (2π for a rotating stack). Windings may share phases, which are then in series.</param>
    /// <param name="depth">Length of the current across the travel, m, for flat and rotating stacks; not used by tubular ones.</param>
    /// <param name="harmonics">Highest harmonic of the period taken, of either direction.</param>
    /// <exception cref="ArgumentException">Something is out of range or does not fit.</exception>
    public TravellingField(StackShape shape, IReadOnlyList<Layer> layers, IReadOnlyList<PlacedWinding> windings, double depth = 1, int harmonics = 40)
    {
        ArgumentNullException.ThrowIfNull(layers);
        ArgumentNullException.ThrowIfNull(windings);
        this.shape = shape;
        across = shape == StackShape.Tubular ? 2 * Math.PI : Guard.Positive(depth);
        Harmonics = Guard.Positive(harmonics);
        CheckLayers(shape, layers);
        callerLayers = layers.Count;
        if (windings.Count == 0)
            throw new ArgumentException("At least one winding is needed.", nameof(windings));
        period = windings[0].Winding.Period;
        foreach (var w in windings)
        {
            if (Math.Abs(w.Winding.Period - period) > 1e-12 * period || shape == StackShape.Rotating && Math.Abs(period - 2 * Math.PI) > 1e-9)
                throw new ArgumentException("All windings have one period, 2π on a rotating stack.", nameof(windings));
            Guard.InRange(w.Layer, w.FillsLayer ? 0 : 1, layers.Count - 1, nameof(windings));
            if (w.FillsLayer && (layers[w.Layer].Conductivity != 0 || w.Layer == 0 || w.Layer == layers.Count - 1))
                throw new ArgumentException("A winding fills a layer that does not conduct and has two faces.", nameof(windings));
        }
        phases = windings.Max(w => w.Winding.PhaseCount);

        // Filled layers of tubular stacks become sheets with thin layers between.
        var list = new List<Layer>();
        var from = new List<int>();
        var first = new int[layers.Count]; // new index of each layer's first part
        for (var i = 0; i < layers.Count; i++)
        {
            first[i] = list.Count;
            if (shape == StackShape.Tubular && windings.Any(w => w.FillsLayer && w.Layer == i))
            {
                var nodes = Quadrature.GaussLegendre(TubularSheets).Nodes;
                double done = -1;
                for (var n = 0; n <= TubularSheets; n++)
                {
                    var next = n < TubularSheets ? nodes[n] : 1;
                    list.Add(layers[i] with { Thickness = layers[i].Thickness * (next - done) / 2 });
                    from.Add(i);
                    done = next;
                }
            }
            else
            {
                list.Add(layers[i]);
                from.Add(i);
            }
        }
        this.layers = [.. list];
        origin = [.. from];
        faces = new double[this.layers.Length - 1];
        faces[0] = shape == StackShape.Flat ? 0 : this.layers[0].Thickness;
        for (var i = 1; i < faces.Length; i++)
            faces[i] = faces[i - 1] + this.layers[i].Thickness;
        places = [.. windings.SelectMany(w => Placed(w, first[w.Layer]))];
        filled = new FilledLayer[Harmonics + 1][];
        rest = new AtRest(0, []);
    }

    /// <summary>Highest harmonic taken.</summary>
    public int Harmonics { get; }

    /// <summary>Speed of a harmonic's wave, m/s (rad/s).</summary>
    /// <param name="harmonic">Harmonic of the period, either sign; not zero.</param>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <returns>ω/κ.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The harmonic is zero or the frequency not finite.</exception>
    public double SynchronousSpeed(int harmonic, double frequency) =>
        harmonic != 0 ? Guard.Finite(frequency) * period / harmonic : throw new ArgumentOutOfRangeException(nameof(harmonic), harmonic, "must not be zero");

    /// <summary>Thrust, heat and voltage at one speed.</summary>
    /// <param name="peakCurrents">Peak phasors of the phase currents, exp(+jωt), A; their total over the winding must be zero at every instant.</param>
    /// <param name="frequency">Frequency, Hz; positive.</param>
    /// <param name="speed">Speed of the moving layers, m/s (rad/s).</param>
    /// <returns>The answer.</returns>
    /// <exception cref="ArgumentException">A value is out of range, a current is missing, or the winding carries a net current.</exception>
    public TravellingFieldAnswer Evaluate(IReadOnlyList<Complex> peakCurrents, double frequency, double speed)
    {
        CheckCurrents(peakCurrents);
        var omega = 2 * Math.PI * Guard.Positive(frequency);
        Guard.Finite(speed);
        var losses = new double[callerLayers];
        var voltages = new Complex[phases];
        double thrust = 0, normal = 0, last = 0;
        var hasNormal = HasNormalForce();
        var wave = new Wave(this, peakCurrents, omega, speed);
        for (var n = -Harmonics; n <= Harmonics; n++)
        {
            if (n == 0 || !wave.Solve(n))
                continue;
            double part = 0;
            var whole = period * across;
            for (var i = 0; i < layers.Length; i++)
            {
                if (layers[i].Conductivity == 0 && !layers[i].Moves)
                    continue;
                // ½Re(jA conj(wH)) through the outer face less that through the inner one: κ times it is thrust, the slip frequency times it is heat.
                var gain = whole * 0.5 * ((i < faces.Length ? wave.Stress(i, outer: true) : 0) - (i > 0 ? wave.Stress(i, outer: false) : 0));
                if (layers[i].Conductivity > 0)
                    losses[origin[i]] += gain * wave.SlipFrequency(i);
                if (layers[i].Moves)
                    part += gain * wave.Kappa;
            }
            thrust += part;
            if (hasNormal)
                normal += whole * wave.NormalStress();
            if (Math.Abs(n) > 0.8 * Harmonics)
                last += Math.Abs(part);
            foreach (var place in places)
            {
                var mean = Complex.ImaginaryOne * omega * whole * wave.Linked(place);
                for (var p = 0; p < place.Spectrum.Length; p++)
                    voltages[p] += mean * Complex.Conjugate(place.Spectrum[p][n + Harmonics]);
            }
        }
        double input = 0;
        for (var p = 0; p < phases; p++)
            input += 0.5 * (voltages[p] * Complex.Conjugate(peakCurrents[p])).Real;
        if (!double.IsFinite(thrust) || !double.IsFinite(input))
            throw new NotConvergedException("The field of the stack", double.NaN, Harmonics);
        return new TravellingFieldAnswer(speed, thrust, hasNormal ? normal : null, losses, input, voltages, last);
    }

    /// <summary>Impedance of each phase with the given currents flowing in all: voltage over current, winding resistance left out.</summary>
    /// <param name="peakCurrents">Peak phasors of the phase currents, A.</param>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <param name="speed">Speed of the moving layers, m/s (rad/s).</param>
    /// <returns>Ω, one a phase; NaN never: a phase without current gives zero.</returns>
    /// <exception cref="ArgumentException">As for <see cref="Evaluate"/>.</exception>
    public Complex[] Impedances(IReadOnlyList<Complex> peakCurrents, double frequency, double speed)
    {
        var answer = Evaluate(peakCurrents, frequency, speed);
        return [.. answer.Voltages.Select((u, p) => peakCurrents[p] == Complex.Zero ? 0 : u / peakCurrents[p])];
    }

    /// <summary>Flux density at a point of the stack.</summary>
    /// <param name="peakCurrents">Peak phasors of the phase currents, A.</param>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <param name="speed">Speed of the moving layers, m/s (rad/s).</param>
    /// <param name="points">Points: along the travel (m or rad), and height above the first face (flat) or radius (round), m.</param>
    /// <returns>At each point the peak phasors of the potential A (Wb/m) and of B along the travel and outwards, T.</returns>
    /// <exception cref="ArgumentException">As for <see cref="Evaluate"/>, or a radius is not positive.</exception>
    public IReadOnlyList<StackFieldPoint> Field(IReadOnlyList<Complex> peakCurrents, double frequency, double speed, IReadOnlyList<(double Along, double Height)> points)
    {
        CheckCurrents(peakCurrents);
        ArgumentNullException.ThrowIfNull(points);
        var omega = 2 * Math.PI * Guard.Positive(frequency);
        Guard.Finite(speed);
        var sums = new StackFieldPoint[points.Count];
        foreach (var (along, height) in points)
        {
            Guard.Finite(along, nameof(points));
            if (shape == StackShape.Flat)
                Guard.Finite(height, nameof(points));
            else
                Guard.Positive(height, nameof(points));
        }
        var wave = new Wave(this, peakCurrents, omega, speed);
        for (var n = -Harmonics; n <= Harmonics; n++)
        {
            if (n == 0 || !wave.Solve(n))
                continue;
            for (var i = 0; i < points.Count; i++)
            {
                var (a, wh, permeability) = wave.At(points[i].Height);
                var turn = Complex.FromPolarCoordinates(1, -wave.Kappa * points[i].Along);
                var r = shape == StackShape.Flat ? 1 : points[i].Height;
                // B along = μ wH/w (rotating: B_θ = −∂A/∂r), outwards −∂A/∂x (rotating: B_r = ∂A/r∂θ; tubular: B_r = −∂A/∂z).
                var alongSign = shape == StackShape.Rotating ? -1 : 1;
                var outSign = shape == StackShape.Rotating ? -1 / r : 1;
                sums[i] = new StackFieldPoint(sums[i].Potential + a * turn, sums[i].Along + alongSign * permeability * wh / r * turn,
                    sums[i].Outwards + outSign * Complex.ImaginaryOne * wave.Kappa * a * turn);
            }
        }
        return sums;
    }

    /// <summary>Heat in a layer by the other way: σ|E|²/2 summed through its thickness by Gauss quadrature of the field.</summary>
    /// <param name="layer">Layer, counted as given; it must have finite thickness, or be a core.</param>
    /// <param name="peakCurrents">Peak phasors of the phase currents, A.</param>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <param name="speed">Speed of the moving layers, m/s (rad/s).</param>
    /// <returns>W.</returns>
    /// <exception cref="ArgumentException">As for <see cref="Evaluate"/>, or the layer has no end.</exception>
    public double LossByVolume(int layer, IReadOnlyList<Complex> peakCurrents, double frequency, double speed)
    {
        CheckCurrents(peakCurrents);
        Guard.InRange(layer, 0, callerLayers - 1);
        var index = Array.IndexOf(origin, layer);
        double from = index > 0 ? faces[index - 1] : 0, to = index < faces.Length ? faces[index] : double.PositiveInfinity;
        if (!double.IsFinite(to) || shape == StackShape.Flat && index == 0)
            throw new ArgumentException("The layer has no end to sum to.", nameof(layer));
        var omega = 2 * Math.PI * Guard.Positive(frequency);
        var rule = Quadrature.GaussLegendre(16);
        double total = 0;
        var wave = new Wave(this, peakCurrents, omega, speed);
        const int panels = 24;
        for (var n = -Harmonics; n <= Harmonics; n++)
        {
            if (n == 0 || !wave.Solve(n))
                continue;
            for (var panel = 0; panel < panels; panel++)
                for (var i = 0; i < rule.Count; i++)
                {
                    var y = from + (to - from) * (panel + 0.5 * (1 + rule.Nodes[i])) / panels;
                    var a = wave.At(y).Potential;
                    var e = wave.SlipFrequency(index) * Complex.Abs(a);
                    total += 0.5 * rule.Weights[i] * (to - from) / panels * 0.5 * layers[index].Conductivity * e * e * (shape == StackShape.Flat ? 1 : y);
                }
        }
        return total * period * across;
    }

    private static void CheckLayers(StackShape shape, IReadOnlyList<Layer> layers)
    {
        if (layers.Count < 2)
            throw new ArgumentException("A stack has at least two layers.", nameof(layers));
        for (var i = 0; i < layers.Count; i++)
        {
            var open = i == layers.Count - 1 || i == 0 && shape == StackShape.Flat;
            if (open != double.IsPositiveInfinity(layers[i].Thickness))
                throw new ArgumentException(FormattableString.Invariant($"Layer {i} must have {(open ? "infinite" : "finite")} thickness."), nameof(layers));
            if (!open)
                Guard.Positive(layers[i].Thickness, nameof(layers));
            Guard.NotNegative(layers[i].Conductivity, nameof(layers));
            Guard.Positive(layers[i].RelativePermeability, nameof(layers));
        }
    }

    private IEnumerable<Place> Placed(PlacedWinding w, int index)
    {
        var spectrum = new Complex[w.Winding.PhaseCount][];
        for (var p = 0; p < spectrum.Length; p++)
        {
            spectrum[p] = new Complex[2 * Harmonics + 1];
            for (var n = 0; n <= Harmonics; n++)
            {
                spectrum[p][Harmonics + n] = w.Winding.Spectrum(p, n);
                spectrum[p][Harmonics - n] = Complex.Conjugate(spectrum[p][Harmonics + n]);
            }
        }
        double[] largest = [.. spectrum.Select(s => s.Max(Complex.Abs))];
        if (!w.FillsLayer)
            yield return new Place(spectrum, largest, index - 1, false, 1);
        else if (shape != StackShape.Tubular)
            yield return new Place(spectrum, largest, index, true, 1);
        else
            for (var n = 0; n < TubularSheets; n++)
                yield return new Place(spectrum, largest, index + n, false, Quadrature.GaussLegendre(TubularSheets).Weights[n] / 2);
    }

    private void CheckCurrents(IReadOnlyList<Complex> peakCurrents)
    {
        ArgumentNullException.ThrowIfNull(peakCurrents);
        Guard.Length(peakCurrents.Count, phases, nameof(peakCurrents));
        Complex net = 0;
        double size = 0;
        foreach (var current in peakCurrents)
        {
            Guard.Finite(current.Real, nameof(peakCurrents));
            Guard.Finite(current.Imaginary, nameof(peakCurrents));
        }
        foreach (var place in places)
            for (var p = 0; p < place.Spectrum.Length; p++)
            {
                net += place.Share * place.Spectrum[p][Harmonics] * peakCurrents[p];
                size += place.Share * place.Largest[p] * Complex.Abs(peakCurrents[p]);
            }
        if (Complex.Abs(net) > 1e-9 * size)
            throw new ArgumentException("The winding carries a net current: it needs a return side within its period.", nameof(peakCurrents));
    }

    private bool HasNormalForce()
    {
        if (shape != StackShape.Flat || !layers.Any(l => l.Moves))
            return false;
        var (low, high) = Moving();
        return Enumerable.Range(low, high - low + 1).All(i => layers[i].Moves)
            && (low == 0 || layers[low - 1].RelativePermeability == 1) && (high == layers.Length - 1 || layers[high + 1].RelativePermeability == 1);
    }

    private (int Low, int High) Moving() => (Array.FindIndex(layers, l => l.Moves), Array.FindLastIndex(layers, l => l.Moves));

    // What every speed shares at one frequency.
    private AtRest RestAt(double omega)
    {
        var known = Volatile.Read(ref rest);
        if (known.Omega == omega)
            return known;
        known = new AtRest(omega, new LayerElement[Harmonics + 1][]);
        Volatile.Write(ref rest, known);
        return known;
    }

    private LayerElement ElementOf(int i, double kappa, double slipFrequency) =>
        i == 0 ? LayerElement.Within(shape, layers[0], faces[0], kappa, slipFrequency)
        : i == layers.Length - 1 ? LayerElement.Beyond(shape, layers[i], faces[^1], kappa, slipFrequency)
        : LayerElement.Between(shape, layers[i], faces[i - 1], faces[i], kappa, slipFrequency);

    private FilledLayer Part(in Layer layer, double b, double c, double kappa) => shape == StackShape.Flat
        ? FilledLayer.Flat(layer.RelativePermeability, c - b, kappa) : FilledLayer.Rotating(layer.RelativePermeability, b, c, kappa);

    // A layer's field hears of the speed only when it moves and conducts.
    private bool HearsOfSpeed(int layer) => layers[layer].Moves && layers[layer].Conductivity > 0;

    /// <summary>Elements of all layers standing still, by harmonic (both directions alike); entries are filled when first asked for, whole rows at a time, so threads may share them.</summary>
    private sealed record AtRest(double Omega, LayerElement[]?[] ByHarmonic);

    /// <summary>A winding's sheet on a face or its filled layer; Spectrum[phase][n + Harmonics], Largest the greatest of each phase.</summary>
    private sealed record Place(Complex[][] Spectrum, double[] Largest, int Index, bool Fills, double Share);

    /// <summary>Solution for one harmonic after another, in arrays used again.</summary>
    private sealed class Wave(TravellingField owner, IReadOnlyList<Complex> currents, double omega, double speed)
    {
        private readonly AtRest rest = owner.RestAt(omega);
        private readonly double scale = owner.places.Sum(place => place.Share * place.Largest.Zip(currents, (largest, current) => largest * Complex.Abs(current)).Sum());
        private readonly LayerElement[] elements = new LayerElement[owner.layers.Length];
        private readonly Complex[] potential = new Complex[owner.faces.Length];
        private readonly Complex[] diagonal = new Complex[owner.faces.Length];
        private readonly Complex[] innerLoad = new Complex[owner.layers.Length];
        private readonly Complex[] outerLoad = new Complex[owner.layers.Length];
        private readonly Complex[] density = new Complex[owner.layers.Length];
        private FilledLayer[] filled = [];

        public double Kappa { get; private set; }

        public double SlipFrequency(int layer) => owner.layers[layer].Moves ? omega - Kappa * speed : omega;

        /// <summary>False when the winding has nothing of this harmonic.</summary>
        public bool Solve(int n)
        {
            Kappa = owner.shape == StackShape.Rotating ? n : 2 * Math.PI * n / owner.period;
            Array.Clear(potential);
            Array.Clear(innerLoad);
            Array.Clear(outerLoad);
            Array.Clear(density);
            filled = FilledFor(Math.Abs(n));
            double size = 0;
            foreach (var place in owner.places)
            {
                Complex sheet = 0;
                for (var p = 0; p < place.Spectrum.Length; p++)
                    sheet += currents[p] * place.Spectrum[p][n + owner.Harmonics];
                size += Complex.Abs(sheet);
                sheet *= place.Share;
                if (place.Fills)
                {
                    ref readonly var layer = ref filled[place.Index];
                    var j = sheet / layer.Area;
                    density[place.Index] += j;
                    innerLoad[place.Index] += j * layer.InnerWeight;
                    outerLoad[place.Index] += j * layer.OuterWeight;
                    potential[place.Index - 1] += j * layer.InnerWeight;
                    potential[place.Index] += j * layer.OuterWeight;
                }
                else
                {
                    potential[place.Index] += owner.shape == StackShape.Tubular ? owner.faces[place.Index] * sheet : sheet;
                }
            }
            // What is left of harmonics that cancel is rounding of the whole winding.
            if (size <= 1e-13 * scale)
                return false;
            var still = StillFor(Math.Abs(n));
            for (var i = 0; i < elements.Length; i++)
                elements[i] = owner.HearsOfSpeed(i) ? owner.ElementOf(i, Kappa, SlipFrequency(i)) : still[i];
            // Faces: (outer of the layer below + inner of the layer above) A = load; eliminated from the bottom up.
            for (var f = 0; f < potential.Length; f++)
            {
                diagonal[f] = elements[f].Outer + elements[f + 1].Inner;
                if (f > 0)
                {
                    var ratio = elements[f].Coupling / diagonal[f - 1];
                    diagonal[f] -= ratio * elements[f].Coupling;
                    potential[f] -= ratio * potential[f - 1];
                }
            }
            for (var f = potential.Length - 1; f >= 0; f--)
                potential[f] = (potential[f] - (f + 1 < potential.Length ? elements[f + 1].Coupling * potential[f + 1] : 0)) / diagonal[f];
            return true;
        }

        /// <summary>Re(jA conj(wH)) at the outer or inner face of a layer, taken on the layer's side.</summary>
        public double Stress(int layer, bool outer)
        {
            var a = potential[outer ? layer : layer - 1];
            return (Complex.ImaginaryOne * a * Complex.Conjugate(FaceField(layer, outer))).Real;
        }

        /// <summary>Mean potential over the winding (times its radius for a tubular one), in its share.</summary>
        public Complex Linked(Place place)
        {
            if (!place.Fills)
                return place.Share * potential[place.Index] * (owner.shape == StackShape.Tubular ? owner.faces[place.Index] : 1);
            ref readonly var layer = ref filled[place.Index];
            return (layer.InnerWeight * potential[place.Index - 1] + layer.OuterWeight * potential[place.Index] + density[place.Index] * layer.Own) / layer.Area;
        }

        /// <summary>Mean normal stress above the moving layers less that below them, ¼(|B_y|²/μ − μ|H_x|²), flat stacks.</summary>
        public double NormalStress()
        {
            var (low, high) = owner.Moving();
            double total = 0;
            if (high < owner.layers.Length - 1)
                total += Pressure(potential[high], FaceField(high + 1, outer: false));
            if (low > 0)
                total -= Pressure(potential[low - 1], FaceField(low - 1, outer: true));
            return total;
        }

        /// <summary>Potential, wH and permeability at a height, by cutting the layer there in two.</summary>
        public (Complex Potential, Complex FaceField, double Permeability) At(double y)
        {
            var i = 0;
            while (i < owner.faces.Length && y > owner.faces[i])
                i++;
            ref readonly var layer = ref owner.layers[i];
            var permeability = PhysicalConstants.MagneticConstant * layer.RelativePermeability;
            var slip = SlipFrequency(i);
            if (i > 0 && y == owner.faces[i - 1] || i < owner.faces.Length && y == owner.faces[i])
            {
                var outer = i < owner.faces.Length && y == owner.faces[i];
                return (potential[outer ? i : i - 1], FaceField(i, outer), permeability);
            }
            Complex sum = 0, load = 0, below = 0, coupled = 0;
            if (i > 0)
            {
                var lower = LayerElement.Between(owner.shape, layer, owner.faces[i - 1], y, Kappa, slip);
                (sum, below, coupled) = (lower.Outer, lower.Outer, lower.Coupling * potential[i - 1]);
                load -= coupled;
            }
            else
            {
                var within = LayerElement.Within(owner.shape, layer, y, Kappa, slip);
                (sum, below) = (within.Outer, within.Outer);
            }
            if (i < owner.faces.Length)
            {
                var upper = LayerElement.Between(owner.shape, layer, y, owner.faces[i], Kappa, slip);
                sum += upper.Inner;
                load -= upper.Coupling * potential[i];
            }
            else
            {
                sum += LayerElement.Beyond(owner.shape, layer, y, Kappa, slip).Inner;
            }
            Complex own = 0;
            if (density[i] != Complex.Zero)
            {
                own = density[i] * owner.Part(layer, owner.faces[i - 1], y, Kappa).OuterWeight;
                load += own + density[i] * owner.Part(layer, y, owner.faces[i], Kappa).InnerWeight;
            }
            var a = load / sum;
            return (a, below * a + coupled - own, permeability);
        }

        // wH at a face, from the layer's own side.
        private Complex FaceField(int layer, bool outer)
        {
            var e = elements[layer];
            return outer
                ? e.Outer * potential[layer] + (layer > 0 ? e.Coupling * potential[layer - 1] : 0) - outerLoad[layer]
                : -(e.Inner * potential[layer - 1] + (layer < potential.Length ? e.Coupling * potential[layer] : 0) - innerLoad[layer]);
        }

        private double Pressure(Complex a, Complex h)
        {
            const double mu0 = PhysicalConstants.MagneticConstant;
            var b = Kappa * Complex.Abs(a);
            return 0.25 * (b * b / mu0 - mu0 * (h.Real * h.Real + h.Imaginary * h.Imaginary));
        }

        // Layers that hear of the speed are left out.
        private LayerElement[] StillFor(int harmonic)
        {
            if (Volatile.Read(ref rest.ByHarmonic[harmonic]) is { } known)
                return known;
            var made = new LayerElement[elements.Length];
            for (var i = 0; i < made.Length; i++)
                if (!owner.HearsOfSpeed(i))
                    made[i] = owner.ElementOf(i, Kappa, omega);
            Volatile.Write(ref rest.ByHarmonic[harmonic], made);
            return made;
        }

        private FilledLayer[] FilledFor(int harmonic)
        {
            if (Volatile.Read(ref owner.filled[harmonic]) is { } known)
                return known;
            var made = new FilledLayer[elements.Length];
            foreach (var place in owner.places)
                if (place.Fills)
                    made[place.Index] = owner.Part(owner.layers[place.Index], owner.faces[place.Index - 1], owner.faces[place.Index], Kappa);
            Volatile.Write(ref owner.filled[harmonic], made);
            return made;
        }
    }
}
