namespace Vanehour.Models.Expectations;

/// <summary>A row as Microsoft.ML reads it.</summary>
internal sealed class LearnedRow
{
    public float[] Features { get; set; } = [];

    public float Label { get; set; }

    public float Weight { get; set; }
}
