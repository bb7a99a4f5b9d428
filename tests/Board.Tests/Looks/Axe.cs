using System.Text.Json;
using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Vanehour.Board.Tests.Looks;

/// <summary>Checks a page with axe-core, an accessibility checker that is not ours.</summary>
internal static class Axe
{
    private const string Run = """
        async () => {
          const found = await axe.run(document, { runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }, rules: { 'target-size': { enabled: true } }, resultTypes: ['violations'] });
          return JSON.stringify(found.violations.map(v => ({ rule: v.id, wcag: v.tags.some(t => t.startsWith('wcag')), where: v.nodes.map(n => n.target.join(' ') + ': ' + (n.any.concat(n.all, n.none)[0]?.message ?? '')) })));
        }
        """;

    private static readonly string Script = new BundledAxeScriptProvider().GetScript();

    /// <summary>What it finds against WCAG 2.2 A and AA, and what it would do otherwise besides.</summary>
    public static async Task<(IReadOnlyList<string> Violations, IReadOnlyList<string> Advice)> CheckAsync(IPage page)
    {
        // Evaluated by the debugger, which the page's content policy does not bind.
        await page.EvaluateAsync(Script);
        using var found = JsonDocument.Parse(await page.EvaluateAsync<string>(Run));
        var all = found.RootElement.EnumerateArray().Select(v => (
            IsRule: v.GetProperty("wcag").GetBoolean(),
            Text: $"{v.GetProperty("rule").GetString()}: {string.Join(" | ", v.GetProperty("where").EnumerateArray().Take(4).Select(n => n.GetString()))}")).ToList();
        return ([.. all.Where(a => a.IsRule).Select(a => a.Text)], [.. all.Where(a => !a.IsRule).Select(a => a.Text)]);
    }
}
