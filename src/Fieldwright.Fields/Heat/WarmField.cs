using Fieldwright.Numerics;

namespace Fieldwright.Fields;

/// <summary>How a harmonic field and the temperatures it makes act on one another.</summary>
/// <param name="Field">The field on its mesh, conductivities and wire resistances being those at <paramref name="Reference"/>.</param>
/// <param name="Heat">Heat in the same mesh; its source is replaced by the losses.</param>
/// <param name="Reference">Temperature, K, at which the field's conductivities and resistances hold.</param>
/// <param name="Coefficients">Temperature coefficient of resistivity, 1/K, by region: of solid conductors, and of the regions of windings for their wire.</param>
public sealed record WarmField(MeshedModel Field, HeatModel Heat, double Reference, IReadOnlyDictionary<int, double> Coefficients)
{
    private const int MostRounds = 100;

    /// <summary>Field and temperature that agree, at rest.</summary>
    /// <remarks>Each region has the conductivity of its mean temperature, each winding the resistance of the mean over its sides: where temperature varies much within one
    /// region divide it into several. Gone round until mean temperatures move by less than 1e-8 of themselves.</remarks>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="FieldNotConvergedException">They do not agree: most likely more heat is made the warmer it gets.</exception>
    public (HarmonicField Field, HeatField Heat) Steady(CancellationToken cancellation = default)
    {
        var means = Coefficients.Keys.ToDictionary(r => r, _ => Reference);
        var history = new List<double>();
        for (var round = 0; round < MostRounds; round++)
        {
            cancellation.ThrowIfCancellationRequested();
            var field = HarmonicField.Solve(At(means), cancellation);
            var heat = HeatField.Steady(Heated(field), means.Count > 0 ? means.Values.Max() : Reference);
            var change = Update(means, heat);
            history.Add(change);
            if (change < 1e-8) return (field, heat);
        }
        throw new FieldNotConvergedException("Field and temperature do not agree.", history);
    }

    /// <summary>Temperatures after a time from a uniform start, the field following them.</summary>
    /// <param name="start">Uniform temperature at the start, K.</param>
    /// <param name="end">Time, s.</param>
    /// <param name="steps">Equal pieces of time in which the losses are held; they are those of the temperature in the middle of a piece, so the error is of second order.</param>
    /// <param name="cancellation">Stops the work.</param>
    public (HarmonicField Field, HeatField Heat) After(double start, double end, int steps = 20, CancellationToken cancellation = default)
    {
        Guard.Positive(end);
        Guard.Positive(steps);
        var means = Coefficients.Keys.ToDictionary(r => r, _ => start);
        var field = HarmonicField.Solve(At(means), cancellation);
        var heat = HeatField.Uniform(Heated(field), start);
        for (var s = 0; s < steps; s++)
        {
            double from = end * s / steps, to = end * (s + 1) / steps;
            Update(means, heat.With(Heated(field)).After(0.5 * (from + to), cancellation: cancellation));
            field = HarmonicField.Solve(At(means), cancellation);
            heat = heat.With(Heated(field)).After(to, cancellation: cancellation);
            Update(means, heat);
            field = HarmonicField.Solve(At(means), cancellation);
        }
        return (field, heat);
    }

    private MeshedModel At(Dictionary<int, double> means)
    {
        double Factor(int region) => Coefficients.TryGetValue(region, out var c) ? 1 + (c * (means[region] - Reference)) : 1;
        var model = Field.Model;
        return Field.With(model with
        {
            Matter = model.Matter.ToDictionary(m => m.Key, m => m.Value.Conductivity > 0 ? m.Value with { Conductivity = m.Value.Conductivity / Factor(m.Key) } : m.Value),
            Windings = [.. model.Windings.Select(w => w with { Resistance = w.Resistance * w.Sides.Sum(s => Math.Abs(s.Turns) * Factor(s.Region)) / w.Sides.Sum(s => Math.Abs(s.Turns)) })],
        });
    }

    /// <summary>The heat model with the losses of a field for its source: solid loss where it is made, that of wire even over the sides of each winding.</summary>
    private HeatModel Heated(HarmonicField field)
    {
        var wire = new Dictionary<int, double>();
        foreach (var winding in field.Model.Windings)
        {
            var volume = winding.Sides.Sum(s => field.Volume(s.Region));
            foreach (var side in winding.Sides) wire[side.Region] = wire.GetValueOrDefault(side.Region) + (field.WindingLoss(winding.Name) / volume);
        }
        return Heat with { Source = (region, x, y, _) => wire.GetValueOrDefault(region) + (field.Model.MatterOf(region).Conductivity > 0 ? field.LossDensity(x, y) : 0) };
    }

    private static double Update(Dictionary<int, double> means, HeatField heat)
    {
        var change = 0.0;
        foreach (var region in means.Keys.ToList())
        {
            if (!heat.Model.Matter.ContainsKey(region)) continue;
            var mean = heat.Mean(region);
            change = Math.Max(change, Math.Abs(mean - means[region]) / mean);
            means[region] = mean;
        }
        return change;
    }
}
