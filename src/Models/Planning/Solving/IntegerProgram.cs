using Google.OrTools.LinearSolver;

namespace Vanehour.Models.Planning.Solving;

/// <summary>
/// Solves a choice problem as an integer program: one 0/1 variable a choice. By Google OR-Tools: first without asking for whole numbers (GLOP), which for problems like these nearly always
/// gives them all the same and is some ten times as fast; where it does not, with SCIP. On one thread, so that the same problem has the same solution.
/// </summary>
internal static class IntegerProgram
{
    // The search is cut off by nodes, not by the clock, so that a slow machine plans the same.
    private const string Limits = "limits/nodes = 5000";
    private const double Gap = 1e-7;
    private const double Whole = 1e-6;

    /// <summary>Settles every item at least total cost; null where the resources cannot hold any solution.</summary>
    public static ChoiceSolution? Solve(ChoiceProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        if (problem.Items.IsEmpty)
        {
            return new ChoiceSolution([], 0, 0);
        }

        var relaxed = Solve(problem, "GLOP");
        return relaxed is null or { IsWhole: true } ? relaxed?.Solution : Solve(problem, "SCIP")?.Solution;
    }

    private static (ChoiceSolution Solution, bool IsWhole)? Solve(ChoiceProblem problem, string engine)
    {
        using var solver = Solver.CreateSolver(engine) ?? throw new InvalidOperationException("The integer program's solver is missing from this installation.");
        var isRelaxed = engine == "GLOP";
        if (!isRelaxed)
        {
            solver.SetSolverSpecificParametersAsString(Limits);
        }

        using var objective = solver.Objective();
        objective.SetMinimization();
        var variables = Describe(problem, solver, objective);
        using var parameters = new MPSolverParameters();
        parameters.SetDoubleParam(MPSolverParameters.DoubleParam.RELATIVE_MIP_GAP, Gap);
        if (solver.Solve(parameters) is not (Solver.ResultStatus.OPTIMAL or Solver.ResultStatus.FEASIBLE))
        {
            return null;
        }

        var values = variables.Select(own => own.Select(v => v.SolutionValue()).ToArray()).ToList();
        var isWhole = values.All(own => own.All(v => Math.Abs(v - Math.Round(v)) < Whole));
        var taken = values.Select(own => Array.IndexOf(own, own.Max())).ToList();

        // Of rounded numbers the sum, so that it is of the choices and not of the solver's tolerance.
        var cost = taken.Select((t, i) => problem.Items[i][t].Cost).Sum();
        return (new ChoiceSolution([.. taken], cost, Math.Min(cost, isRelaxed ? objective.Value() : objective.BestBound())), isWhole);
    }

    private static Variable[][] Describe(ChoiceProblem problem, Solver solver, Objective objective)
    {
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

        return variables;
    }
}
