using System.Net.Http.Headers;

namespace Vanehour.Store.Influx;

/// <summary>Puts the token on every request, reading its file again when that has changed.</summary>
internal sealed class TokenHandler(string tokenFile, HttpMessageHandler inner) : DelegatingHandler(inner)
{
    private readonly Lock gate = new();
    private DateTime readAt;
    private string token = string.Empty;

    /// <inheritdoc/>
    protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        var current = Current();
        if (current.Length > 0)
        {
            request.Headers.Authorization = new AuthenticationHeaderValue("Token", current);
        }

        return base.SendAsync(request, cancellationToken);
    }

    private string Current()
    {
        lock (gate)
        {
            try
            {
                var changed = File.GetLastWriteTimeUtc(tokenFile);
                if (changed != readAt)
                {
                    token = File.ReadAllText(tokenFile).Trim();
                    readAt = changed;
                }
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // Being replaced just now, or gone: the server decides about the one that was.
            }

            return token;
        }
    }
}
