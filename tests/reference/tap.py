# SPDX-License-Identifier: GPL-3.0-or-later
"""Reports in TAP: one line for each case; a failed one says why."""
import sys
import traceback


def run(cases):
    """@cases: (name, function) pairs; a function that raises has failed; one that returns a text was skipped."""
    failed = 0
    print(f"1..{len(cases)}")
    for number, (name, function) in enumerate(cases, 1):
        try:
            skipped = function()
        except Exception:  # whatever goes wrong is a failure of this case only
            failed += 1
            print(f"not ok {number} - {name}")
            print("".join("# " + line + "\n" for line in traceback.format_exc().splitlines()), end="")
        else:
            print(f"ok {number} - {name}" + (f" # SKIP {skipped}" if skipped else ""))
        sys.stdout.flush()
    sys.exit(1 if failed else 0)
