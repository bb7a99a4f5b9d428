using System.Net;
using System.Net.Security;
using System.Text.RegularExpressions;

namespace Vanehour.Board.Tests.Running;

/// <summary>A client of the Board that follows no redirect and keeps its cookies, as a browser without a window would.</summary>
internal sealed partial class Visitor : IDisposable
{
    private readonly HttpClient http;

    /// <param name="board">The Board.</param>
    public Visitor(RunningBoard board)
        : this(board.Address, trusted: null)
    {
    }

    /// <param name="address">Where it calls the Board.</param>
    /// <param name="trusted">The fingerprint of the certificate that it trusts; null where it trusts what the system does.</param>
    public Visitor(Uri address, string? trusted)
    {
        http = new HttpClient(
            new SocketsHttpHandler
            {
                AllowAutoRedirect = false,
                UseCookies = true,
                CookieContainer = new CookieContainer(),
                SslOptions = { RemoteCertificateValidationCallback = (_, certificate, _, errors) => errors == SslPolicyErrors.None || certificate?.GetCertHashString() == trusted },
            })
        {
            BaseAddress = address,
            Timeout = TimeSpan.FromMinutes(1),
        };
    }

    /// <summary>Signs in and gives where the answer leads.</summary>
    public async Task<HttpResponseMessage> SignInAsync(string name, string password, string to = "/") =>
        await PostAsync("/sign-in", "/sign-in", ("name", name), ("password", password), ("to", to));

    /// <summary>Asks for a path.</summary>
    public Task<HttpResponseMessage> GetAsync(string path) => http.GetAsync(new Uri(path, UriKind.Relative));

    /// <summary>The text under a path, which must be there.</summary>
    public Task<string> TextAsync(string path) => http.GetStringAsync(new Uri(path, UriKind.Relative));

    /// <summary>Sends any request.</summary>
    public Task<HttpResponseMessage> SendAsync(HttpRequestMessage request) => http.SendAsync(request);

    /// <summary>Sends a form with the token that a page's forms have.</summary>
    /// <param name="page">The page with a form.</param>
    /// <param name="path">Where the form goes.</param>
    /// <param name="fields">Its fields.</param>
    public async Task<HttpResponseMessage> PostAsync(string page, string path, params (string Name, string Value)[] fields) =>
        await PostRawAsync(path, [("__RequestVerificationToken", await TokenAsync(page)), .. fields]);

    /// <summary>The token of a page's forms.</summary>
    public async Task<string> TokenAsync(string page) => Token().Match(await TextAsync(page)).Groups["token"].Value;

    /// <summary>Sends a form as it stands.</summary>
    public async Task<HttpResponseMessage> PostRawAsync(string path, params (string Name, string Value)[] fields)
    {
        using var form = new FormUrlEncodedContent(fields.Select(f => KeyValuePair.Create(f.Name, f.Value)));
        return await http.PostAsync(new Uri(path, UriKind.Relative), form);
    }

    public void Dispose() => http.Dispose();

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"(?<token>[^\"]+)\"")]
    private static partial Regex Token();
}
