#!/usr/bin/env python3
"""A general-purpose solver on the models that `bench-planner SEED FOLDER` wrote, to compare with.

usage: referee.py SECONDS MODEL.json...      needs: pip install ortools
Prints, one worker, for each model: hands minutes with their bound, then minutes held with theirs.
"""
import json
import sys
import time

try:
    from ortools.sat.python import cp_model
except ImportError:
    sys.exit("referee.py: ortools is not installed; nothing was measured (pip install ortools)")


def build(model):
    cp = cp_model.CpModel()
    variables = []
    for ranges in model["vars"]:
        if all(low >= 0 and high <= 1 for low, high in ranges):
            switch = cp.new_bool_var("")
            if ranges[0][0] == ranges[0][1]:
                cp.add(switch == ranges[0][0])
            variables.append(switch)
        else:
            variables.append(cp.new_int_var_from_domain(cp_model.Domain.from_intervals(ranges), ""))
    lit = lambda one: variables[one - 1] if one > 0 else ~variables[-one - 1]
    for total in model["sums"]:
        held = cp.add(sum(times * variables[var] for var, times in total["terms"]) <= total["most"])
        if total["when"]:
            held.only_enforce_if([lit(one) for one in total["when"]])
    for clause in model["clauses"]:
        cp.add_bool_or([lit(one) for one in clause])
    latest = max(ranges[-1][1] for ranges in model["vars"])
    for pile in model["piles"]:
        tasks, amounts = [], []
        for task in pile["tasks"]:
            length = variables[task["of"]] if task["length"] is None else task["length"]
            start = variables[task["start"]] + task["shift"]
            end = start + length
            if task["length"] is None:
                # An interval wants an end of one variable.
                end = cp.new_int_var(0, 2 * latest, "")
                cp.add(end == start + length)
            if task["when"] is None:
                tasks.append(cp.new_interval_var(start, length, end, ""))
            else:
                tasks.append(cp.new_optional_interval_var(start, length, end, lit(task["when"]), ""))
            amounts.append(task["amount"])
        cp.add_cumulative(tasks, amounts, pile["capacity"])
    costs = sum(cost * lit(one) for one, cost in model["costs"])
    return cp, costs, variables[model["held"]], variables


def stage(cp, goal, seconds):
    cp.minimize(goal)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(cp)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return solver, (int(solver.objective_value) if found else None), int(solver.best_objective_bound)


def main():
    seconds = float(sys.argv[1])
    for path in sys.argv[2:]:
        with open(path, encoding="utf-8") as file:
            cp, costs, held, variables = build(json.load(file))
        begun = time.time()
        solver, hands, least = stage(cp, costs, seconds)
        line = f"{path}: hands {hands} ({least}) {time.time() - begun:.2f} s"
        if hands is not None:
            for variable in variables:
                cp.add_hint(variable, solver.value(variable))
            cp.add(costs <= hands)
            _, minutes, least = stage(cp, held, seconds)
            line += f", held {minutes} ({least}) {time.time() - begun:.2f} s"
        print(line, flush=True)


main()
