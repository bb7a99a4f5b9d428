using Vanehour.Fleet;

namespace Vanehour.Simulator;

/// <summary>Decides when pumps are rebuilt, looking at the whole fleet once a week.</summary>
public interface IFleetPolicy
{
    /// <summary>Takes a day's samples of a truck, in canonical units and order of time. Called for different trucks at a time, for one truck in order of days.</summary>
    /// <param name="truck">The truck's id.</param>
    /// <param name="samples">The day's samples; the list is used again for the next day.</param>
    void See(string truck, IReadOnlyList<Sample> samples);

    /// <summary>The trucks whose pumps are rebuilt on this Sunday.</summary>
    /// <param name="sunday">The day.</param>
    /// <param name="records">Every service record so far, in order of truck, then as they were made.</param>
    IReadOnlySet<string> Choose(DateOnly sunday, IReadOnlyList<ServiceRecord> records);
}
