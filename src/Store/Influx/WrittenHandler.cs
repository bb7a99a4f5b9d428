using System.Globalization;
using System.Net;

namespace Vanehour.Store.Influx;

/// <summary>
/// Takes a write for done only where the answer is 204, as InfluxDB 1.8, 2 and 3 give it. A proxy's or a login page's 200 would else count as stored, and
/// the samples would be thrown away.
/// </summary>
internal sealed class WrittenHandler(HttpMessageHandler inner) : DelegatingHandler(inner)
{
    private const string WritePath = "/api/v2/write";

    /// <inheritdoc/>
    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        var answer = await base.SendAsync(request, cancellationToken);
        if (!answer.IsSuccessStatusCode || answer.StatusCode == HttpStatusCode.NoContent || request.RequestUri?.AbsolutePath.EndsWith(WritePath, StringComparison.Ordinal) != true)
        {
            return answer;
        }

        var status = (int)answer.StatusCode;
        answer.Dispose();
        return new HttpResponseMessage(HttpStatusCode.BadGateway)
        {
            RequestMessage = request,
            Content = new StringContent(string.Create(
                CultureInfo.InvariantCulture, $"{status} to a write, where an InfluxDB says 204: something between here and it answers in its place")),
        };
    }
}
