using Microsoft.AspNetCore.Http;

namespace Fieldwright.App.Page;

/// <summary>Lets in only requests that this machine's own browser makes for this page itself.</summary>
/// <remarks>The server listens on loopback only; this also turns away a foreign page that names the server by another host name, or that calls it across origins.</remarks>
internal static class LocalOnly
{
    private static readonly string[] Hosts = ["127.0.0.1", "localhost", "[::1]"];

    /// <summary>Whether a request may pass.</summary>
    public static bool Allows(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (!Hosts.Contains(request.Host.Host, StringComparer.OrdinalIgnoreCase))
            return false;
        if (request.Headers.Origin is [{ } origin, ..] && !string.Equals(origin, $"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase))
            return false;
        return request.Headers["Sec-Fetch-Site"] is not [{ } site, ..] || site is "same-origin" or "none";
    }

    /// <summary>Turns away what may not pass, and tells the browser to load nothing from elsewhere.</summary>
    public static async Task Pass(HttpContext context, RequestDelegate next)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(next);
        if (!Allows(context.Request))
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            await context.Response.WriteAsync("This page answers its own browser window on this machine only.");
            return;
        }

        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; media-src 'self' blob:; connect-src 'self'; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        await next(context);
    }
}
