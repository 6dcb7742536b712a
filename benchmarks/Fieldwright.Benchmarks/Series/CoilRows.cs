using Fieldwright.Matter;
using Fieldwright.Series.Coils;
using static Fieldwright.Benchmarks.Series.SeriesTable;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Benchmarks.Series;

/// <summary>Coils: inductances, forces, fields.</summary>
internal static class CoilRows
{
    private static readonly ThickCoil First = new(0.02, 0.03, -0.015, 0.015, 100), Second = new(0.022, 0.035, 0.02, 0.04, 80);

    public static void Run()
    {
        Head("coils");
        Row("loops on one axis, mutual inductance (sum along the wire)", Off(Filament.MutualInductance(0.03, 0.02, 0.01), Neumann(0.03, 0.02, 0.01)), () => Filament.MutualInductance(0.03, 0.02, 0.01));
        const double h = 1e-4;
        double slope = (8 * (Neumann(0.03, 0.02, 0.01 + h) - Neumann(0.03, 0.02, 0.01 - h)) - Neumann(0.03, 0.02, 0.01 + 2 * h) + Neumann(0.03, 0.02, 0.01 - 2 * h)) / (12 * h);
        Row("loops on one axis, its slope (differences of that sum)", Off(Filament.MutualInductanceGradient(0.03, 0.02, 0.01), slope), () => Filament.MutualInductanceGradient(0.03, 0.02, 0.01));
        Row("loop, field (its flux through a circle)", Off(2 * Math.PI * 0.02 * Filament.FieldOfLoop(0.03, 0.02, 0.01).VectorPotential, Neumann(0.03, 0.02, 0.01)), () => Filament.FieldOfLoop(0.03, 0.02, 0.01));
        Row("round wire loop, self-inductance (its own formula by hand, closed-forms)", Off(Filament.SelfInductance(0.1, 0.001), 0.62010e-6), () => Filament.SelfInductance(0.1, 0.001));
        Row("current sheet, Nagaoka's coefficient (Grover's table, six digits)", Off(Solenoid.NagaokaCoefficient(1), 0.688423), () => Solenoid.NagaokaCoefficient(1));
        Row("current sheet, self-inductance (table)", Off(Solenoid.SelfInductance(0.025, 0.05, 100), 339.723e-6), () => Solenoid.SelfInductance(0.025, 0.05, 100));

        double sections = SectionCoupling.Mutual(First.Section, First.Section, 14);
        Row("thick coil, self-inductance (finer rule)", Off(First.SelfInductance(), First.Turns * First.Turns * sections), () => First.SelfInductance());
        double by = First.Filaments(24, 24).Sum(a => Second.Filaments(24, 24).Sum(b => a.Turns * b.Turns * Filament.MutualInductance(a.Radius, b.Radius, b.Height - a.Height)));
        Row("thick coils on one axis, mutual inductance (filaments)", Off(ThickCoil.MutualInductance(First, Second), by), () => ThickCoil.MutualInductance(First, Second));
        double pull = First.Filaments(24, 24).Sum(a => Second.Filaments(24, 24).Sum(b => a.Turns * b.Turns * Filament.MutualInductanceGradient(a.Radius, b.Radius, b.Height - a.Height)));
        Row("thick coils on one axis, force (filaments)", Off(ThickCoil.Force(First, Second, 1, 1).Z, pull), () => ThickCoil.Force(First, Second, 1, 1));
        Vector near = new(0.01, 0.02, 0.03), inside = new(0.025, 0, 0.003);
        Row("thick coil, field outside (filaments)", Departure(First.FluxDensity(near, 1), Summed(near)), () => First.FluxDensity(near, 1));
        // Cut in four at the point, each part is outside its own windings' middle.
        ThickCoil[] parts = [Part(0.02, 0.025, -0.015, 0.003), Part(0.025, 0.03, -0.015, 0.003), Part(0.02, 0.025, 0.003, 0.015), Part(0.025, 0.03, 0.003, 0.015)];
        var cut = parts.Aggregate(default(Vector), (sum, p) => sum + p.FluxDensity(inside, 1));
        Row("thick coil, field inside the winding (cut in four there)", Departure(First.FluxDensity(inside, 1), cut), () => First.FluxDensity(inside, 1));

        var askew = new ThickCoil(0.022, 0.035, -0.01, 0.01, 80, new Vector(0.02, 0.01, 0.05), new Vector(0.3, 0.1, 1));
        var pair = new CoilPair(First, askew);
        var (m, f) = (pair.MutualInductance(), pair.Force());
        Row("thick coils askew, mutual inductance (its own bar)", m.Error / m.Value, () => pair.MutualInductance());
        Row("thick coils askew, force (its own bar)", f.Error / f.Value.Length, () => pair.Force());
        Row("thick coils askew, torque (its own bar)", pair.Torque(askew.Centre).Error / pair.Torque(askew.Centre).Value.Length, () => pair.Torque(askew.Centre));

        var square = new RacetrackCoil(0.04, 0.04, 0.02, 0.01, 0.03, 100); // its corners meet: a round coil
        Row("racetrack coil, field outside (round coil)", Departure(square.FluxDensity(near), First.FluxDensity(near, 1)), () => square.FluxDensity(near));
        Row("racetrack coil, field inside the winding (round coil)", Departure(square.FluxDensity(inside), First.FluxDensity(inside, 1)), () => square.FluxDensity(inside));
        Row("racetrack coil, self-inductance (round coil)", Off(square.SelfInductance().Value, First.SelfInductance()), () => square.SelfInductance());
        var racetracks = new CoilPair(square, askew);
        Row("racetrack and round coil askew, mutual inductance (two round ones)", Off(racetracks.MutualInductance().Value, m.Value), () => racetracks.MutualInductance());
        LimbCoil limb = new(0.04, 0.065, 0.03, 0.001, 0.008, 0, 1.2, 240), other = new(0.04, 0.065, 0.03, 0.001, 0.006, Math.PI, 1.2, 120);
        Row("coil on a limb, self-inductance (its own bar)", limb.SelfInductance().Error / limb.SelfInductance().Value, () => limb.SelfInductance());
        Row("coils on limbs, mutual inductance (its own bar)", LimbCoil.MutualInductance(limb, other).Error / Math.Abs(LimbCoil.MutualInductance(limb, other).Value), () => LimbCoil.MutualInductance(limb, other));
    }

    private static ThickCoil Part(double inner, double outer, double from, double to) => new(inner, outer, from, to, 100 * (outer - inner) / 0.01 * (to - from) / 0.03);

    private static Vector Summed(Vector at)
    {
        double r = double.Hypot(at.X, at.Y);
        var field = First.Filaments(32, 64).Select(f => f.Field(r, at.Z)).Aggregate((a, b) => a + b);
        return new Vector(field.Radial * at.X / r, field.Radial * at.Y / r, field.Axial);
    }

    private static double Departure(Vector value, Vector expected) => (value - expected).Length / expected.Length;

    // μ₀ab/2 ∫cos φ/distance dφ; the trapezoid is exact to rounding on a circle.
    private static double Neumann(double a, double b, double gap)
    {
        const int n = 512;
        double sum = 0;
        for (int i = 0; i < n; i++)
        {
            double cos = Math.Cos(2 * Math.PI * i / n);
            sum += cos / Math.Sqrt(a * a + b * b + gap * gap - 2 * a * b * cos);
        }

        return 0.5 * PhysicalConstants.MagneticConstant * a * b * 2 * Math.PI * sum / n;
    }
}
