"""Reads a program file and solves it with HiGHS as OR-Tools' Python package has it,
through MathOpt, with the options of our binding. Arguments: FILE RELAXED (1: all
variables continuous). The answer is a line of JSON."""

import json
import sys
import time

from ortools.math_opt.io.python import mps_converter
from ortools.math_opt.python import mathopt

at, cpu = time.perf_counter(), time.process_time()
with open(sys.argv[1]) as f:
    program = mps_converter.mps_to_model_proto(f.read())
if sys.argv[2] == "1":
    program.variables.integers[:] = [False] * len(program.variables.integers)
model = mathopt.Model.from_model_proto(program)
params = mathopt.SolveParameters(random_seed=0, relative_gap_tolerance=0.0)
# MathOpt refuses its own threads for this engine and leaves them to the engine's option.
params.highs.int_options["threads"] = 1
r = mathopt.solve(model, mathopt.SolverType.HIGHS, params=params)
seconds, cpu = time.perf_counter() - at, time.process_time() - cpu
s = r.solve_stats
print(
    json.dumps(
        {
            "Seconds": seconds,
            "CPU": cpu,
            "Work": f"objective {r.objective_value():.6g}, {max(0, s.node_count)} nodes, "
            f"{s.simplex_iterations + s.barrier_iterations} iterations",
        }
    )
)
