namespace Vanehour.Models.Expectations;

/// <summary>A prediction as Microsoft.ML writes it.</summary>
internal sealed class LearnedScore
{
    public float Score { get; set; }
}
