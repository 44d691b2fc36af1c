"""Solves integer programs in MPS files with CBC, which shares no code with the
engines of ours.

Usage: programs.py FILE...

Each file is a season's program as it is written for other solvers. The answer
goes to standard output, a line of JSON for each file:

  {"weighted": 1234.5,                the optimum of the file's own objective
   "point": [0, 1, ...],              a point that has it, by variable in the file's order
   "wishes": [[name, value], ...]}    the wishes' best values in their strict order, each
                                      with those before it held at their best
"""

import json
import os
import re
import subprocess
import sys
import tempfile

import pulp

WISHES = ["wish[coverage]", "wish[ready-by]", "wish[closeness]", "wish[body]", "wish[spacing]"]


def optimum(lines):
    """The optimum of a program given as the lines of an MPS file, and its point by name."""
    with tempfile.TemporaryDirectory() as folder:
        mps, out = os.path.join(folder, "program.mps"), os.path.join(folder, "answer.txt")
        with open(mps, "w", encoding="utf-8") as f:
            f.write("\n".join(lines) + "\n")
        # No gap at all: what is compared is the optimum.
        command = [pulp.PULP_CBC_CMD().path, mps, "-ratioGap", "0", "-allowableGap", "0", "-solve", "-solution", out]
        done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
        answer = [""]
        if os.path.exists(out):
            with open(out, encoding="utf-8") as f:
                answer = f.read().splitlines()
        found = re.match(r"Optimal .*objective value\s+(\S+)", answer[0])
        if not found:
            sys.exit(f"CBC says {answer[0]!r}\n{done.stdout[-2000:]}")
        # A line each: number, name, value, reduced cost. What is 0 has none.
        values = (line.replace("**", "").split() for line in answer[1:])
        return float(found[1]), {word[1]: float(word[2]) for word in values}


def names(lines):
    """The variables of a program in the file's order."""
    start, end = lines.index("COLUMNS"), lines.index("RHS")
    return list(dict.fromkeys(line.split()[0] for line in lines[start + 1 : end] if "'MARKER'" not in line))


def aimed(lines, wish, held):
    """The program with one wish as its objective and upper bounds on others."""
    out, section = [], ""
    for line in lines:
        word = line.split()
        if not line.startswith(" "):
            section = word[0]
        elif section == "COLUMNS" and word[1] == "cost":
            line = f" {word[0]} cost {1 if word[0] == wish else 0}"
        elif section == "BOUNDS" and word[0] == "UP" and word[2] in held:
            line = f" UP BOUND {word[2]} {held[word[2]]}"
        out.append(line)
    return out


def main():
    for path in sys.argv[1:]:
        with open(path, encoding="utf-8") as f:
            lines = f.read().splitlines()
        held = {}
        for wish in WISHES:
            held[wish] = round(optimum(aimed(lines, wish, held))[0])
        weighted, point = optimum(lines)
        answer = {"weighted": weighted, "point": [point.get(name, 0) for name in names(lines)], "wishes": list(held.items())}
        print(json.dumps(answer))


if __name__ == "__main__":
    main()
