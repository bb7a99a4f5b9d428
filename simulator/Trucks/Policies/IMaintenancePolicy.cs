namespace Vanehour.Simulator;

/// <summary>Decides when pumps are rebuilt, from what a shop can see. One object serves a whole fleet, from several threads at once.</summary>
public interface IMaintenancePolicy
{
    /// <summary>Whether to rebuild this pump today; asked every Sunday, when no truck works.</summary>
    /// <param name="seen">What is known of it.</param>
    bool Rebuild(in PumpObservation seen);

    /// <summary>Whether <see cref="See"/> wants the samples; without it they are not made.</summary>
    bool WantsSamples => false;

    /// <summary>Takes a day's samples of a truck, in canonical units and order of time, before the day's question is asked.</summary>
    /// <param name="truck">The truck's id.</param>
    /// <param name="samples">The day's samples; the list is used again for the next day.</param>
    void See(string truck, IReadOnlyList<Fleet.Sample> samples)
    {
    }
}
