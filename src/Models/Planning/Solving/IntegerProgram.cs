using Google.OrTools.LinearSolver;

namespace Vanehour.Models.Planning.Solving;

/// <summary>Solves a choice problem as an integer program: one 0/1 variable a choice. By Google OR-Tools with SCIP, on one thread, so that the same problem has the same solution.</summary>
internal sealed class IntegerProgram : IChoiceSolver
{
    // The search is cut off by nodes, not by the clock, so that a slow machine plans the same.
    private const string Limits = "limits/nodes = 5000";
    private const double Gap = 1e-7;

    /// <inheritdoc/>
    public ChoiceSolution? Solve(ChoiceProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        if (problem.Items.IsEmpty)
        {
            return new ChoiceSolution([], 0, 0);
        }

        using var solver = Solver.CreateSolver("SCIP") ?? throw new InvalidOperationException("The integer program's solver is missing from this installation.");
        solver.SetSolverSpecificParametersAsString(Limits);
        using var objective = solver.Objective();
        objective.SetMinimization();
        var variables = new Variable[problem.Items.Length][];
        var users = new List<Variable>?[problem.Capacities.Length];
        for (var i = 0; i < variables.Length; i++)
        {
            var choices = problem.Items[i];
            var one = solver.MakeConstraint(1, 1);
            variables[i] = new Variable[choices.Length];
            for (var c = 0; c < choices.Length; c++)
            {
                var variable = solver.MakeBoolVar(string.Empty);
                variables[i][c] = variable;
                one.SetCoefficient(variable, 1);
                objective.SetCoefficient(variable, choices[c].Cost);
                foreach (var resource in choices[c].Uses)
                {
                    (users[resource] ??= []).Add(variable);
                }
            }
        }

        for (var r = 0; r < users.Length; r++)
        {
            // A resource that cannot run out is no constraint.
            if (users[r] is { } of && of.Count > problem.Capacities[r])
            {
                var atMost = solver.MakeConstraint(0, problem.Capacities[r]);
                foreach (var variable in of)
                {
                    atMost.SetCoefficient(variable, 1);
                }
            }
        }

        using var parameters = new MPSolverParameters();
        parameters.SetDoubleParam(MPSolverParameters.DoubleParam.RELATIVE_MIP_GAP, Gap);
        if (solver.Solve(parameters) is not (Solver.ResultStatus.OPTIMAL or Solver.ResultStatus.FEASIBLE))
        {
            return null;
        }

        return new ChoiceSolution(
            [.. variables.Select(own => Array.FindIndex(own, v => v.SolutionValue() > 0.5))],
            objective.Value(),
            Math.Min(objective.BestBound(), objective.Value()));
    }
}
