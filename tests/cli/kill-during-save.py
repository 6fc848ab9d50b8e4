# SPDX-License-Identifier: GPL-3.0-or-later
"""kill-during-save.py SAVE-LOOP: kills a saving program 500 times at random moments. Every time the file is whole, one
of the two that were being saved, and so is the version before, once there is one."""
import os
import pathlib
import random
import signal
import subprocess
import sys
import tempfile
import time

KILLS = 500
LONGEST_WAIT = 0.04  # s: several saves
random.seed(20261125)

with tempfile.TemporaryDirectory(prefix="trammel-kill-") as name:
    folder = pathlib.Path(name)
    target, previous = folder / "saved" / "heron.trammel", folder / "saved" / "heron.trammel~"
    one, other = folder / "one", folder / "other"
    target.parent.mkdir()
    broken = []
    in_the_middle = 0
    seen = {"one": 0, "other": 0}

    for kill in range(KILLS):
        saving = subprocess.Popen([sys.argv[1], target, one, other], stdout=subprocess.PIPE)
        if saving.stdout.read(1) != b"\n":
            print("Bail out! the saving program does not start")
            sys.exit(1)
        if kill == 0:
            whole = {one.read_bytes(): "one", other.read_bytes(): "other"}
            while not previous.exists():
                time.sleep(0.001)
        before = {entry.name for entry in target.parent.iterdir()}
        time.sleep(random.uniform(0, LONGEST_WAIT))
        saving.send_signal(signal.SIGKILL)
        status = saving.wait()
        saving.stdout.close()
        if status != -signal.SIGKILL:
            broken.append(f"kill {kill}: it had ended by itself, status {status}")
        for path in (target, previous):
            found = whole.get(path.read_bytes()) if path.exists() else None
            if found is None:
                broken.append(f"kill {kill}: {path.name} is {'broken' if path.exists() else 'gone'}")
            elif path is target:
                seen[found] += 1
        leftovers = {entry.name for entry in target.parent.iterdir()} - before - {target.name, previous.name}
        in_the_middle += bool(leftovers)
        for leftover in leftovers:
            os.unlink(target.parent / leftover)

print("1..2")
print(f"{'not ok' if broken else 'ok'} 1 - {KILLS} kills, a whole file each time")
for line in broken[:20]:
    print("#", line)
# A test that never hits a save would prove nothing.
enough = in_the_middle >= KILLS // 10 and min(seen.values()) >= KILLS // 10
print(f"{'ok' if enough else 'not ok'} 2 - {in_the_middle} of the kills in the middle of a write, both files seen: {seen}")
sys.exit(1 if broken or not enough else 0)
