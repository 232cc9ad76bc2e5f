"""Make or drop one database beside the one of a URL: `database.py URL make|drop NAME`."""

import sys
from urllib.parse import urlsplit, urlunsplit

import psycopg

WORDS = {
    "make": 'CREATE DATABASE "{name}"',
    "drop": 'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)',
}


def main(url: str, what: str, name: str) -> None:
    """Do it; prints the URL of the new one."""
    parts = urlsplit(url)
    admin = urlunsplit(parts._replace(scheme="postgresql", path="/postgres"))
    with psycopg.connect(admin, autocommit=True) as connection:
        connection.execute(WORDS[what].format(name=name))
        if what == "drop":
            connection.execute(WORDS[what].format(name=f"test_{name}"))
    if what == "make":
        print(urlunsplit(parts._replace(path=f"/{name}")))


if __name__ == "__main__":
    main(*sys.argv[1:])
