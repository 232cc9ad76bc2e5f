"""Do the locks hold what pyproject.toml asks for, each with a hash, and name no host?"""

import re
import sys
import tomllib
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[1]
HOST = re.compile(r"https?://|--(?:extra-)?index|--find|--trusted|file:|@ ")
PIN = re.compile(r"^([A-Za-z0-9._-]+)==([^ ;]+)(.*)$")


def main() -> int:
    """Compare; print each mismatch."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    service = project["project"]["dependencies"]
    wanted = {"service": service, "tests": service + project["dependency-groups"]["dev"]}
    wrong = [text for name, asked in wanted.items() for text in _wrong(name, asked)]
    wrong += _differing()
    for text in wrong:
        print(text)
    return 1 if wrong else 0


def _pins(name: str) -> dict[str, str]:
    lines = (ROOT / ".lock" / f"{name}.txt").read_text().splitlines()
    found = (PIN.match(line) for line in lines)
    return {canonicalize_name(one[1]): one[2] for one in found if one}


def _wrong(name: str, asked: list[str]) -> list[str]:
    text = (ROOT / ".lock" / f"{name}.txt").read_text()
    wrong = [f".lock/{name}.txt names a host: {one}" for one in HOST.findall(text)]
    blocks = re.split(r"\n(?=\S)", text.strip())
    wrong += [f"{name}: no hash: {one[:60]}" for one in blocks if "--hash=sha256:" not in one]
    pins = _pins(name)
    for requirement in map(Requirement, asked):
        pinned = pins.get(canonicalize_name(requirement.name))
        if pinned is None or not requirement.specifier.contains(pinned, prereleases=True):
            wrong.append(f"{name}: {requirement} is asked for, {pinned} is locked")
    return wrong


def _differing() -> list[str]:
    service, tests = _pins("service"), _pins("tests")
    return [
        f"{name}: {version} for the service, {tests.get(name)} for the tests"
        for name, version in service.items()
        if tests.get(name) != version
    ]


if __name__ == "__main__":
    sys.exit(main())
