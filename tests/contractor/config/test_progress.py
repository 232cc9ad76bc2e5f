"""Does progress show as a bar to somebody who watches, and as lines in a log?"""

from io import StringIO

from contractor.config.demo.progress import Progress


class Terminal(StringIO):
    def isatty(self) -> bool:
        return True


def test_a_log_gets_one_line_per_stage() -> None:
    out = StringIO()
    assert list(Progress(out).over("crews", "abc")) == ["a", "b", "c"]
    assert out.getvalue() == "crews        3\n"


def test_a_terminal_gets_a_bar_that_fills() -> None:
    out = Terminal()
    list(Progress(out).over("crews", "ab"))
    bars = out.getvalue().rstrip("\n").split("\r")[1:]
    assert [bar.count("#") for bar in bars] == [0, 12, 24]
    assert out.getvalue().endswith("2/2 \n")
