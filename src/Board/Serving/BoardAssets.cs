using System.Collections.Frozen;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Vanehour.Reports;

namespace Vanehour.Board.Serving;

/// <summary>Styles, script and typeface, each under a name with the hash of its content: browsers keep them until they change.</summary>
internal static class BoardAssets
{
    private static readonly FrozenDictionary<string, (byte[] Content, string Type)> All = Load();

    private static readonly FrozenDictionary<string, string> Paths = All.Keys.ToFrozenDictionary(
        hashed => hashed[(hashed.IndexOf('-', StringComparison.Ordinal) + 1)..], hashed => "/assets/" + hashed, StringComparer.Ordinal);

    /// <summary>The path of an asset by its plain name.</summary>
    public static string PathOf(string name) => Paths[name];

    /// <summary>Serves them: only what is in the table, by its very name.</summary>
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/assets/{name}", (string name, HttpContext context) =>
    {
        if (!All.TryGetValue(name, out var asset))
        {
            return Results.NotFound();
        }

        context.Response.Headers.CacheControl = "public, max-age=31536000, immutable";
        return Results.Bytes(asset.Content, asset.Type);
    }).ShortCircuit();

    private static FrozenDictionary<string, (byte[] Content, string Type)> Load()
    {
        var all = new Dictionary<string, (byte[] Content, string Type)>(StringComparer.Ordinal);
        Add("board.js", Resource("board.js"), "text/javascript; charset=utf-8");
        Add("icon.svg", Resource("icon.svg"), "image/svg+xml");
        Add("inter-regular.ttf", ReportFonts.Regular.ToArray(), "font/ttf");
        Add("inter-semibold.ttf", ReportFonts.SemiBold.ToArray(), "font/ttf");

        // The style sheet names the typeface by the path with its hash.
        var faces = string.Concat(all.Keys.Where(k => k.EndsWith(".ttf", StringComparison.Ordinal)).Select(k =>
            $"@font-face {{ font-family: Inter; font-weight: {(k.Contains("semibold", StringComparison.Ordinal) ? 600 : 400)}; font-display: swap; src: url(/assets/{k}) format(\"truetype\"); }}\n"));
        const string Licence = "/* Inter: Copyright (c) The Inter Project Authors, SIL Open Font License 1.1, https://openfontlicense.org */\n";
        Add("board.css", [.. Encoding.UTF8.GetBytes(Licence + faces), .. Resource("board.css")], "text/css; charset=utf-8");
        return all.ToFrozenDictionary(StringComparer.Ordinal);

        void Add(string name, byte[] content, string type) => all[$"{Convert.ToHexStringLower(SHA256.HashData(content))[..10]}-{name}"] = (content, type);
    }

    private static byte[] Resource(string name)
    {
        using var stream = typeof(BoardAssets).Assembly.GetManifestResourceStream(name) ?? throw new InvalidOperationException($"The Board was built without {name}.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }
}
