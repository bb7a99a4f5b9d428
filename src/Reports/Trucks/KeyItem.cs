using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>One mark of a panel and what it means.</summary>
internal sealed record KeyItem(KeyMark Mark, string Words)
{
    /// <summary>How many readings lie off the scale: first in every key, so that it is the last to go where room is short.</summary>
    public static IEnumerable<KeyItem> OffScale(int count) =>
        count == 0 ? [] : [new KeyItem(KeyMark.OffScale, NumberWords.Whole(count) + " off scale")];
}
