"""Reads a program file and solves it with HiGHS through its Python package, with
the options of our binding. Arguments: FILE RELAXED (1: all variables continuous).
The answer is a line of JSON."""

import json
import sys
import time

import highspy

at, cpu = time.perf_counter(), time.process_time()
h = highspy.Highs()
for name, value in {
    "output_flag": False,
    "threads": 1,
    "random_seed": 0,
    "mip_rel_gap": 0.0,
    "solve_relaxation": sys.argv[2] == "1",
}.items():
    h.setOptionValue(name, value)
if h.readModel(sys.argv[1]) == highspy.HighsStatus.kError:
    sys.exit("highspy: the program can't be read")
h.run()
info = h.getInfo()
h.getSolution()
seconds, cpu = time.perf_counter() - at, time.process_time() - cpu
iterations = sum(max(0, n) for n in (info.simplex_iteration_count, info.ipm_iteration_count, info.crossover_iteration_count))
print(
    json.dumps(
        {
            "Seconds": seconds,
            "CPU": cpu,
            "Work": f"objective {info.objective_function_value:.6g}, {max(0, info.mip_node_count)} nodes, "
            f"{iterations} iterations, HiGHS {h.version()}",
        }
    )
)
