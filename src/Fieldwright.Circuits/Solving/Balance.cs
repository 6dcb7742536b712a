namespace Fieldwright.Circuits.Solving;

/// <summary>
/// The equations of a network at one state: f(x, t) + dq(x)/dt = 0. Rows and unknowns are the potentials of the nodes, then the flows of the branches;
/// a node's row says that the flows out of it sum to nothing.
/// </summary>
/// <param name="order">Number of unknowns.</param>
/// <param name="sloped">False where the slopes are of no interest: they take room of the order squared.</param>
internal sealed class Balance(int order, bool sloped = true)
{
    public int Order { get; } = order;

    /// <summary>State: potentials, then branch flows.</summary>
    public double[] X { get; set; } = new double[order];

    public double[] F { get; } = new double[order];

    public double[] Q { get; } = new double[order];

    /// <summary>∂f/∂x by rows.</summary>
    public double[] SlopeF { get; } = sloped ? new double[order * order] : [];

    /// <summary>∂q/∂x by rows.</summary>
    public double[] SlopeQ { get; } = sloped ? new double[order * order] : [];

    public double Time { get; set; }

    /// <summary>Share of the sources that is switched on, 0 to 1, while a hard problem is approached in steps.</summary>
    public double SourceShare { get; set; } = 1;

    public void Clear()
    {
        Array.Clear(F);
        Array.Clear(Q);
        Array.Clear(SlopeF);
        Array.Clear(SlopeQ);
    }

    /// <summary>Value of an unknown; the reference node has none and stands at zero.</summary>
    public double this[int unknown] => unknown < 0 ? 0 : X[unknown];

    public void AddFlow(int equation, double value)
    {
        if (equation >= 0)
            F[equation] += value;
    }

    public void AddSlope(int equation, int unknown, double value)
    {
        if (equation >= 0 && unknown >= 0 && SlopeF.Length > 0)
            SlopeF[equation * Order + unknown] += value;
    }

    /// <summary>A branch between two nodes: its flow leaves one and enters the other, and its own row begins with minus the drop between them, to be met by its law.</summary>
    public void AddBranch(int branch, int from, int to)
    {
        AddFlow(from, this[branch]);
        AddFlow(to, -this[branch]);
        AddSlope(from, branch, 1);
        AddSlope(to, branch, -1);
        AddFlow(branch, this[to] - this[from]);
        AddSlope(branch, from, -1);
        AddSlope(branch, to, 1);
    }

    public void AddStored(int equation, double value) => Q[equation] += value;

    public void AddStoredSlope(int equation, int unknown, double value)
    {
        if (unknown >= 0 && SlopeQ.Length > 0)
            SlopeQ[equation * Order + unknown] += value;
    }
}
