namespace Fieldwright.Series.Layers;

/// <summary>A winding in its place in a stack.</summary>
/// <param name="Winding">The winding.</param>
/// <param name="Layer">Layer it belongs to, counted from zero.</param>
/// <param name="FillsLayer">True when its turns fill the layer evenly in thickness (the layer must not conduct); false when they lie as a sheet on the layer's inner (lower) face.</param>
public readonly record struct PlacedWinding(Winding Winding, int Layer, bool FillsLayer);
