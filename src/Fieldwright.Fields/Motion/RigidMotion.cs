namespace Fieldwright.Fields;

/// <summary>Steady motion of a conducting region that looks the same as it moves: a long sheet or bar along itself, a cylinder about its axis, a tube
/// along its axis. The mesh stands still and the matter moves through it.</summary>
/// <remarks>
/// The current is J = σ(E + v×B). Round: v is along z only. Long: translation plus turning about a centre, counter-clockwise. The velocity may have
/// no component out of the region where there is matter to leave; ends of a finite sheet that stand still in the model stand for a sheet that runs on.
/// </remarks>
/// <param name="Velocity">Velocity of the centre, m/s.</param>
/// <param name="AngularVelocity">Turning of a long model's region, rad/s, counter-clockwise.</param>
/// <param name="Centre">The point it turns about, m.</param>
public sealed record RigidMotion(PlaneVector Velocity, double AngularVelocity = 0, PlaneVector Centre = default)
{
    /// <summary>Velocity of the matter at a place, m/s.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    public PlaneVector At(double x, double y) => new(Velocity.X - (AngularVelocity * (y - Centre.Y)), Velocity.Y + (AngularVelocity * (x - Centre.X)));
}
