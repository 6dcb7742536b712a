using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Motion;

/// <summary>What the coils of an apparatus, on their true supplies, do to its ball wherever it is, however it moves and whatever its temperature.</summary>
internal sealed class BallAloft
{
    private readonly Apparatus apparatus;
    private readonly Part part;
    private readonly List<ThickCoil> coils;
    private readonly BallMotion motion;
    private readonly BallOverCoils first;
    private readonly bool imposed;
    private readonly Complex[,]? bare;
    private readonly double cold;

    /// <summary>Prepares the coils.</summary>
    public BallAloft(Apparatus apparatus, Part part)
    {
        (this.apparatus, this.part) = (apparatus, part);
        coils = [.. apparatus.Windings.Select(w => (ThickCoil)FreeBodies.Coil(w))];
        imposed = SupplyNetwork.IsImposed(apparatus);
        var given = imposed ? SupplyNetwork.ImposedCurrents(apparatus) : null;
        first = BallRoute.Ball(part, apparatus, coils, w => given?[w.Name] ?? Complex.One);
        motion = new BallMotion(first);
        bare = imposed ? null : BallRoute.WithoutBall(apparatus, coils);
        cold = FieldModels.Conducts(part) ? part.Material.ConductivityAt(apparatus.Ambient) : 0;
    }

    /// <summary>Radius of the ball over the distance of its centre from the nearest winding; 1 inside one.</summary>
    public double NearestRatio(Vector place)
    {
        try
        {
            return first.NearestRatio(place);
        }
        catch (ArgumentException)
        {
            return 1;
        }
    }

    /// <summary>Force, torque and heat.</summary>
    /// <param name="place">Centre of the ball, m.</param>
    /// <param name="velocity">Its velocity, m/s.</param>
    /// <param name="spin">Its spin, rad/s.</param>
    /// <param name="temperature">Its temperature, K.</param>
    /// <param name="tolerance">Relative error allowed in the force.</param>
    public BallInMotion At(Vector place, Vector velocity, Vector spin, double temperature, double tolerance)
    {
        double conductivity = cold > 0 ? part.Material.ConductivityAt(temperature) / cold : 1;
        if (imposed)
            return motion.At(place, velocity, spin, conductivity, tolerance);
        var z = BallRoute.WithBall(bare!, BallRoute.Ball(part, apparatus, coils, _ => Complex.One, conductivity), place, tolerance);
        var currents = SupplyNetwork.Currents(apparatus, z);
        return motion.In(BallRoute.Ball(part, apparatus, coils, w => currents[w.Name])).At(place, velocity, spin, conductivity, tolerance);
    }
}
