using System.Globalization;
using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter.Units;

namespace Fieldwright.Bench.Pictures;

/// <summary>Finds the parts and windings of an apparatus on the sheet and what is said of each.</summary>
internal static class Bodies
{
    /// <summary>Parts, then windings, in file order.</summary>
    public static IReadOnlyList<Body> Of(Apparatus apparatus, MagneticField field, Sections sections, Stage stage)
    {
        var goals = Goals(apparatus, sections);
        var answers = goals.Count == 0 ? [] : AdaptiveField.Judge(field, goals);
        var bodies = new List<Body>();
        foreach (var part in apparatus.Parts)
        {
            bool magnetic = IsMagnetic(part);
            bodies.Add(new Body(part.Name, Loops(field, sections.RegionsOf(part.Name), stage), [.. Details(part, apparatus, field, sections, answers, magnetic)], false, magnetic, part.Magnetised));
        }

        foreach (var winding in apparatus.Windings)
        {
            var loops = sections.SectionsOf(winding.Name).SelectMany(s => Loops(field, [s.Outline.Region], stage)).ToList();
            bodies.Add(new Body(winding.Name, loops, [.. Details(winding, field)], true, false));
        }

        return bodies;
    }

    /// <summary>Whether a part is steel or a magnet.</summary>
    public static bool IsMagnetic(Part part) => part.Material.Curve is not null || part.Material.RelativePermeability > 2 || part.Magnetised is not null;

    /// <summary>What a force on a part is called along the way it may move.</summary>
    public static string ForceWord(Part part, Apparatus apparatus) => apparatus.Layout == Layout.Round ? "lift" : part.Freedom == Freedom.Sideways ? "force along x" : "force along y";

    /// <summary>The forces and heats that are said under the parts' names.</summary>
    public static IReadOnlyList<Goal> Goals(Apparatus apparatus, Sections sections)
    {
        var goals = new List<Goal>();
        foreach (var part in apparatus.Parts)
        {
            if (part.Freedom != Freedom.Fixed)
                goals.Add(new ForceGoal("force " + part.Name, sections.RegionsOf(part.Name), part.Freedom == Freedom.Sideways ? ForceComponent.X : ForceComponent.Y));
            if (apparatus.Frequency > 0 && FieldModels.Conducts(part))
                goals.Add(new LossGoal("heat " + part.Name, sections.RegionsOf(part.Name)));
        }

        return goals;
    }

    /// <summary>A number beside the thing it belongs to, as people say it: <c>9.2 ± 0.3 µN</c>; what is below a billionth, bar and all, is 0.</summary>
    /// <param name="value">Value, SI.</param>
    /// <param name="bar">Error bar, SI; zero where none is known.</param>
    /// <param name="unit">Unit, without prefix.</param>
    public static string Label(double value, double bar, string unit) =>
        (Math.Max(Math.Abs(value), bar) < 1e-9 ? "0 " + unit : SiFormat.Write(value, bar, unit)).Replace('-', '−');

    /// <summary>What is said under a part's name.</summary>
    public static IEnumerable<string> Details(
        Part part, Apparatus apparatus, MagneticField field, Sections sections, IReadOnlyList<GoalAnswer> answers, bool magnetic)
    {
        if (!Apparatus.Same(part.Material.Name, part.Name))
            yield return part.Material.Name;
        string force = ForceWord(part, apparatus);
        foreach (var answer in answers)
        {
            if (answer.Goal.Name == "force " + part.Name)
                yield return $"{force} {Label(answer.Value, answer.ErrorBar, "N")}";
            if (answer.Goal.Name == "heat " + part.Name)
                yield return $"heat {Label(answer.Value, answer.ErrorBar, "W")}";
        }

        if (magnetic && sections.RegionsOf(part.Name) is { Count: > 0 } regions)
            yield return $"up to {Shown.Digits(regions.Max(field.PeakFluxDensity), 2)} T";
    }

    /// <summary>What is said under a winding's name.</summary>
    public static IEnumerable<string> Details(Winding winding, MagneticField field)
    {
        yield return string.Create(CultureInfo.InvariantCulture, $"{winding.Turns:0.##} turns, {winding.Wire.Text}");
        var current = Current(field, winding.Name);
        if (current == 0)
            yield return "no current";
        else if (field is StaticField)
            yield return $"{Shown.Digits(current.Real, 3)} A";
        else
            yield return Alternating(current);
    }

    /// <summary>An alternating current in words: its rms value, and its phase where that is not zero.</summary>
    public static string Alternating(Complex current)
    {
        double degrees = current.Phase * 180 / Math.PI;
        string phase = Math.Abs(degrees) < 0.5 ? "" : Math.Abs(degrees) > 179.5 ? ", reversed"
            : string.Create(CultureInfo.InvariantCulture, $", {(degrees < 0 ? "lags" : "leads")} {Math.Abs(Math.Round(degrees)):0}°");
        return $"{Shown.Digits(current.Magnitude / Math.Sqrt(2), 3)} A rms{phase}";
    }

    private static Complex Current(MagneticField field, string winding) => field switch
    {
        HarmonicField harmonic => harmonic.Current(winding),
        StaticField still => still.Current(winding),
        _ => 0,
    };

    // A loop of a round section that touches the axis is closed by its own mirror image; one that does not has a twin.
    private static List<IReadOnlyList<Point>> Loops(MagneticField field, IReadOnlyList<int> regions, Stage stage)
    {
        var found = new List<IReadOnlyList<Point>>();
        foreach (var loop in RegionLoops.Of(field, [.. regions]))
        {
            if (!stage.IsRound)
            {
                found.Add([.. loop.Select(stage.On)]);
                continue;
            }

            bool OnAxis(int i) => Math.Abs(loop[(i + loop.Count) % loop.Count].X) < 1e-9 / stage.Scale;
            int start = Enumerable.Range(0, loop.Count).FirstOrDefault(i => OnAxis(i) && !OnAxis(i + 1), -1);
            if (start < 0)
            {
                found.Add([.. loop.Select(stage.On)]);
                found.Add([.. loop.Select(p => stage.Mirror(stage.On(p)))]);
                continue;
            }

            // From the axis out and back to it; then the mirror image the other way.
            var half = new List<Point>();
            for (int i = start; i < start + loop.Count && (i == start || !OnAxis(i)); i++)
                half.Add(stage.On(loop[i % loop.Count]));
            int end = Enumerable.Range(start + 1, loop.Count).First(OnAxis);
            half.Add(stage.On(loop[end % loop.Count]));
            found.Add([.. half, .. half.AsEnumerable().Reverse().Skip(1).SkipLast(1).Select(stage.Mirror)]);
        }

        return found;
    }
}
