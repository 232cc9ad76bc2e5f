"""Does nothing stand at the top that does not belong there, and is no file too long to read?"""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "manage.py",
    "contractor",
    "jobs",
    "fitcheck",
    "docker-compose.yml",
    "tests",
}
WRITTEN = {".py", ".md", ".toml", ".yml", ".html", ".css", ".js", ".typ", ".sh", ""}
LONGEST = 400


def main() -> int:
    """Compare; print each mismatch."""
    here = {one.name for one in ROOT.iterdir() if not one.name.startswith(".")}
    wrong = [f"{name} does not belong at the top" for name in sorted(here - TOP)]
    wrong += [f"{name} is missing at the top" for name in sorted(TOP - here)]
    wrong += [f"{path}: {count} lines, at most {LONGEST}" for path, count in _long()]
    for text in wrong:
        print(text)
    return 1 if wrong else 0


def _long() -> list[tuple[str, int]]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True)
    names = [name for name in listed.stdout.decode().split("\0") if name]
    written = [name for name in names if Path(name).suffix in WRITTEN and (ROOT / name).is_file()]
    counts = [(name, len((ROOT / name).read_bytes().splitlines())) for name in written]
    return [(name, count) for name, count in counts if count > LONGEST]


if __name__ == "__main__":
    sys.exit(main())
