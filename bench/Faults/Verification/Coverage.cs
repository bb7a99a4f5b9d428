using Vanehour.Bench.Faults.Feed;
using Vanehour.Fleet;

namespace Vanehour.Bench.Faults.Verification;

/// <summary>What should be, and what is, stored of one instant of one truck.</summary>
internal struct Coverage
{
    public Duty Pump;

    public Duty Ambient;

    public bool HasPump;

    public bool HasAmbient;

    /// <summary>In how many stores it was found.</summary>
    public int Stores;

    /// <summary>Whether a value is wrong, half there, or of a message that was never sent.</summary>
    public bool IsWrong;

    /// <summary>The pump's signals, of which a sample has all or none.</summary>
    public static Signal[] PumpSignals { get; } = [Signal.Vacuum, Signal.PumpTemp, Signal.PtoHours];

    /// <summary>Whether something is missing for which those who said <paramref name="took"/> answer.</summary>
    public readonly bool Misses(Duty took) => (Pump.HasFlag(took) && !HasPump) || (Ambient.HasFlag(took) && !HasAmbient);

    /// <summary>Takes a stored sample into account.</summary>
    public void See(in Sample sample, int truck)
    {
        Stores++;
        var pump = 0;
        foreach (var info in SignalInfo.All)
        {
            if (sample[info.Signal] is not { } value)
            {
                continue;
            }

            IsWrong |= FeedValues.Of(info.Signal, truck, sample.UnixMs / 1000) is not { } right || !right.Equals(value);
            if (info.Signal == Signal.AmbientTemp)
            {
                HasAmbient = true;
            }
            else
            {
                pump++;
            }
        }

        IsWrong |= pump > 0 && pump != PumpSignals.Length;
        HasPump |= pump > 0;
        IsWrong |= (HasPump && Pump == Duty.None) || (HasAmbient && Ambient == Duty.None);
    }
}
