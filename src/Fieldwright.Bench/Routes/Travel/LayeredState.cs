using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Series.Cylinders;
using Fieldwright.Series.Layers;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>A layered field at one refinement, with its impedances and what it gives at the file's currents.</summary>
internal sealed class LayeredState
{
    private readonly Apparatus apparatus;
    private readonly LayerStack stack;
    private readonly LayeredField field;
    private readonly LayeredPoint sample;
    private readonly double speed;

    /// <summary>Solves for impedances where they are needed.</summary>
    public LayeredState(Apparatus apparatus, LayerStack stack, Part? lead, LayeredField field, bool needsImpedance)
    {
        (this.apparatus, this.stack, this.field, Lead) = (apparatus, stack, field, lead);
        speed = (stack.Shape == StackShape.Rotating ? lead?.TurningSpeed : lead?.Speed) ?? 0;
        sample = field.At(Start(), apparatus.Frequency, speed);
        if (!needsImpedance)
            return;
        int n = apparatus.Windings.Count;
        Impedance = FieldModels.Resistances(apparatus);
        for (int j = 0; j < n; j++)
        {
            var column = field.At([.. Enumerable.Range(0, n).Select(i => i == j ? Complex.One : 0)], apparatus.Frequency, speed).Voltages;
            for (int i = 0; i < n; i++)
                Impedance[i, j] += column[i];
        }
    }

    /// <summary>The body that moves or may; null when none does.</summary>
    public Part? Lead { get; }

    /// <summary>Impedance matrix of the windings, ohm, wire resistance included; null when it was not needed.</summary>
    public Complex[,]? Impedance { get; }

    /// <summary>Forces, heat and voltages at given currents.</summary>
    public LayeredPoint With(IReadOnlyDictionary<string, Complex> currents) => field.At(Ordered(currents), apparatus.Frequency, speed);

    /// <summary>Largest relative change against a coarser state: of thrust on its own scale, of heat, and a tenth of that of impedance.</summary>
    public double Change(LayeredState coarse)
    {
        double worst = 0.1 * ImpedanceChange(coarse), heat = sample.Heat.Values.Sum();
        foreach (var (name, value) in sample.Heat)
            if (value > 0)
                worst = Math.Max(worst, Math.Abs(value - coarse.sample.Heat[name]) / Math.Max(value, 1e-3 * heat));
        // A thrust near zero is held to what the heat could push at the speed of the field.
        double force = Math.Max(Math.Abs(sample.Thrust), apparatus.FieldSpeed() is { } v ? 0.1 * heat / Math.Abs(v) : 0);
        return force > 0 ? Math.Max(worst, Math.Abs(sample.Thrust - coarse.sample.Thrust) / force) : worst;
    }

    /// <summary>Largest change of an impedance against a coarser state, relative to the two windings' own.</summary>
    public double ImpedanceChange(LayeredState coarse)
    {
        double worst = 0;
        if (Impedance is { } z && coarse.Impedance is { } before)
            for (int i = 0; i < z.GetLength(0); i++)
                for (int j = 0; j < z.GetLength(1); j++)
                    worst = Math.Max(worst, (z[i, j] - before[i, j]).Magnitude / Math.Sqrt(z[i, i].Magnitude * z[j, j].Magnitude));
        return worst;
    }

    /// <summary>Ellipses that the field vector traces at places of the cross-section, T peak.</summary>
    public IReadOnlyList<FieldEllipse> Ellipses(IReadOnlyDictionary<string, Complex> currents, IReadOnlyList<(double X, double Y)> places)
    {
        var all = Ordered(currents);
        if (stack.Shape == StackShape.Flat)
            return [.. field.Field(all, apparatus.Frequency, speed, places).Select(p => new FieldEllipse(p.Along, p.Outwards))];
        // Round a centre: outwards and along, in this order, are right-handed with the axis.
        var ring = apparatus.Polyphases().Select(p => p.Row).OfType<RingRow>().First();
        var round = places.Select(p => (Math.Atan2(p.Y - ring.Y, p.X - ring.X), double.Hypot(p.X - ring.X, p.Y - ring.Y)));
        return [.. field.Field(all, apparatus.Frequency, speed, [.. round]).Select(p => new FieldEllipse(p.Outwards, p.Along))];
    }

    /// <summary>Flux density across the layers at a height, T, root mean square over a cycle and along the row.</summary>
    public Estimate AcrossMiddle(LayeredState coarse, IReadOnlyDictionary<string, Complex> currents, double height)
    {
        const int Samples = 16;
        var places = Enumerable.Range(0, Samples).Select(i => (stack.From + (i + 0.5) / Samples * (stack.To - stack.From), height)).ToList();
        double Rms(LayeredState of) => Math.Sqrt(of.Ellipses(currents, places).Average(e => 0.5 * (e.Y.Real * e.Y.Real + e.Y.Imaginary * e.Y.Imaginary)));
        double value = Rms(this);
        return new Estimate(value, Math.Abs(value - Rms(coarse)) + 0.01 * value);
    }

    private List<Complex> Ordered(IReadOnlyDictionary<string, Complex> currents) => [.. apparatus.Windings.Select(w => currents[w.Name])];

    // Currents to converge with: those of the file, or balanced ones where they follow from voltages.
    private List<Complex> Start() => SupplyNetwork.IsImposed(apparatus) ? Ordered(SupplyNetwork.ImposedCurrents(apparatus))
        : [.. apparatus.Windings.Select(w => w.Space is PhaseSpace p ? Complex.FromPolarCoordinates(1, -p.Of.Lag(p.Phase)) : Complex.One)];
}
