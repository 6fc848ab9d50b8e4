# SPDX-License-Identifier: GPL-3.0-or-later
"""kill-during-save.py SAVE-LOOP: kills a saving program 500 times at random moments. Every time the file is whole, one
of the two that were being saved, and so is the version before, once there is one."""
import pathlib
import random
import signal
import subprocess
import sys
import tempfile
import time

KILLS = 500
SAVES = 3  # that a kill waits for, at the longest
random.seed(20261125)
program = sys.argv[1]


def start(first):
    saving = subprocess.Popen([program, first, target], stdout=subprocess.PIPE)
    if saving.stdout.read(1) != b"\n":
        print("Bail out! the saving program does not start")
        sys.exit(1)
    return saving


def kill(saving):
    saving.send_signal(signal.SIGKILL)
    saving.stdout.close()
    return saving.wait()


def time_of_a_save():
    """Until the version before is there: two saves. How long that is is up to the disk."""
    began = time.monotonic()
    saving = start("one")
    while not previous.exists():
        time.sleep(0.0005)
    took = time.monotonic() - began
    kill(saving)
    return min(took / 2, 0.05)


with tempfile.TemporaryDirectory(prefix="trammel-kill-") as name:
    folder = pathlib.Path(name) / "saved"
    folder.mkdir()
    target, previous = folder / "heron.trammel", folder / "heron.trammel~"
    expected = pathlib.Path(name) / "expected"
    subprocess.run([program, "show", expected], check=True)
    whole = {expected.with_suffix("." + which).read_bytes(): which for which in ("one", "other")}
    longest = SAVES * time_of_a_save()
    broken = []
    in_the_middle = 0
    seen = {"one": 0, "other": 0}

    for i in range(KILLS):
        for leftover in folder.glob(".heron.trammel.*"):
            leftover.unlink()
        saving = start(("one", "other")[i % 2])
        time.sleep(random.uniform(0, longest))
        status = kill(saving)
        if status != -signal.SIGKILL:
            broken.append(f"kill {i}: it had ended by itself, status {status}")
        for path in (target, previous):
            found = whole.get(path.read_bytes()) if path.exists() else None
            if found is None:
                broken.append(f"kill {i}: {path.name} is {'broken' if path.exists() else 'gone'}")
            elif path is target:
                seen[found] += 1
        in_the_middle += any(folder.glob(".heron.trammel.*"))

print("1..2")
print(f"{'not ok' if broken else 'ok'} 1 - {KILLS} kills, a whole file each time")
for line in broken[:20]:
    print("#", line)
# A test that never hits a save would prove nothing.
enough = in_the_middle >= KILLS // 10 and min(seen.values()) >= KILLS // 10
print(f"{'ok' if enough else 'not ok'} 2 - {in_the_middle} kills in the middle of a write, both files seen: {seen}")
sys.exit(1 if broken or not enough else 0)
