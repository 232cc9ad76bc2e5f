"""A worker like any other, but with a short lease, and slow while nobody is named: it is to be killed."""

import os
import time
from datetime import timedelta
from pathlib import Path
from typing import Any

LEASE_S = 3
LONG_S = 60


def slowed(folder: Path, render: Any) -> Any:
    """Wrap the rendering: the first to get here while nobody is named says who it is, and takes long."""

    def first_slow(*args: Any, **kwargs: Any) -> Any:
        with (folder / "renders").open("a") as told:
            told.write(f"{os.getpid()}\n")
        marker = folder / "rendering"
        if not marker.exists():
            marker.write_text(str(os.getpid()))
            time.sleep(LONG_S)
        return render(*args, **kwargs)

    return first_slow


def main() -> None:
    """Run a worker with its own beat."""
    import django

    django.setup()
    from contractor.config.celery import app
    from jobs.packets import services

    folder = Path(os.environ["DATA_DIR"])
    services.PAPERS.lease = timedelta(seconds=LEASE_S)
    services.packet_render = slowed(folder, services.packet_render)
    schedule = str(folder / f"beat-{os.getpid()}")
    app.worker_main(["worker", "--beat", "--concurrency=1", f"--schedule={schedule}"])


if __name__ == "__main__":
    main()
