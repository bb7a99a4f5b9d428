namespace Vanehour.Reports;

/// <summary>How far the writing of reports has come.</summary>
/// <param name="Done">Trucks written.</param>
/// <param name="Of">Trucks wanted.</param>
/// <param name="File">The file written last.</param>
public sealed record ReportProgress(int Done, int Of, string File);
