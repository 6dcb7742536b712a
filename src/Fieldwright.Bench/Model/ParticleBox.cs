namespace Fieldwright.Bench.Model;

/// <summary>A flat box of discs that are shaken or fly about: a gas one can see.</summary>
/// <param name="Width">Inner width, m.</param>
/// <param name="Height">Inner height, m; with a lid the room it may rise in.</param>
/// <param name="Tilt">How far it leans from lying flat, rad: 0 flat, π/2 upright.</param>
/// <param name="IsOpen">Whether its top is open.</param>
/// <param name="WallRestitution">Share of the speed that walls, floor and lid give back.</param>
/// <param name="Discs">The discs.</param>
/// <param name="Large">One large disc among them; null when there is none.</param>
/// <param name="Floor">The floor when it moves; null at rest.</param>
/// <param name="Lid">The lid; null when there is none.</param>
/// <param name="IsJoined">Whether left and right are one, as in a channel that runs round into itself: what leaves at one side comes in at the other.</param>
/// <param name="Grip">Share of the sideways slip that one touch of the top or lid takes away; both rest sideways.</param>
public sealed record ParticleBox(
    double Width, double Height, double Tilt, bool IsOpen, double WallRestitution, BoxDiscs Discs, BoxLarge? Large, BoxFloor? Floor, BoxLid? Lid, bool IsJoined = false, double Grip = 0);

/// <summary>The discs of a box, all alike.</summary>
/// <param name="Count">How many.</param>
/// <param name="Radius">Radius, m.</param>
/// <param name="Mass">Mass of each, kg.</param>
/// <param name="RmsSpeed">Speed they start with, root of the mean square, m/s.</param>
/// <param name="Restitution">Share of the approach speed that a meeting of two gives back.</param>
/// <param name="Moment">Magnetic moment of each, square to the box and all the same way, so that they repel, A m²; zero for discs that are no magnets.</param>
public sealed record BoxDiscs(double Count, double Radius, double Mass, double RmsSpeed, double Restitution, double Moment = 0);

/// <summary>A large disc among the small ones.</summary>
/// <param name="Radius">Radius, m.</param>
/// <param name="Mass">Mass, kg.</param>
public sealed record BoxLarge(double Radius, double Mass);

/// <summary>A floor that shakes and may drag sideways.</summary>
/// <param name="Amplitude">Amplitude, m.</param>
/// <param name="Frequency">Frequency, Hz.</param>
/// <param name="Speed">Speed at which its surface travels sideways, m/s.</param>
/// <param name="Grip">Share of the sideways slip that one touch takes away.</param>
public sealed record BoxFloor(double Amplitude, double Frequency, double Speed, double Grip);

/// <summary>A lid that slides up and down.</summary>
/// <param name="Mass">Mass, kg.</param>
/// <param name="Load">Force that presses it besides its own weight along the tilt, N.</param>
/// <param name="Height">Where it starts, m.</param>
public sealed record BoxLid(double Mass, double Load, double Height);
