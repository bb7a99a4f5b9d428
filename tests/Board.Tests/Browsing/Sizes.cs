using Microsoft.Playwright;

namespace Vanehour.Board.Tests.Browsing;

/// <summary>The windows that pages are looked at in, CSS pixels.</summary>
internal static class Sizes
{
    public static ViewportSize Desktop => new() { Width = 1280, Height = 900 };

    public static ViewportSize Phone => new() { Width = 360, Height = 740 };
}
