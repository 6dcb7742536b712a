using Fieldwright.Numerics;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>The coenergy of a model between its two complementary solutions, and what keeps them apart.</summary>
/// <param name="Coenergy">Bounds of ∫B·dH over all space, J.</param>
/// <param name="Mesh">Distance of the two solutions on this mesh, J: what a finer mesh removes.</param>
/// <param name="Geometry">What arcs drawn as parabolas may be worth at either end, J.</param>
/// <param name="Curve">What the BH tables leave open between their points, J, at both ends together.</param>
/// <param name="Shares">Share of each triangle in the distance, the mapped outside included, J.</param>
internal sealed record CoenergyBracket(Bracket Coenergy, double Mesh, double Geometry, double Curve, double[] Shares);
