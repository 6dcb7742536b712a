using System.Globalization;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>An apparatus with some settings applied, and a key by which equal circumstances are known again.</summary>
internal sealed class Circumstances
{
    private readonly Apparatus bare;
    private readonly IReadOnlyList<Setting> settings;

    private Circumstances(Apparatus bare, IReadOnlyList<Setting> settings)
        : this(bare, settings, settings.Count == 0 ? bare : Inputs.Apply(bare, settings))
    {
    }

    private Circumstances(Apparatus bare, IReadOnlyList<Setting> settings, Apparatus turned)
    {
        this.bare = bare;
        this.settings = settings;
        Apparatus = turned;
        Key = string.Join('|', settings.Select(s => string.Create(CultureInfo.InvariantCulture, $"{s.Input.Text}={s.Value:R}{s.Word}")).Order(StringComparer.Ordinal));
    }

    /// <summary>The apparatus, all settings applied.</summary>
    public Apparatus Apparatus { get; }

    /// <summary>Equal for equal settings.</summary>
    public string Key { get; }

    /// <summary>The circumstances of a question: dials where they stand, then the state, then what the question itself sets.</summary>
    /// <exception cref="RouteFailedException">The state is not one of the apparatus.</exception>
    public static Circumstances Of(Apparatus apparatus, string? state, IReadOnlyList<Setting> conditions)
    {
        var settings = new List<Setting>();
        if (state is not null)
        {
            var found = apparatus.States.FirstOrDefault(s => Apparatus.Same(s.Name, state))
                ?? throw new RouteFailedException($"There is no state '{state}'.");
            settings.AddRange(found.Settings);
        }

        return new Circumstances(apparatus, Merge(settings, conditions));
    }

    /// <summary>The same with one more setting, which wins over an earlier one of the same input.</summary>
    public Circumstances With(Setting setting) => settings.Any(s => Apparatus.Same(s.Input.Text, setting.Input.Text))
        ? new(bare, Merge(settings, [setting]))
        : new(bare, [.. settings, setting], Inputs.Apply(Apparatus, [setting]));

    private static List<Setting> Merge(IReadOnlyList<Setting> first, IReadOnlyList<Setting> then) =>
        [.. first.Where(s => !then.Any(t => Apparatus.Same(t.Input.Text, s.Input.Text))), .. then];
}
