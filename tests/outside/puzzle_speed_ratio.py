"""How often and how fast our planner and planners of `ompl` solve the same puzzles, in the same run.

    puzzle_speed_ratio.py [--sizes 5] [--seconds 8]

Both get the same obstacles, the same body and the same place to begin, as the example `puzzles` of the crate
`fit` prints them; ours is its release build on one core. `ompl` asks `fcl` which poses are free, a library in C++
behind a call of Python; so beside its time stands how many poses it looked at. It is given a pose that is out,
which ours is not, and stops without a way after so many seconds.

In a corner only as high as the rod is thick `ompl` plans twice: free, and with the rod kept level (two lengths and
an angle), which makes the puzzle easy and which ours does not know.
"""

import argparse
import json
import os
import statistics
import subprocess
from pathlib import Path

import puzzle_planning
from bodies import first_hit

ROOT = Path(__file__).parents[2]
LEVEL = "rod round a corner"
KINDS = [LEVEL, "leaning rod round a corner", "board through a hole"]
SHARES = [0.6, 0.8, 0.95, 0.98, 0.995]
PLANNERS = ["RRTConnect", "LBKPIECE1"]


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", type=int, default=5)
    parser.add_argument("--seconds", type=float, default=8.0)
    parser.add_argument("--shares", type=float, nargs="+", default=SHARES)
    arguments = parser.parse_args()
    puzzle_planning.set_seed(1)
    print("| puzzle | % of critical | planner | found | median s of those found | median poses |")
    print("| --- | --- | --- | --- | --- | --- |")
    for share in arguments.shares:
        lines = ours(arguments.sizes, share)
        for kind in KINDS:
            told = [line for line in lines if line["puzzle"] == kind]
            found = [line["ms"] / 1e3 for line in told if line["verdict"] == "found"]
            show(kind, share, "ours", len(told), found, [])
            for planner in PLANNERS:
                for is_level in (True, False) if kind == LEVEL else (False,):
                    compare(kind, share, planner, is_level, told, arguments.seconds)


def ours(sizes, share):
    command = ["cargo", "run", "--quiet", "--release", "--locked", "-p", "fit", "--example", "puzzles", "--", str(sizes), str(share), "timed"]
    done = subprocess.run(command, cwd=ROOT, env={**os.environ, "RAYON_NUM_THREADS": "1"}, stdout=subprocess.PIPE, text=True, check=True)
    return [json.loads(line) for line in done.stdout.splitlines()]


def compare(kind, share, planner, is_level, told, seconds):
    times, poses, hits = [], [], 0
    for line in told:
        task = puzzle_planning.Task(line)
        answer = puzzle_planning.solve(task, planner, is_level, most_seconds=seconds)
        if answer.motions:
            hit, _ = first_hit([task.body], answer.motions, task.obstacles, range(len(task.obstacles)))
            # Between the poses that it looked at the way may hit something.
            if hit is None:
                times.append(answer.seconds)
                poses.append(answer.poses)
            else:
                hits += 1
    name = f"ompl {planner}{', kept level' if is_level else ''}"
    show(kind, share, name + (f" ({hits} more hit something when played)" if hits else ""), len(told), times, poses)


def show(kind, share, planner, count, times, poses):
    seconds = f"{statistics.median(times):.3f}" if times else ""
    looked_at = f"{statistics.median(poses):.0f}" if poses else ""
    print(f"| {kind} | {100.0 * share:g} | {planner} | {len(times)}/{count} | {seconds} | {looked_at} |", flush=True)


if __name__ == "__main__":
    main()
