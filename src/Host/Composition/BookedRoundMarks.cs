using Vanehour.Fleet;
using Vanehour.Fleet.Servicing;
using Vanehour.Host.Output;
using Vanehour.Models.Rounds;

namespace Vanehour.Host.Composition;

/// <summary>Marks of done rounds as service records, kept with their history.</summary>
/// <param name="book">The service records.</param>
internal sealed class BookedRoundMarks(ServiceBook book) : IRoundMarks
{
    /// <inheritdoc/>
    /// <exception cref="CommandFailedException">The mark would contradict what is recorded; the sentence says what to do.</exception>
    public bool Add(RoundMark mark)
    {
        ArgumentNullException.ThrowIfNull(mark);
        var record = mark.ToRecord();
        var id = record.RecordId!;
        if (book.Find(id).Any(r => r.RecordId == id))
        {
            // The same round at the same instant: what is said now corrects what was said before, and the history keeps both.
            return RecordText.Require(book.Edit(id, _ => record, mark.By)).Kind == ServiceOutcomeKind.Done;
        }

        return RecordText.Require(book.Add(record with { RecordId = Unused(id, mark.Truck) }, mark.By)).Kind == ServiceOutcomeKind.Done;
    }

    // The id of a mark that was deleted stays its own for good.
    private string Unused(string id, string truck)
    {
        var used = book.History(truck).Select(c => c.Before).OfType<ServiceRecord>().Select(r => r.RecordId).ToHashSet(StringComparer.OrdinalIgnoreCase);
        return Enumerable.Range(1, used.Count + 1).Select(n => n == 1 ? id : $"{id}-{n}").First(i => !used.Contains(i));
    }
}
