namespace Fieldwright.Bench.Pictures;

/// <summary>What picture is wanted.</summary>
/// <param name="State">The state shown; null for the apparatus as it stands.</param>
/// <param name="PhaseDegrees">The instant shown, as ωt in degrees from the moment a source of phase zero peaks; null for the instant when the field is strongest. Without meaning for direct current.</param>
/// <param name="OnPaper">Whether it is drawn dark on light.</param>
/// <param name="RelativeTarget">How good the field is, as a share of its energy; lines look smooth from 0.1 % on.</param>
/// <param name="Turning">Whether ellipses show which way an alternating field goes round, in a long section; where a cylinder is free to turn they are drawn anyhow.</param>
public sealed record PictureOptions(string? State = null, double? PhaseDegrees = null, bool OnPaper = false, double RelativeTarget = 0.001, bool Turning = false);
