using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Http;

namespace Vanehour.Board.Serving;

/// <summary>What one request tells the page that is shown next: what came of a form, and where it was refused, what had been typed into it.</summary>
/// <param name="Form">The form.</param>
/// <param name="Done">Whether it was done.</param>
/// <param name="Sentences">What is said.</param>
/// <param name="Typed">What had been typed, by field; empty where it was done.</param>
internal sealed partial record Flash(string Form, bool Done, IReadOnlyList<string> Sentences, IReadOnlyDictionary<string, string> Typed)
{
    private const string Cookie = "vanehour-said";

    // A browser keeps 4096 bytes of a cookie; encryption adds a third and some.
    private const int LongestJson = 2600;

    private static readonly TimeSpan GoodFor = TimeSpan.FromMinutes(2);

    /// <summary>Leaves it for the next page.</summary>
    public void Leave(HttpContext context, IDataProtectionProvider protection)
    {
        var said = this with { Sentences = [.. Sentences.Take(8).Select(s => Cut(s, 300))] };
        var json = JsonSerializer.Serialize(said, FlashJson.Default.Flash);
        if (json.Length > LongestJson)
        {
            json = JsonSerializer.Serialize(said with { Sentences = [.. said.Sentences.Take(2)], Typed = said.Typed.ToDictionary(t => t.Key, t => Cut(t.Value, 80)) }, FlashJson.Default.Flash);
        }

        context.Response.Cookies.Append(Cookie, Protector(protection).Protect(json, GoodFor), new CookieOptions
        {
            HttpOnly = true,
            IsEssential = true,
            MaxAge = GoodFor,
            SameSite = SameSiteMode.Strict,
            Secure = context.Request.IsHttps,
            Path = "/",
        });
    }

    /// <summary>Takes what was left; null where nothing was.</summary>
    public static Flash? Take(HttpContext context, IDataProtectionProvider protection)
    {
        if (context.Request.Cookies[Cookie] is not { } text)
        {
            return null;
        }

        if (!context.Response.HasStarted)
        {
            context.Response.Cookies.Delete(Cookie, new CookieOptions { Path = "/", Secure = context.Request.IsHttps });
        }

        try
        {
            return JsonSerializer.Deserialize(Protector(protection).Unprotect(text), FlashJson.Default.Flash);
        }
        catch (Exception e) when (e is System.Security.Cryptography.CryptographicException or JsonException)
        {
            return null;
        }
    }

    private static ITimeLimitedDataProtector Protector(IDataProtectionProvider protection) => protection.CreateProtector("Vanehour.Board.Flash").ToTimeLimitedDataProtector();

    private static string Cut(string text, int length) => text.Length <= length ? text : text[..(length - 1)] + "…";

    [JsonSerializable(typeof(Flash))]
    private sealed partial class FlashJson : JsonSerializerContext;
}
