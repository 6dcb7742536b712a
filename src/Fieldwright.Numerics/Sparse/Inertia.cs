namespace Fieldwright.Numerics.Sparse;

/// <summary>How many eigenvalues of a real symmetric matrix are positive, negative and zero; read from the pivots by Sylvester's law.</summary>
/// <param name="Positive">Number of positive eigenvalues.</param>
/// <param name="Negative">Number of negative eigenvalues.</param>
/// <param name="Zero">Number of zero eigenvalues; a matrix that factorises has none.</param>
public readonly record struct Inertia(int Positive, int Negative, int Zero);
