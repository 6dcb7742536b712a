using System.Numerics;
using Fieldwright.Numerics;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Fieldwright.Series.Discs;

/// <summary>How a disc about the common axis of its coils is pushed and turned back, in the plane of one sideways direction x, tilts taken about y.</summary>
/// <param name="Sideways">−∂F_x/∂x held level, N/m; positive when it is pushed back.</param>
/// <param name="SidewaysByTilt">−∂F_x/∂θ, N per rad of tilt that lifts the side of −x.</param>
/// <param name="TiltBySideways">−∂τ_y/∂x, N·m per m; unlike the one before where the coils are out of step, for then the forces have no potential.</param>
/// <param name="Tilting">−∂τ_y/∂θ, N·m per rad; positive when it is righted.</param>
/// <param name="RelativeError">Error of each as a share of the largest change of force and torque that makes it up.</param>
public sealed record DiscStiffness(double Sideways, double SidewaysByTilt, double TiltBySideways, double Tilting, double RelativeError)
{
    /// <summary>The same slopes against speed, by the lag of the currents behind the motion: −∂F_x/∂ẋ, −∂F_x/∂θ̇, −∂τ_y/∂ẋ, −∂τ_y/∂θ̇, N·s/m and so on; positive brakes, which thick quick currents do not.</summary>
    public (double Sideways, double SidewaysByTilt, double TiltBySideways, double Tilting) Lag { get; init; }

    /// <summary>Rates s of the joint motions exp(st) of sliding and tilting: Newton's laws of a small stray, derived here.</summary>
    /// <param name="mass">Mass, kg; positive.</param>
    /// <param name="inertia">Moment of inertia about a diameter, kg·m²; positive.</param>
    /// <param name="withLag">Whether the lag of the currents counts.</param>
    /// <returns>Four, 1/s, the fastest growing first: a real one above zero slides off, a complex pair above zero swings ever wider.</returns>
    public IReadOnlyList<Complex> Rates(double mass, double inertia, bool withLag)
    {
        Guard.Positive(mass);
        Guard.Positive(inertia);
        var lag = withLag ? Lag : default;
        var motion = DenseMatrix.OfArray(new[,]
        {
            { 0, 0, 1, 0 },
            { 0, 0, 0, 1 },
            { -Sideways / mass, -SidewaysByTilt / mass, -lag.Sideways / mass, -lag.SidewaysByTilt / mass },
            { -TiltBySideways / inertia, -Tilting / inertia, -lag.TiltBySideways / inertia, -lag.Tilting / inertia },
        });
        return [.. motion.Evd().EigenValues.OrderByDescending(s => s.Real)];
    }
}
