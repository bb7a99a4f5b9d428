using Vanehour.Fleet.Register;

namespace Vanehour.Models.Rounds;

/// <summary>Marks of done rounds as service records in the register.</summary>
/// <param name="register">The register.</param>
public sealed class RegisterRoundMarks(IFleetRegister register) : IRoundMarks
{
    /// <inheritdoc/>
    public bool Add(RoundMark mark)
    {
        ArgumentNullException.ThrowIfNull(mark);
        return register.Upsert([], [], [mark.ToRecord()]) > 0;
    }
}
