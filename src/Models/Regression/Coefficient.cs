namespace Vanehour.Models.Regression;

/// <summary>One estimated coefficient.</summary>
/// <param name="Name">Of what, with its unit, for example "vacuum, L/h per kPa".</param>
/// <param name="Estimate">The estimate.</param>
/// <param name="StandardError">Its standard error.</param>
public sealed record Coefficient(string Name, double Estimate, double StandardError);
