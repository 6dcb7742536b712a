using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;
using SkiaSharp;

namespace Fieldwright.App.Pictures;

/// <summary>A scene as PNG or PDF. The only place that knows the drawing library, which is loaded when it is first called.</summary>
internal sealed class SkiaPicture : IDisposable
{
    // 192 dots an inch.
    private const float PixelsPerPx = 2;

    // PDF counts in points of 1/72 inch.
    private const float PointsPerPx = 0.75f;

    private readonly SKCanvas canvas;
    private readonly SKTypeface[] faces;

    private SkiaPicture(SKCanvas canvas)
        : this(canvas, [.. Enum.GetValues<Face>().Select(f => SKTypeface.FromStream(new MemoryStream(TypeFace.Of(f).File)))])
    {
    }

    private SkiaPicture(SKCanvas canvas, SKTypeface[] faces) => (this.canvas, this.faces) = (canvas, faces);

    /// <summary>Writes a scene as PNG.</summary>
    public static void WritePng(Scene scene, Stream stream)
    {
        var info = new SKImageInfo((int)Math.Ceiling(scene.Width * PixelsPerPx), (int)Math.Ceiling(scene.Height * PixelsPerPx), SKColorType.Rgba8888, SKAlphaType.Premul);
        using var surface = SKSurface.Create(info);
        surface.Canvas.Scale(PixelsPerPx);
        using (var picture = new SkiaPicture(surface.Canvas))
            picture.Draw(scene.Marks);
        using var image = surface.Snapshot();
        using var encoded = image.Encode(SKEncodedImageFormat.Png, 100);
        encoded.SaveTo(stream);
    }

    /// <summary>Writes scenes as a PDF, a page each, titled after the first.</summary>
    public static void WritePdf(IReadOnlyList<Scene> scenes, Stream stream)
    {
        using var document = SKDocument.CreatePdf(
            stream, new SKDocumentPdfMetadata { Title = scenes[0].Title, Subject = scenes[0].About, Creator = "Fieldwright", RasterDpi = 300, EncodingQuality = 101 });
        SKTypeface[]? shared = null;
        foreach (var scene in scenes)
        {
            var page = document.BeginPage((float)scene.Width * PointsPerPx, (float)scene.Height * PointsPerPx);
            page.Scale(PointsPerPx);
            // One set of faces for all pages, so that each is written once.
            var picture = shared is null ? new SkiaPicture(page) : new SkiaPicture(page, shared);
            shared = picture.faces;
            picture.Draw(scene.Marks);
            document.EndPage();
        }

        document.Close();
        foreach (var face in shared ?? [])
            face.Dispose();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var face in faces)
            face.Dispose();
    }

    private void Draw(IReadOnlyList<Mark> marks)
    {
        foreach (var mark in marks)
            Draw(mark);
    }

    private void Draw(Mark mark)
    {
        switch (mark)
        {
            case LineMark line:
                using (var path = Path(line.Points, line.IsClosed))
                using (var paint = Stroke(line.Pen))
                    canvas.DrawPath(path, paint);
                break;
            case StrokesMark strokes:
                using (var paint = Stroke(strokes.Pen))
                    foreach (var (from, to) in strokes.Lines)
                        canvas.DrawLine(At(from), At(to), paint);
                break;
            case AreaMark area:
                using (var path = new SKPathBuilder { FillType = SKPathFillType.EvenOdd })
                using (var paint = Fill(area.Fill))
                {
                    foreach (var loop in area.Loops)
                        path.AddPoly([.. loop.Select(At)], true);
                    using var built = path.Detach();
                    canvas.DrawPath(built, paint);
                }

                break;
            case CircleMark circle:
                if (circle.Fill is { } fill)
                    using (var paint = Fill(fill))
                        canvas.DrawCircle(At(circle.Centre), (float)circle.Radius, paint);
                if (circle.Pen is { } pen)
                    using (var paint = Stroke(pen))
                        canvas.DrawCircle(At(circle.Centre), (float)circle.Radius, paint);
                break;
            case LitMark lit:
                using (var shader = SKShader.CreateRadialGradient(At(lit.Light), (float)lit.Reach, [Colour(lit.Inner), Colour(lit.Outer)], SKShaderTileMode.Clamp))
                using (var paint = new SKPaint { Shader = shader, IsDither = true })
                    canvas.DrawRect(Box(lit.Corner, lit.Width, lit.Height), paint);
                break;
            case GridMark grid:
                Draw(grid);
                break;
            case TextMark text:
                Draw(text);
                break;
            case ClippedMarks clipped:
                canvas.Save();
                canvas.ClipRect(Box(clipped.Corner, clipped.Width, clipped.Height), antialias: true);
                Draw(clipped.Marks);
                canvas.Restore();
                break;
        }
    }

    private void Draw(GridMark grid)
    {
        var info = new SKImageInfo(grid.Columns, grid.Rows, SKColorType.Rgba8888, SKAlphaType.Unpremul);
        using var image = SKImage.FromPixelCopy(info, grid.Pixels, 4 * grid.Columns);
        canvas.DrawImage(image, Box(grid.Corner, grid.Width, grid.Height), new SKSamplingOptions(SKFilterMode.Linear));
    }

    private void Draw(TextMark text)
    {
        using var font = new SKFont(faces[(int)text.Face], (float)text.Size) { Subpixel = true, Edging = SKFontEdging.Antialias, Hinting = SKFontHinting.None };
        double left = text.Anchor switch
        {
            Anchor.Middle => text.At.X - 0.5 * text.Width,
            Anchor.End => text.At.X - text.Width,
            _ => text.At.X,
        };
        if (text.Halo is { } halo)
            using (var rim = Stroke(new Pen(halo, 3)))
                canvas.DrawText(text.Text, (float)left, (float)text.At.Y, SKTextAlign.Left, font, rim);
        using var paint = Fill(text.Ink);
        canvas.DrawText(text.Text, (float)left, (float)text.At.Y, SKTextAlign.Left, font, paint);
    }

    private static SKPath Path(IReadOnlyList<Point> points, bool closed)
    {
        using var path = new SKPathBuilder();
        path.AddPoly([.. points.Select(At)], closed);
        return path.Detach();
    }

    private static SKPaint Fill(Ink ink) => new() { Color = Colour(ink), IsAntialias = true };

    private static SKPaint Stroke(Pen pen) => new()
    {
        Color = Colour(pen.Ink),
        IsAntialias = true,
        IsStroke = true,
        StrokeWidth = (float)pen.Width,
        StrokeJoin = SKStrokeJoin.Round,
        StrokeCap = pen.Dash is null ? SKStrokeCap.Round : SKStrokeCap.Butt,
        PathEffect = pen.Dash is { } dash ? SKPathEffect.CreateDash([.. dash.Select(d => (float)d)], 0) : null,
    };

    private static SKColor Colour(Ink ink) => new(ink.Red, ink.Green, ink.Blue, (byte)Math.Round(255 * ink.Opacity));

    private static SKPoint At(Point p) => new((float)p.X, (float)p.Y);

    private static SKRect Box(Point corner, double width, double height) => SKRect.Create((float)corner.X, (float)corner.Y, (float)width, (float)height);
}
