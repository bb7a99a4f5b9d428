namespace Vanehour.Store.Results;

/// <summary>One result of an analysis as a JSON document.</summary>
/// <param name="Kind">What it is, for example Wear.</param>
/// <param name="Key">Of what, for example a truck or a pump model.</param>
/// <param name="Json">The document.</param>
public sealed record ResultDocument(string Kind, string Key, string Json);
