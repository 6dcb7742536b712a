namespace Fieldwright.Bench.Model;

/// <summary>How a thing of a free apparatus stands, turned about its own centre.</summary>
/// <param name="Tilt">How far its axis leans from the vertical, degrees.</param>
/// <param name="Towards">Where its top leans, degrees from the x axis towards y.</param>
/// <param name="Turned">How far it is turned about its own axis before it is leant over, degrees.</param>
public readonly record struct Attitude(double Tilt = 0, double Towards = 0, double Turned = 0);

/// <summary>A rectangular block: <c>block</c>. Upright and unturned its length lies along x, its width along y.</summary>
/// <param name="Length">Length, m.</param>
/// <param name="Width">Width, m.</param>
/// <param name="Thickness">Height, m.</param>
public sealed record BlockShape(double Length, double Width, double Thickness) : Shape
{
    /// <inheritdoc/>
    public override string Word => "block";

    /// <inheritdoc/>
    public override double Above => Thickness;
}

/// <summary>The top of an ideal slab of iron, level, flat and without end: <c>iron plane</c>.</summary>
public sealed record IronPlaneShape : Shape
{
    /// <inheritdoc/>
    public override string Word => "iron plane";
}

/// <summary>A rectangular channel of liquid metal with an electrode along either side: <c>pump channel</c>. Liquid flows along its own x, current crosses along its own y,
/// and the field that drives stands along its own axis.</summary>
/// <param name="Length">Length of the electrodes along the flow, m.</param>
/// <param name="Width">Distance of the electrodes, m.</param>
/// <param name="Thickness">Height of the channel, m.</param>
/// <param name="Carries">Direct current along its own y, A.</param>
/// <param name="WallResistance">Resistance of its walls from electrode to electrode, ohm; null for walls that insulate.</param>
public sealed record PumpChannelShape(double Length, double Width, double Thickness, double Carries, double? WallResistance) : Shape
{
    /// <inheritdoc/>
    public override string Word => "pump channel";

    /// <inheritdoc/>
    public override double Above => Thickness;
}

/// <summary>A place where the field is asked, without matter: <c>probe</c>.</summary>
public sealed record ProbeShape : Shape
{
    /// <inheritdoc/>
    public override string Word => "probe";
}

/// <summary>A strip of foil between two supports with current through it: <c>foil loop</c>. It hangs in the upright plane of its own x axis; its place is the middle between the supports.</summary>
/// <param name="Length">Length of strip between the supports, m.</param>
/// <param name="Width">Width of the strip, m.</param>
/// <param name="Thickness">Thickness of the foil, m.</param>
/// <param name="Span">Distance of the supports, m.</param>
/// <param name="Carries">Direct current from the support on the side of its own −x to the other, A.</param>
/// <param name="Elastic">Modulus of elasticity, Pa.</param>
public sealed record FoilLoopShape(double Length, double Width, double Thickness, double Span, double Carries, double Elastic) : Shape
{
    /// <inheritdoc/>
    public override string Word => "foil loop";
}
