"""Can a stranger's generator make a client from the schema, and does that client book a visit?"""

import hashlib
import importlib
import json
import re
import subprocess
import sys
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from PIL import Image

from tests.clients import Caller
from tests.factories import CrewFactory, JobFactory, fresh_uuid
from tests.schema_check import schema

NAME = "invented_client"
# Pictures and papers are no JSON; the generator says so, and may say nothing else.
PICTURE = re.compile(
    r"Unsupported content[_ ]type (?:image/[a-z+*]+|application/(?:pdf|vnd[a-z.-]+))"
)


@pytest.fixture(scope="module")
def client_package(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Generate the client; a schema that the generator only half understands fails here."""
    folder = tmp_path_factory.mktemp("client")
    document, config = folder / "schema.json", folder / "config.json"
    document.write_text(json.dumps(schema()), encoding="utf-8")
    config.write_text(
        json.dumps({"package_name_override": NAME, "post_hooks": []}), encoding="utf-8"
    )
    out = folder / "out"
    command = [str(Path(sys.executable).parent / "openapi-python-client"), "generate"]
    options = ["--path", str(document), "--config", str(config), "--output-path", str(out)]
    done = subprocess.run(
        [*command, *options, "--meta", "none"], capture_output=True, text=True, timeout=110
    )
    assert done.returncode == 0, done.stdout + done.stderr
    said = done.stdout + done.stderr
    assert said.count("WARNING") == len(PICTURE.findall(said)), said
    holder = out.parent / NAME
    out.rename(holder)
    sys.path.insert(0, str(folder))
    yield holder
    sys.path.remove(str(folder))


def module(name: str) -> ModuleType:
    return importlib.import_module(f"{NAME}.{name}")


@pytest.mark.real
def test_every_module_of_the_generated_client_imports(client_package: Path) -> None:
    modules = [one for one in client_package.rglob("*.py") if one.name != "__init__.py"]
    assert len(modules) > 100
    for path in modules:
        inner = path.relative_to(client_package).with_suffix("")
        module(".".join(inner.parts))


@pytest.mark.real
@pytest.mark.django_db(transaction=True)
def test_the_generated_client_books_a_visit_and_reads_it_back(
    client_package: Path, live_server: Any, scheduler: Caller
) -> None:
    models, api = module("models"), "api.bookings"
    client = module("client").AuthenticatedClient(base_url=live_server.url, token=scheduler.token)
    body = models.BookingRequest.from_dict(
        {
            "job": JobFactory().number,
            "crew": CrewFactory().slug,
            "visit": "survey",
            "starts_at": "2027-03-02T14:00:00+00:00",
            "ends_at": "2027-03-02T16:00:00+00:00",
        }
    )
    with client:
        made = module(f"{api}.bookings_create").sync_detailed(
            client=client, body=body, idempotency_key=fresh_uuid()
        )
        assert made.status_code == 201, made.content
        read = module(f"{api}.bookings_retrieve").sync(made.parsed.id, client=client)
        clash = module(f"{api}.bookings_create").sync_detailed(
            client=client, body=body, idempotency_key=fresh_uuid()
        )
    assert read.to_dict() == made.parsed.to_dict()
    assert str(read.local).startswith("Tue 2 Mar 2027, 09:00")
    assert clash.status_code == 409
    assert clash.parsed.code == "crew_taken"


@pytest.mark.real
@pytest.mark.django_db(transaction=True)
def test_the_generated_client_puts_a_photo(
    client_package: Path, live_server: Any, tablet: Caller
) -> None:
    jpeg = BytesIO()
    Image.new("RGB", (60, 40), (90, 120, 90)).save(jpeg, "JPEG")
    content = jpeg.getvalue()
    digest = hashlib.sha256(content).hexdigest()
    client = module("client").AuthenticatedClient(base_url=live_server.url, token=tablet.token)
    sent = module("types").File(payload=BytesIO(content))
    with client:
        made = module("api.photos.photos_update").sync_detailed(digest, client=client, body=sent)
        told = module("api.photos.photos_retrieve").sync(digest, client=client)
    assert made.status_code == 201, made.content
    assert told.media_type == "image/jpeg"
