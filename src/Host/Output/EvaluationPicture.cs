using Vanehour.Scoring;

namespace Vanehour.Host.Output;

/// <summary>The scores as a picture.</summary>
internal static class EvaluationPicture
{
    public static byte[] Draw(EvaluationResult result) => throw new NotSupportedException(result.ToString());
}
