using System.Globalization;
using System.Text.RegularExpressions;

namespace Vanehour.Reports;

/// <summary>What an SVG needs to stand in a web page beside others: names of its own and words for those who can't see it.</summary>
public sealed partial record SvgCaption
{
    private readonly string idPrefix = "chart";

    /// <summary>With what every id in the SVG starts; another for each SVG of a web page. A letter, then letters, digits, hyphens and underscores.</summary>
    /// <exception cref="ArgumentException">It is none.</exception>
    public required string IdPrefix
    {
        get => idPrefix;
        init => idPrefix = Prefixes().IsMatch(value)
            ? value
            : throw new ArgumentException("An id prefix is a letter, then letters, digits, hyphens and underscores.", nameof(value));
    }

    /// <summary>What the picture is, in a few words.</summary>
    public required string Title { get; init; }

    /// <summary>What the picture says, in a sentence or some; <see cref="Words.ChartAlternative"/> has them.</summary>
    public required string Description { get; init; }

    /// <summary>The caption of a further page of several.</summary>
    internal SvgCaption OfPage(int page) => this with
    {
        IdPrefix = string.Create(CultureInfo.InvariantCulture, $"{IdPrefix}-{page}"),
        Title = string.Create(CultureInfo.InvariantCulture, $"{Title}, page {page}"),
    };

    [GeneratedRegex("^[A-Za-z][A-Za-z0-9_-]*\\z")]
    private static partial Regex Prefixes();
}
