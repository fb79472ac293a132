"""``python -m bench [NAME [OPTION=NUMBER ...]]``: list the benchmarks, or run one."""

import importlib
import sys
from pathlib import Path


def summary(name: str) -> str:
    """First line of a benchmark's docstring, without importing it."""
    text = (Path(__file__).parent / f"{name}.py").read_text(encoding="utf-8")
    return text.split('"""')[1].strip().splitlines()[0]


def main(arguments: list[str]) -> int:
    names = sorted(p.stem for p in Path(__file__).parent.glob("[!_]*.py"))
    if not arguments:
        print("python -m bench NAME [OPTION=NUMBER ...]\n")
        for name in names:
            print(f"  {name:14} {summary(name)}")
        return 0
    name, *options = arguments
    if name not in names:
        print(f"There is no benchmark {name}; there are {', '.join(names)}.", file=sys.stderr)
        return 1
    try:
        numbers = {key: int(value) for key, value in (o.split("=") for o in options)}
    except ValueError:
        print("An option is written NAME=NUMBER, such as athletes=100.", file=sys.stderr)
        return 1
    importlib.import_module(f"bench.{name}").run(**numbers)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
