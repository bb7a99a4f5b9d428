namespace Vanehour.Host.Output;

/// <summary>Passes on some progress as a share.</summary>
/// <typeparam name="T">What is reported.</typeparam>
/// <param name="share">Who is told.</param>
/// <param name="convert">The share, 0..1, of what is reported.</param>
internal sealed class ShareOf<T>(IProgress<double> share, Func<T, double> convert) : IProgress<T>
{
    /// <inheritdoc/>
    public void Report(T value) => share.Report(convert(value));
}
