using Fieldwright.Fields;
using Fieldwright.Fields.Elements;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Short ways to a solved field in tests.</summary>
internal static class Solved
{
    public static StaticField Static(FieldModel model, FieldSpace space) => Static(MeshedModel.On(model, space));

    public static StaticField Static(MeshedModel meshed) => StaticField.Solve(meshed, TestContext.Current.CancellationToken);

    public static HarmonicField Harmonic(FieldModel model, FieldSpace space) => Harmonic(MeshedModel.On(model, space));

    public static HarmonicField Harmonic(MeshedModel meshed) => HarmonicField.Solve(meshed, TestContext.Current.CancellationToken);

    public static Dictionary<int, RegionMatter> Matter(params (int Region, RegionMatter Matter)[] matter) => matter.ToDictionary(m => m.Region, m => m.Matter);

    /// <summary>Observed order between two meshes whose sizes differ by two.</summary>
    public static double Rate(double coarse, double fine) => Math.Log2(coarse / fine);
}
