"""Reads a program file and solves it with the very library that our binding loads,
called through ctypes, with the options of our binding. Arguments: FILE RELAXED (1:
all variables continuous) LIBRARY. The answer is a line of JSON."""

import ctypes as c
import json
import sys
import time

at, cpu = time.perf_counter(), time.process_time()
lib = c.CDLL(sys.argv[3])
lib.Highs_create.restype = c.c_void_p
lib.Highs_version.restype = c.c_char_p
h = c.c_void_p(lib.Highs_create())


def must(code):
    if code == -1:
        sys.exit("ctypes: the library refuses")


for name, value in {"output_flag": 0, "solve_relaxation": int(sys.argv[2] == "1")}.items():
    must(lib.Highs_setBoolOptionValue(h, name.encode(), c.c_int(value)))
for name, value in {"threads": 1, "random_seed": 0}.items():
    must(lib.Highs_setIntOptionValue(h, name.encode(), c.c_int(value)))
must(lib.Highs_setDoubleOptionValue(h, b"mip_rel_gap", c.c_double(0)))
must(lib.Highs_readModel(h, sys.argv[1].encode()))
must(lib.Highs_run(h))


def count(name):
    value = c.c_int()
    must(lib.Highs_getIntInfoValue(h, name.encode(), c.byref(value)))
    return max(0, value.value)


nodes, objective = c.c_int64(), c.c_double()
must(lib.Highs_getInt64InfoValue(h, b"mip_node_count", c.byref(nodes)))
must(lib.Highs_getDoubleInfoValue(h, b"objective_function_value", c.byref(objective)))
n, m = lib.Highs_getNumCol(h), lib.Highs_getNumRow(h)
x, d, a, y = (c.c_double * n)(), (c.c_double * n)(), (c.c_double * m)(), (c.c_double * m)()
must(lib.Highs_getSolution(h, x, d, a, y))
iterations = sum(map(count, ("simplex_iteration_count", "ipm_iteration_count", "crossover_iteration_count")))
seconds, cpu = time.perf_counter() - at, time.process_time() - cpu
print(
    json.dumps(
        {
            "Seconds": seconds,
            "CPU": cpu,
            "Work": f"objective {objective.value:.6g}, {max(0, nodes.value)} nodes, {iterations} iterations, "
            f"HiGHS {lib.Highs_version().decode()}",
        }
    )
)
