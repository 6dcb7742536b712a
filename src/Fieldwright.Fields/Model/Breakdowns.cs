namespace Fieldwright.Fields;

/// <summary>The iterations of a nonlinear field did not settle, so there is no field to report.</summary>
/// <param name="message">What was being solved.</param>
/// <param name="history">Relative size of the residual after each iteration.</param>
public sealed class FieldNotConvergedException(string message, IReadOnlyList<double> history) : Exception(message)
{
    /// <summary>Relative size of the residual after each iteration, oldest first.</summary>
    public IReadOnlyList<double> History { get; } = history;
}

/// <summary>A long model carries a net current, whose field in open space has no finite energy.</summary>
/// <param name="netCurrent">The sum of all currents, peak, A.</param>
public sealed class NetCurrentException(double netCurrent) : Exception(
    string.Create(System.Globalization.CultureInfo.InvariantCulture, $"All currents of a long model must add up to zero, for the energy of a net current in open space is infinite; here they add up to {netCurrent:G6} A. Add the return conductor."))
{
    /// <summary>The sum of all currents, peak, A.</summary>
    public double NetCurrent { get; } = netCurrent;
}
