namespace Vanehour.Models.Planning.Solving;

/// <summary>Settles every item at least total cost.</summary>
internal interface IChoiceSolver
{
    /// <summary>The cheapest solution found, with a bound; null where the resources cannot hold any.</summary>
    ChoiceSolution? Solve(ChoiceProblem problem);
}
