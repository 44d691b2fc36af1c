"""Lives invented seasons and judges every plan; a line for each disagreement, then counts.

    python3 -m audit.campaign --program bin/primaprova [--first SEED] [--seeds N] [--steps N] [--keep FOLDER]

The same seed gives the same season and the same steps, with which nothing but the program's own
limits of time can differ. Exit code 1: there are disagreements.
"""

import argparse
import os
import random
import shlex
import shutil
import sys
import tempfile
import time

from .chance import Chance
from .invented import Invented
from .life import Life


def lived(seed, program, folder, steps):
    """A life by its seed."""
    chance = random.Random(seed)
    invented = Invented(chance)
    life = Life(program, folder, invented.files)
    Chance(chance, life, invented.first, invented.last).live(steps)
    return life


def script(life):
    """The steps of a life as a shell script."""
    out = []
    for step in life.steps:
        if isinstance(step, tuple):
            out.append(f"# season.yaml: {step[0]!r} becomes {step[1]!r}")
        elif step[0] == "append":
            out.append("cat >> season.record.jsonl <<'END'\n" + step[1] + "END")
        elif step[0] == "truncate":
            out.append(" ".join(step))
        else:
            out.append("primaprova " + " ".join(map(shlex.quote, step)))
    return "\n".join(out) + "\n"


def report(seed, life):
    for k, kind, breaches in life.breaches:
        for rule, text in breaches[:6]:
            print(f"seed {seed}, step {k}, {kind}: {rule}: {text}")
        if len(breaches) > 6:
            print(f"seed {seed}, step {k}, {kind}: and {len(breaches) - 6} more")
    sys.stdout.flush()


def kept(seed, program, given):
    """A life, told and, where there is disagreement, kept."""
    with tempfile.TemporaryDirectory() as folder:
        home = os.path.join(folder, "season")
        os.mkdir(home)
        life = lived(seed, program, home, given.steps)
        report(seed, life)
        if life.breaches and given.keep:
            with open(os.path.join(home, "commands.sh"), "w", encoding="utf-8") as f:
                f.write(script(life))
            shutil.copytree(folder, os.path.join(given.keep, str(seed)), dirs_exist_ok=True)
        return life


def main():
    ask = argparse.ArgumentParser(prog="campaign", description=__doc__.splitlines()[0])
    ask.add_argument("--program", required=True)
    ask.add_argument("--first", type=int, default=1)
    ask.add_argument("--seeds", type=int, default=20)
    ask.add_argument("--steps", type=int, default=12)
    ask.add_argument("--keep", help="folder for what there is disagreement about")
    given = ask.parse_args()
    program = shutil.which(given.program) or given.program
    program, counts, causes, plans, start = os.path.abspath(program), {}, {}, 0, time.time()
    seasons = 0
    try:
        for seed in range(given.first, given.first + given.seeds):
            life = kept(seed, program, given)
            seasons += 1
            plans += life.plans
            for kind, n in life.counts.items():
                counts[kind] = counts.get(kind, 0) + n
            for _, _, breaches in life.breaches:
                for rule in {rule for rule, _ in breaches}:
                    causes[rule] = causes.get(rule, 0) + 1
    except KeyboardInterrupt:
        print("stopped")
    print(f"{seasons} seasons, {sum(counts.values())} commands, {plans} plans judged, {time.time() - start:.0f} s")
    for kind, n in sorted(counts.items()):
        print(f"  {kind}: {n}")
    for rule, n in sorted(causes.items(), key=lambda c: -c[1]):
        print(f"disagree on {rule}: {n} plans")
    sys.exit(1 if causes else 0)


if __name__ == "__main__":
    main()
