using Fieldwright.Bench.Claims;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>A quiet wash of field strength behind everything, even to the eye in the square root of the flux density.</summary>
internal sealed class WashLayer
{
    private const double Cell = 2.5, Brightest = 0.995;

    /// <summary>Paints the wash.</summary>
    public WashLayer(FieldPlane plane, Stage stage, Palette palette)
    {
        int columns = (int)Math.Ceiling(stage.Width / Cell), rows = (int)Math.Ceiling(stage.Height / Cell);
        double[] strength = new double[columns * rows];
        Array.Fill(strength, double.NaN);
        for (int t = 0; t < plane.Regions.Count; t++)
        {
            var (a, b, c) = (Corner(3 * t), Corner(3 * t + 1), Corner(3 * t + 2));
            Rasters.Fill(columns, rows, a, b, c, (cell, u, v, w) => strength[cell] = u * Size(3 * t) + v * Size(3 * t + 1) + w * Size(3 * t + 2));
        }

        var known = strength.Where(double.IsFinite).Order().ToList();
        Most = known.Count == 0 ? 0 : known[(int)(Brightest * (known.Count - 1))];
        if (!(Most > 0))
            return;
        byte[] pixels = new byte[4 * strength.Length];
        for (int row = 0; row < rows; row++)
            for (int column = 0; column < columns; column++)
            {
                int cell = row * columns + column;
                double b = strength[cell];
                if (stage.IsRound && column < columns / 2)
                    b = strength[row * columns + columns - 1 - column];
                double share = double.IsFinite(b) ? Math.Sqrt(Math.Min(b / Most, 1)) : 0;
                var ink = palette.Wash(share);
                (pixels[4 * cell], pixels[4 * cell + 1], pixels[4 * cell + 2], pixels[4 * cell + 3]) = (ink.Red, ink.Green, ink.Blue, (byte)(255 * 0.9 * share));
            }

        Marks = [new GridMark(new Point(stage.Left, stage.Top), columns * Cell, rows * Cell, columns, rows, pixels)];

        Point Corner(int k)
        {
            var spot = stage.On(plane.Points[plane.Triangles[k]]);
            return new Point((spot.X - stage.Left) / Cell, (spot.Y - stage.Top) / Cell);
        }

        double Size(int k) => plane.Density[k].Magnitude;
    }

    /// <summary>Flux density at full wash, T; 0 when there is no field.</summary>
    public double Most { get; }

    /// <summary>The marks.</summary>
    public IReadOnlyList<Mark> Marks { get; } = [];

    /// <summary>A flux density in words.</summary>
    public static string Text(double tesla) => tesla >= 0.1 ? Shown.Digits(tesla, 2) + " T" : tesla >= 1e-4 ? Shown.Digits(1e3 * tesla, 2) + " mT" : Shown.Digits(1e6 * tesla, 2) + " µT";
}
