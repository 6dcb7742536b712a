using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Fieldwright.Fields;

namespace Fieldwright.Tests.Bench.Pictures;

/// <summary>Apparatus with their fields, solved once for all tests of pictures.</summary>
internal sealed record Drawn(Apparatus Apparatus, MagneticField Field, Sections Sections)
{
    public static Drawn Plate { get; } = Of(App.Small.Plate);

    public static Drawn Magnet { get; } = Of("""
        apparatus: Magnet
        symmetry: round
        materials: {strong: {remanence: 1.2 T, density: 7500 kg/m3}}
        parts:
          magnet: {shape: disc, radius: 10 mm, thickness: 8 mm, at: {z: 0 mm}, of: strong, magnetised: 90 deg}
          tube: {shape: tube, inner radius: 14 mm, outer radius: 17 mm, length: 12 mm, at: {z: -2 mm}, of: copper}
        """);

    public static Drawn Ring { get; } = Of("""
        apparatus: Ring
        symmetry: long
        depth: 20 mm
        materials: {iron: {relative permeability: 500, density: 7800 kg/m3}}
        parts:
          core: {shape: core, inner radius: 30 mm, outer radius: 45 mm, gap: 2 mm, gap at: 0 deg, of: iron}
        windings:
          coil: {turns: 100, wire: 0.5 mm grade 1, on: core, centred at: 180 deg, length: 40 mm, build: 5 mm, clearance: 1 mm}
        supplies:
          source: {current: 1 A, frequency: 0 Hz, feeds: coil}
        """);

    public Scene Scene(PictureOptions? options = null) =>
        SectionPicture.Of(Apparatus, options ?? new PictureOptions(), Field, Sections, Fieldwright.App.Pictures.TypeFace.Width);

    public Stage Stage => new(Sections, Apparatus.Layout == Layout.Round, 0, 0);

    private static Drawn Of(string yaml)
    {
        var reading = ApparatusFile.Read(yaml, "drawn.yaml");
        var apparatus = reading.Apparatus ?? throw new InvalidOperationException(string.Join('\n', reading.Mistakes));
        var (field, sections) = FieldRoute.Picture(apparatus, 0.01, default);
        return new Drawn(apparatus, field, sections);
    }
}
