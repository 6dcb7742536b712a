using Fieldwright.Numerics;

namespace Fieldwright.Fields;

/// <summary>What every field model must satisfy before anything is built from it.</summary>
internal static class ModelCheck
{
    public static void Check(FieldModel model)
    {
        if (model.Parts is null || model.Parts.Count == 0) throw new ArgumentException("A field model needs at least one part.", nameof(model));
        Guard.NotNegative(model.Frequency, nameof(FieldModel.Frequency));
        if (model.Symmetry == Symmetry.Long) Guard.Positive(model.Depth, nameof(FieldModel.Depth));
        if (model.Edges is { } edges)
        {
            if (model.Symmetry == Symmetry.Round) throw new ArgumentException("Only long models repeat along x.", nameof(model));
            Guard.Positive(edges.Right - edges.Left, nameof(FieldModel.Edges));
            var slack = 1e-9 * edges.Period;
            if (model.Parts.SelectMany(p => p.Edges).SelectMany(OpenSpace.Samples).Any(p => p.X < edges.Left - slack || p.X > edges.Right + slack))
                throw new ArgumentException($"Every part lies between the edges at x = {edges.Left} and {edges.Right}.", nameof(model));
        }
        var regions = new HashSet<int>();
        foreach (var part in model.Parts)
        {
            if (part.Region <= 0) throw new ArgumentException($"Region numbers are positive; an outline carries {part.Region}.", nameof(model));
            regions.Add(part.Region);
            if (model.Symmetry == Symmetry.Round && part.Edges.Any(e => OpenSpace.Samples(e).Any(p => p.X < -1e-12 * Math.Abs(p.Y))))
                throw new ArgumentException($"Region {part.Region} reaches across the axis: r must not be negative.", nameof(model));
        }
        foreach (var (region, matter) in model.Matter) Check(region, matter);
        foreach (var winding in model.Windings) Check(model, regions, winding);
        foreach (var (region, motion) in model.Motion) Check(model, regions, region, motion);
        var used = new HashSet<int>();
        foreach (var conductor in model.Conductors)
        {
            if (model.Symmetry == Symmetry.Round)
                throw new ArgumentException($"Conductor {conductor.Name}: in a round model every ring closes on itself; conductors are joined or driven in long models only.", nameof(model));
            Check(model, conductor.Name, conductor.Drive);
            foreach (var region in conductor.Regions)
            {
                if (!regions.Contains(region)) throw new ArgumentException($"Conductor {conductor.Name} names region {region}, which has no outline.", nameof(model));
                if (!used.Add(region)) throw new ArgumentException($"Region {region} belongs to two conductors.", nameof(model));
            }
        }
    }

    private static void Check(int region, RegionMatter matter)
    {
        if (region <= 0) throw new ArgumentException($"Matter is given for region {region}; region numbers are positive.", nameof(region));
        Guard.NotNegative(matter.Conductivity, $"{matter.Name}: {nameof(matter.Conductivity)}");
        Guard.InRange(matter.RelativePermeability, 1e-6, 1e9, $"{matter.Name}: {nameof(matter.RelativePermeability)}");
        Guard.InRange(matter.StackingFactor, 0.01, 1, $"{matter.Name}: {nameof(matter.StackingFactor)}");
        Guard.Finite(matter.Remanence.X, $"{matter.Name}: {nameof(matter.Remanence)}");
        Guard.Finite(matter.Remanence.Y, $"{matter.Name}: {nameof(matter.Remanence)}");
        if (matter.IsMagnet && matter.Curve is not null)
            throw new ArgumentException($"{matter.Name}: a magnet is given by its remanence and the relative permeability of its recoil line, not by a BH curve.", nameof(matter));
    }

    private static void Check(FieldModel model, HashSet<int> regions, FieldWinding winding)
    {
        Guard.NotNegative(winding.Resistance, $"{winding.Name}: {nameof(winding.Resistance)}");
        if (winding.Sides.Count == 0) throw new ArgumentException($"Winding {winding.Name} has no side.", nameof(winding));
        foreach (var side in winding.Sides)
        {
            if (!regions.Contains(side.Region)) throw new ArgumentException($"Winding {winding.Name} names region {side.Region}, which has no outline.", nameof(winding));
            Guard.Finite(side.Turns, $"{winding.Name}: {nameof(side.Turns)}");
            if (model.MatterOf(side.Region).Conductivity > 0)
                throw new ArgumentException($"Winding {winding.Name} lies in region {side.Region}, whose conductivity must be 0: a stranded winding carries its current evenly.", nameof(winding));
        }
        Check(model, winding.Name, winding.Drive);
        if (winding.Drive is ImposedVoltage voltage && winding.Resistance == 0 && voltage.SeriesImpedance == 0 && model.Frequency == 0)
            throw new ArgumentException($"Winding {winding.Name} is driven by a direct voltage and has no resistance.", nameof(winding));
    }

    private static void Check(FieldModel model, HashSet<int> regions, int region, RigidMotion motion)
    {
        if (!regions.Contains(region)) throw new ArgumentException($"Region {region} moves but has no outline.", nameof(region));
        Guard.Finite(motion.Velocity.X, nameof(RigidMotion.Velocity));
        Guard.Finite(motion.Velocity.Y, nameof(RigidMotion.Velocity));
        Guard.Finite(motion.AngularVelocity, nameof(RigidMotion.AngularVelocity));
        if (model.Symmetry == Symmetry.Round && (motion.Velocity.X != 0 || motion.AngularVelocity != 0))
            throw new ArgumentException($"Region {region}: in a round model matter moves along z only.", nameof(motion));
    }

    private static void Check(FieldModel model, string name, WindingDrive drive)
    {
        var value = drive switch { ImposedCurrent c => c.Current, ImposedVoltage v => v.Voltage, _ => 0 };
        Guard.Finite(value.Real, name);
        Guard.Finite(value.Imaginary, name);
        if (model.Frequency == 0 && value.Imaginary != 0)
            throw new ArgumentException($"{name}: a direct current or voltage has no imaginary part.", nameof(drive));
        if (drive is not ImposedVoltage { SeriesImpedance: var z }) return;
        Guard.NotNegative(z.Real, $"{name}: real part of {nameof(ImposedVoltage.SeriesImpedance)}");
        Guard.Finite(z.Imaginary, $"{name}: imaginary part of {nameof(ImposedVoltage.SeriesImpedance)}");
    }
}
