"""2000 rootstocks and 2000 scions: the whole program against R's assignment solver, which must find the same.

usage: match_speed.py BIN_DIR [STEMS] [REPEATS]     (a build with -O2; R with the package clue)
Prints the processor time of `takehold match` from its start to its end, that of R's clue::solve_LSAP alone (without
starting R or reading), and how many times longer the latter is."""
import json
import os
import random
import resource
import subprocess
import sys
import tempfile
import time

TOLERANCE_MM = 0.2
R_CODE = """
suppressPackageStartupMessages(library(clue))
x <- 1000 * scan("%s", quiet = TRUE); y <- 1000 * scan("%s", quiet = TRUE)
apart <- abs(outer(x, y, "-")); refused <- 1 + max(apart) * length(x)
cost <- ifelse(apart <= %d, apart, refused)
took <- system.time(chosen <- as.integer(solve_LSAP(cost)))
paid <- cost[cbind(seq_along(chosen), chosen)]
cat(sum(paid < refused), round(sum(paid[paid < refused])), took[["user.self"]] + took[["sys.self"]], "\\n")
"""


def processor_seconds(command):
    """User and system time of the child, which a busy machine does not stretch as it does the clock's."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    began = time.perf_counter()
    with open(os.devnull, "w") as nowhere:
        subprocess.run(command, stdout=nowhere, check=True)
    clock = time.perf_counter() - began
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, clock


def main(bin_dir, stems=2000, repeats=15):
    rng = random.Random(2027)
    with tempfile.TemporaryDirectory() as folder:
        files = []
        for side in ("rootstocks", "scions"):
            files.append(os.path.join(folder, side))
            with open(files[-1], "w") as out:
                out.writelines(f"{rng.randint(1500, 2600) / 1000:.3f}\n" for _ in range(stems))
        command = [os.path.join(bin_dir, "takehold"), "match", "--rootstocks", files[0], "--scions", files[1],
                   "--within", str(TOLERANCE_MM), "--json"]
        start = min(processor_seconds([command[0], "--version"]) for _ in range(repeats))
        took = sorted(processor_seconds(command) for _ in range(repeats))
        ours = json.loads(subprocess.run(command, capture_output=True, check=True).stdout)
        r = subprocess.run(["Rscript", "-e", R_CODE % (*files, round(1000 * TOLERANCE_MM))], capture_output=True, text=True,
                           check=True).stdout.split()
    pairs, mismatch, seconds = int(r[0]), int(r[1]), float(r[2])
    same = (ours["count"], round(1000 * ours["mismatch_total_mm"])) == (pairs, mismatch)
    print(f"{stems} x {stems}: {ours['count']} pairs, {ours['mismatch_total_mm']:.3f} mm apart; R finds "
          f"{'the same' if same else f'{pairs} and {mismatch / 1000:.3f} mm: DIFFERENT'}")
    print(f"takehold, whole process: {1000 * took[0][0]:.1f} ms processor time at best, {1000 * took[len(took) // 2][0]:.1f} in the "
          f"middle; {1000 * min(t[1] for t in took):.1f} ms by the clock (of these {1000 * start[0]:.1f} to start: --version)")
    print(f"R clue::solve_LSAP alone: {1000 * seconds:.0f} ms; ratio {seconds / took[len(took) // 2][0]:.1f}")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], *map(int, sys.argv[2:])))
