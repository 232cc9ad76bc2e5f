"""Does the larger set-up hold its five services, each watched, and no secret of its own?"""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

ROOT = Path(__file__).resolve().parents[3]
TEXT = (ROOT / "docker-compose.yml").read_text(encoding="utf-8")
COMPOSE: dict[str, Any] = yaml.safe_load(TEXT)
SERVICES: dict[str, Any] = COMPOSE["services"]
STANDING = ("web", "worker", "beat", "postgres", "redis")
OURS = ("migrate", "web", "worker", "beat")


def test_five_services_stand_and_one_migrates() -> None:
    assert set(SERVICES) == {*STANDING, "migrate"}


@pytest.mark.parametrize("name", STANDING)
def test_each_is_watched_and_started_again(name: str) -> None:
    assert SERVICES[name]["healthcheck"]["test"][0] == "CMD"
    assert SERVICES[name]["restart"] == "unless-stopped"


@pytest.mark.parametrize("name", ["web", "worker", "beat"])
def test_none_of_ours_starts_before_the_database_is_migrated(name: str) -> None:
    waits = SERVICES[name]["depends_on"]
    assert waits["migrate"]["condition"] == "service_completed_successfully"
    assert waits["redis"]["condition"] == "service_healthy"
    assert SERVICES["migrate"]["depends_on"]["postgres"]["condition"] == "service_healthy"
    assert SERVICES["migrate"]["restart"] == "no"


def test_several_web_workers_and_a_single_beat() -> None:
    assert int(re.findall(r"--workers=(\d+)", " ".join(SERVICES["web"]["command"]))[0]) > 1
    assert [name for name in SERVICES if "beat" in SERVICES[name].get("command", [])] == ["beat"]
    assert "-B" not in SERVICES["worker"]["command"]


def test_redis_appends_and_every_volume_is_declared() -> None:
    command = SERVICES["redis"]["command"]
    assert command[command.index("--appendonly") + 1] == "yes"
    used = {one.partition(":")[0] for each in SERVICES.values() for one in each.get("volumes", [])}
    assert used == set(COMPOSE["volumes"])


def test_secrets_come_from_the_environment_or_it_does_not_start() -> None:
    for name in OURS:
        environment = SERVICES[name]["environment"]
        assert environment["SECRET_KEY"].startswith("${SECRET_KEY:?")
        assert "${POSTGRES_PASSWORD:?" in environment["DATABASE_URL"]
    assert SERVICES["postgres"]["environment"]["POSTGRES_PASSWORD"].startswith(
        "${POSTGRES_PASSWORD:?"
    )


def test_the_image_is_built_in_place_from_the_lock_by_another_user_than_root() -> None:
    lines = SERVICES["web"]["build"]["dockerfile_inline"].splitlines()
    assert "$" not in "".join(lines)  # compose would put a variable there
    assert any("--require-hashes" in line and ".lock/service.txt" in line for line in lines)
    copied = [line.split()[1] for line in lines if line.startswith("COPY")]
    assert all((ROOT / name).exists() for name in copied)
    assert {"contractor", "jobs", "fitcheck", "manage.py"} <= set(copied)
    last_user = [line.split()[1] for line in lines if line.startswith("USER")][-1]
    assert last_user not in ("root", "0")


def test_only_this_machine_reaches_the_web_port() -> None:
    published = [port for each in SERVICES.values() for port in each.get("ports", [])]
    assert len(published) == 1
    assert published[0].startswith("127.0.0.1:")
