using System.Net.WebSockets;
using System.Numerics;
using System.Text.Json;
using Fieldwright.Bench.File;

namespace Fieldwright.App.Page;

/// <summary>The socket between a window and its desk: JSON both ways, fields as bytes to the window.</summary>
internal sealed class DeskSocket(Desk desk, WebSocket socket)
{
    private const int MostBytes = 8_000_000;
    private static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);
    private int version;

    /// <summary>Serves the window until it goes.</summary>
    public async Task Run(CancellationToken stop)
    {
        desk.Text.Changed += Spread;
        try
        {
            version = desk.Text.Now.Version;
            desk.Tell(DeskWords.Text(desk.Text));
            desk.Tell(DeskWords.Mistakes(desk.Reading));
            desk.Tell(DeskWords.Dials(desk));
            desk.Tell(DeskWords.Verdicts(desk));
            using var ended = CancellationTokenSource.CreateLinkedTokenSource(stop);
            var sending = Send(ended.Token);
            await Receive(ended.Token);
            await ended.CancelAsync();
            await sending;
        }
        catch (Exception e) when (e is WebSocketException or OperationCanceledException or JsonException)
        {
            // The window went, or spoke nonsense: either way it is over.
        }
        finally
        {
            desk.Text.Changed -= Spread;
        }
    }

    private void Spread()
    {
        lock (this)
        {
            var updates = desk.Text.Since(version);
            if (updates.Count == 0)
                return;
            desk.Tell(DeskWords.Updates(version, updates));
            version += updates.Count;
        }
    }

    private async Task Send(CancellationToken stop)
    {
        try
        {
            await foreach (object message in desk.Outbox.ReadAllAsync(stop))
            {
                if (message is byte[] bytes)
                    await socket.SendAsync(bytes, WebSocketMessageType.Binary, true, stop);
                else
                    await socket.SendAsync(JsonSerializer.SerializeToUtf8Bytes(message, Web), WebSocketMessageType.Text, true, stop);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException)
        {
        }
    }

    private async Task Receive(CancellationToken stop)
    {
        byte[] buffer = new byte[64 * 1024];
        using var message = new MemoryStream();
        while (socket.State == WebSocketState.Open)
        {
            var part = await socket.ReceiveAsync(buffer, stop);
            if (part.MessageType == WebSocketMessageType.Close)
                return;
            message.Write(buffer, 0, part.Count);
            if (message.Length > MostBytes)
                return;
            if (!part.EndOfMessage)
                continue;
            using (var json = JsonDocument.Parse(message.ToArray()))
                Take(json.RootElement);
            message.SetLength(0);
        }
    }

    private void Take(JsonElement said)
    {
        switch (said.GetProperty("t").GetString())
        {
            case "turn":
                desk.Turn(said.GetProperty("dial").GetInt32(), said.GetProperty("value").GetDouble(), said.GetProperty("stamp").GetDouble());
                break;
            case "state":
                desk.Show(said.GetProperty("name").GetString());
                break;
            case "back":
                desk.PutBack();
                break;
            case "show":
                desk.PrepareShow();
                break;
            case "stop":
                desk.Stop();
                break;
            case "probe":
                Probe(said.GetProperty("x").GetDouble(), said.GetProperty("y").GetDouble());
                break;
            case "plane":
                desk.Lay(new Bench.Pictures.Live.SpacePlane(said.GetProperty("axis").GetInt32(), said.GetProperty("at").GetDouble()));
                break;
            case "fly":
                desk.Fly(said.GetProperty("seconds").GetDouble());
                break;
            case "push":
                Push(said);
                break;
            case "drag":
                Drag(said);
                break;
        }
    }

    private void Push(JsonElement said)
    {
        try
        {
            desk.Text.TryPush(said.GetProperty("version").GetInt32(), [.. said.GetProperty("updates").EnumerateArray().Select(u =>
                new TextUpdate(u.GetProperty("clientID").GetString() ?? "", u.GetProperty("changes").Clone()))]);
            desk.Tell(new { T = "pushed" });
        }
        catch (Exception e) when (e is WrongCallException or FormatException)
        {
            desk.Tell(new { T = "unsaved", Why = e.Message });
        }
    }

    private void Drag(JsonElement said)
    {
        var edits = FileEdit.Move(desk.Text.Text, said.GetProperty("name").GetString() ?? "", said.GetProperty("dx").GetDouble(), said.GetProperty("dy").GetDouble(), said.TryGetProperty("dz", out var dz) ? dz.GetDouble() : 0);
        desk.Tell(new { T = "edit", Id = said.GetProperty("id").GetInt32(), Changes = edits.Select(e => new { e.From, e.To, Insert = e.Text }) });
    }

    private void Probe(double x, double y)
    {
        if (!double.IsFinite(x + y))
            return;
        if (desk.Space is { } space)
        {
            var b = space.Stage.FluxDensity(space.Plane.Point(x, y));
            desk.Tell(TestCylinder.At((u, v) => space.Plane.Within(space.Stage.FluxDensity(space.Plane.Point(u, v))), space.Stage.Frequency, x, y));
            desk.Tell(new { T = "spot", X = x, Y = y, B = (double[])[b.X.Real, b.X.Imaginary, b.Y.Real, b.Y.Imaginary, b.Z.Real, b.Z.Imaginary] });
        }
        else if (desk.Shown is { } field)
            desk.Tell(TestCylinder.At((u, v) => field.IsRound && u < 0 ? Mirrored(field, u, v) : field.FluxDensity(u, v), field.Frequency, x, y));
    }

    // The left half of a round section is the mirror image of the right one.
    private static (Complex, Complex) Mirrored(Bench.Pictures.Live.StageField field, double u, double v) => field.FluxDensity(-u, v) is var (x, y) ? (-x, y) : default;
}
