"""What `import drawerwright` costs over a bare Python, and what each of its names costs when it is first asked for.

    python benchmarks/import_time.py [--repeats N]

Every figure is the median processor time of a new process less that of a bare one, in milliseconds. Both are started by
turns, so that what else the machine does falls on both.
"""

from __future__ import annotations

import argparse
import resource
import statistics
import subprocess
import sys

BARE = "pass"


def seconds(code: str) -> float:
    """Processor time that a new Python takes for some code."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", code], check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


def over_bare(code: str, repeats: int) -> float:
    """Milliseconds that some code takes more than nothing."""
    seconds(code)  # once for the compiled files
    pairs = [(seconds(code), seconds(BARE)) for _ in range(repeats)]
    with_code, bare = (statistics.median(times) for times in zip(*pairs, strict=True))
    return 1000 * (with_code - bare)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--repeats", type=int, default=21)
    options = parser.parse_args()
    print(f"import drawerwright           {over_bare('import drawerwright', options.repeats):7.1f} ms")
    import drawerwright

    for name in drawerwright.__all__:
        taken = over_bare(f"import drawerwright; drawerwright.{name}", max(options.repeats // 4, 1))
        print(f"  and drawerwright.{name:17} {taken:7.1f} ms")


if __name__ == "__main__":
    main()
