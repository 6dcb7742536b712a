using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Harmonic;
using Fieldwright.Fields.Static;

namespace Fieldwright.Fields.Motion;

/// <summary>The static field of direct currents and magnets with conductors moving steadily through it: the harmonic rows at ω = 0. Linear matter.</summary>
internal sealed class MovingStaticSystem : StaticSolution
{
    private readonly HarmonicSystem system;

    public MovingStaticSystem(MeshedModel meshed)
    {
        if (!new MaterialTable(meshed.Model, meshed.Space).IsLinear)
            throw new ArgumentException("Conductors in steady motion are solved with linear matter only: give the steel a relative permeability.", nameof(meshed));
        var model = meshed.Model;
        WindingCurrents = [.. model.Windings.Select(StaticSystem.DirectCurrent)];
        var imposed = model with { Windings = [.. model.Windings.Select((w, i) => w with { Drive = new ImposedCurrent(WindingCurrents[i]) })] };
        system = new HarmonicSystem(meshed.With(imposed), []);
        var (field, ports) = system.SolveDriven([.. MagnetLoad.Of(meshed).Select(v => new Complex(v, 0))]);
        Field = Real(field);
        ConductorVoltages = Real(ports[WindingCurrents.Length..]);
    }

    public override double[] Field { get; }

    public override double[] WindingCurrents { get; }

    public override double[] ConductorVoltages { get; }

    public override List<double> History { get; } = [];

    public override double[] SolveTangent(double[] loadOverNodes) => Real(system.SolveField(Phasors(loadOverNodes)));

    public override (double[] Field, double[] Ports) SolveDual(double[] load, double[] portLoad)
    {
        var (field, ports) = system.SolveDual(Phasors(load), Phasors(portLoad));
        return (Real(field), Real(ports));
    }

    private static Complex[] Phasors(double[] values) => [.. values.Select(v => new Complex(v, 0))];

    private static double[] Real(Complex[] values) => [.. values.Select(v => v.Real)];
}
