using System.Globalization;

namespace Fieldwright.Benchmarks.App;

/// <summary>How fast the page follows the hand: from the turn of a dial to the drawn frame, and frames a second at 10 000 and 100 000 triangles, 1280 × 720.</summary>
/// <remarks>Drawn by the processor: it says what a machine without a graphics card does. The frame that answers a turn is waited for by taking a dot of it.</remarks>
internal static class PageBenchmark
{
    public static string Name => "page";

    private const string Fill = "(() => { const s = document.createElement('style'); s.textContent = '#stage { position: fixed; inset: 0; margin: 0; z-index: 99; border: 0; }'; document.head.append(s); })()";

    // A regular net of curved triangles over the view, with a field that swings with a lag from place to place.
    private const string Net = """
        count => {
          const s = bench.stage, h = s.field.head, cells = Math.ceil(Math.sqrt(count / 2)), side = 2 * cells + 1, [l, r, b, t] = s.bounds(), w = 2 * Math.max(r, -l), high = 2 * (t - b);
          const nodes = new Float32Array(4 * side * side), triangles = new Int32Array(12 * cells * cells), sources = new Float32Array(8 * cells * cells), at = (i, j) => j * side + i;
          for (let j = 0; j < side; j++) for (let i = 0; i < side; i++) { const x = i / (side - 1), y = j / (side - 1), n = 4 * at(i, j); nodes[n] = w * x; nodes[n + 1] = b - 0.5 * (t - b) + high * y; nodes[n + 2] = 0.01 * Math.sin(9 * x) * Math.cos(7 * y); nodes[n + 3] = 0.01 * Math.cos(8 * x) * Math.sin(9 * y); }
          for (let j = 0; j < cells; j++) for (let i = 0; i < cells; i++) { const I = 2 * i, J = 2 * j, k = 12 * (j * cells + i); triangles.set([at(I, J), at(I + 2, J), at(I + 2, J + 2), at(I + 1, J), at(I + 2, J + 1), at(I + 1, J + 1), at(I, J), at(I + 2, J + 2), at(I, J + 2), at(I + 1, J + 1), at(I + 1, J + 2), at(I, J + 1)], k); }
          s.set({ head: { ...h, nodes: side * side, triangles: 2 * cells * cells, stamp: 0, isRefined: true }, nodes, triangles, sources }, true);
          return 2 * cells * cells;
        }
        """;

    // A frame is begun only when the one before is drawn, so that frames begun are frames drawn.
    private const string Play = """
        ([seconds, turns]) => new Promise(done => {
          const s = bench.stage; s.still = { matches: false }; s.play(!turns);
          let first = 0, start = 0;
          const step = now => {
            // While a dial turns every frame brings a new field to lay.
            if (turns) { s.moved = performance.now(); s.fieldDirty = s.dirty = true; }
            // The first second is for the picture to find its detail.
            if (!start) start = now; else if (!first && now - start > 1000) [first, start] = [s.frames, now - 1000];
            if (now - start > 1000 * (seconds + 1)) { s.play(false); done([1000 * (s.frames - first) / (now - start - 1000), s.live]); } else requestAnimationFrame(step);
          };
          requestAnimationFrame(step);
        })
        """;

    private const string Turns = """
        async count => {
          const dial = document.querySelector('.dial input'), s = bench.stage, send = bench.dials.send, found = [], solved = [];
          let sent = 0;
          bench.dials.send = m => { sent = m.stamp; send(m); };
          for (let i = 0; i < count; i++) {
            const drawn = new Promise(done => { const was = s.listeners.drawn; s.listeners.drawn = stamp => { was?.(stamp); if (stamp === sent) { s.listeners.drawn = was; done(); } }; });
            const start = performance.now();
            dial.value = 400 + (i * 37) % 500; dial.dispatchEvent(new Event('input'));
            await drawn;
            await createImageBitmap(s.paint, 0, 0, 1, 1);
            // The first turns are for the compilers.
            if (i >= count / 2) { found.push(performance.now() - start); solved.push(s.field.head.milliseconds); }
          }
          found.sort((a, b) => a - b); solved.sort((a, b) => a - b);
          return [found[0], found[found.length >> 1], found[Math.floor(0.9 * found.length)], s.field.head.unknownCount, s.field.head.triangles, solved[solved.length >> 1], s.live];
        }
        """;

    public static int Run(string[] arguments) => Measure().GetAwaiter().GetResult();

    private static async Task<int> Measure()
    {
        await using var window = await PageWindow.Open();
        Console.WriteLine($"{window.Browser}, drawn by the processor, layers put together by software GL (SwiftShader), 1280 x 720; load {File.ReadAllText("/proc/loadavg").Split(' ')[0]} on {Environment.ProcessorCount} processors");
        Console.WriteLine();
        Console.WriteLine("| turn of a dial to drawn frame | unknowns | triangles | best ms | median ms | 9 of 10 ms | of which solving, median ms | detail kept |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|");
        foreach (string file in (string[])["floating-disc.yaml", "tube-launcher.yaml", "like-poles.yaml"])
        {
            var page = await window.Page("/bench/" + file, 1280, 720);
            await page.WaitForFunctionAsync("window.bench?.stage?.field?.head.isRefined && document.querySelector('.dial input')");
            double[] found = await page.EvaluateAsync<double[]>(Turns, 80);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {file} | {found[3]:0} | {found[4]:0} | {found[0]:0} | {found[1]:0} | {found[2]:0} | {found[5]:0} | {found[6]:0%} |"));
            await page.Context.CloseAsync();
        }

        Console.WriteLine();
        Console.WriteLine("| frames a second | playing a period | detail kept | a new field every frame | detail kept |");
        Console.WriteLine("|---|---|---|---|---|");
        foreach (int count in (int[])[10_000, 100_000])
        {
            var page = await window.Page("/bench/floating-disc.yaml", 1280, 720);
            await page.WaitForFunctionAsync("window.bench?.stage?.field?.head.isRefined");
            // The claims would take the processor from the drawing.
            await page.EvaluateAsync("bench.send({ t: 'stop' })");
            await page.WaitForFunctionAsync("!bench.working");
            await page.EvaluateAsync(Fill);
            await page.WaitForFunctionAsync("bench.stage.width === 1280 && bench.stage.height === 720");
            int triangles = await page.EvaluateAsync<int>(Net, count);
            double[] plays = await page.EvaluateAsync<double[]>(Play, (object[])[4, false]), turns = await page.EvaluateAsync<double[]>(Play, (object[])[4, true]);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {triangles} triangles | {plays[0]:0.0} | {plays[1]:0%} | {turns[0]:0.0} | {turns[1]:0%} |"));
            await page.Context.CloseAsync();
        }

        return 0;
    }
}
