"""Many recipes at once: every form in and out, order, faults, interruptions, and what stands beside the output."""

from __future__ import annotations

import csv
import json
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pyarrow
import pyarrow.parquet
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rewriter
from rewriter import cli
from rewriter.batch import Row, Settings, crew, run
from rewriter.batch.job import as_json, row_of
from rewriter.batch.journal import Journal
from rewriter.batch.sources import source
from rewriter.batch.work import Annotate
from rewriter.errors import Unusable
from tests.faulty import Faulty, texts

EXAMPLES = Path(__file__).parent.parent / "corpus" / "examples"
CAKE = (EXAMPLES / "ninebark-butter-cake.txt").read_text(encoding="utf-8")
BISCUITS = (EXAMPLES / "teague-soda-biscuits.md").read_text(encoding="utf-8")
ASKS = "Bars, our 7,000 ft version\n\n2 cups flour\n1 cup sugar\n1 egg\n\nMix. Bake at 350 F for 20 minutes.\n"
HERE = Settings("8,200 ft")
ROWS = [
    {"id": "cake", "text": CAKE},
    {"id": "bars", "text": ASKS},
    {"id": "letter", "text": "Dear Odalys, thank you for the lovely evening at the Ninebark Oven."},
    {"id": "biscuits", "text": BISCUITS},
]


def jsonl(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def write_jsonl(path: Path, rows: list[Any]) -> Path:
    path.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
    return path


def write_csv(path: Path, rows: list[dict[str, str]]) -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, ["id", "text"])
        writer.writeheader()
        writer.writerows(rows)
    return path


def write_parquet(path: Path, rows: list[dict[str, Any]]) -> Path:
    pyarrow.parquet.write_table(pyarrow.Table.from_pylist(rows), path)
    return path


WRITERS = {"jsonl": write_jsonl, "csv": write_csv, "parquet": write_parquet}


def read_back(path: Path) -> list[dict[str, Any]]:
    """The rows of an output, whatever its form."""
    if path.suffix == ".jsonl":
        return jsonl(path)
    if path.suffix == ".parquet":
        found = pyarrow.parquet.read_table(path).to_pylist()
    else:
        with path.open(encoding="utf-8", newline="") as file:
            found = list(csv.DictReader(file))
    return [{**row, "row": int(row["row"]), **{k: json.loads(row[k]) for k in ("changes", "review")}} for row in found]


@pytest.mark.parametrize("into", ["jsonl", "csv", "parquet"])
@pytest.mark.parametrize("form", ["jsonl", "csv", "parquet"])
def test_every_form_in_and_out_says_what_one_recipe_says(tmp_path: Path, form: str, into: str) -> None:
    origin = WRITERS[form](tmp_path / f"cards.{form}", ROWS)
    tally = run(origin, tmp_path / f"annotated.{into}", HERE, workers=1)
    found = read_back(tally.out)
    assert [(row["row"], row["id"]) for row in found] == [(1, "cake"), (2, "bars"), (4, "biscuits")]
    for row in found:
        alone = rewriter.rewrite(ROWS[row["row"] - 1]["text"], "8,200 ft")
        assert row["text"] == alone.text
        assert [change["new"] for change in row["changes"]] == [change.new for change in alone.changes]
        assert [query["id"] for query in row["review"]] == [query.id for query in alone.review]
        assert rewriter.strip(row["text"]) == ROWS[row["row"] - 1]["text"]
    assert tally.aside is not None
    assert jsonl(tally.aside) == [
        {"row": 3, "id": "letter", "error": jsonl(tally.aside)[0]["error"], "text": ROWS[2]["text"]}
    ]
    assert "no recipe is found" in jsonl(tally.aside)[0]["error"]
    assert (tally.recipes, tally.asides, tally.before) == (4, 1, 0)


def test_a_folder_comes_back_file_by_file_in_its_own_encodings(tmp_path: Path) -> None:
    box = tmp_path / "box"
    (box / "cookies").mkdir(parents=True)
    files = {
        "cake.txt": CAKE.encode(),
        "cookies/bars.md": ASKS.replace("1 cup", "1½ cup").encode("cp1252"),
        "cookies/marked.txt": BISCUITS.encode("utf-16"),
        "dos.txt": b"\xef\xbb\xbf" + CAKE.replace("\n", "\r\n").encode(),
        "photo.png": b"\x89PNG\r\n\x1a\n" + bytes(50),
        ".hidden": b"2 cups flour",
    }
    for name, data in files.items():
        (box / name).write_bytes(data)
    tally = run(box, tmp_path / "annotated", HERE, workers=2)
    there = sorted(path.relative_to(tally.out).as_posix() for path in tally.out.rglob("*") if path.is_file())
    assert there == ["cake.txt", "cookies/bars.md", "cookies/marked.txt", "dos.txt"]
    assert (tally.out / "cake.txt").read_text(encoding="utf-8") == rewriter.rewrite(CAKE, "8,200 ft").text
    assert b"\xbd cup" in (tally.out / "cookies/bars.md").read_bytes()  # still in its own encoding
    assert (tally.out / "cookies/marked.txt").read_bytes()[:2] in (b"\xff\xfe", b"\xfe\xff")
    assert (tally.out / "dos.txt").read_bytes().startswith(b"\xef\xbb\xbf")
    assert b"\r\n" in (tally.out / "dos.txt").read_bytes()
    assert [row["id"] for row in jsonl(tally.out.with_name("annotated.aside.jsonl"))] == ["photo.png"]
    for name, data in files.items():
        assert (box / name).read_bytes() == data


BAD = [
    ("not json", b'{"id": "a", "text": \n', "is no JSON"),
    ("neither", b"[1, 2]\n", "neither an object"),
    ("no text", b'{"id": "a"}\n', 'the field "text" is missing'),
    ("a number", b'{"text": 7}\n', "empty or no text"),
    ("empty", b'{"text": ""}\n', "empty or no text"),
    ("half a letter", b'{"text": "\\ud83d\\udcb0\\ud83d"}\n', "binary"),
    ("deep", b"[" * 100_000 + b"\n", "is no JSON"),
    ("answers", b'{"text": "2 cups flour", "answers": [1]}\n', "answers must be an object"),
    ("no such answer", json.dumps({"text": ASKS, "answers": {"written-for@0": "the moon"}}).encode() + b"\n", "moon"),
    ("another language", json.dumps({"text": "250 g Mehl und 3 Eier mit dem Zucker verrühren, dann die Milch"}).encode()
     + b"\n", "German"),
]  # fmt: skip


def test_bad_rows_are_set_aside_and_the_others_go_on(tmp_path: Path) -> None:
    good = json.dumps({"id": "good", "text": CAKE}).encode() + b"\n"
    origin = tmp_path / "cards.jsonl"
    origin.write_bytes(b"\n" + good.join(line for _, line, _ in BAD) + good)
    tally = run(origin, tmp_path / "out.jsonl", HERE, workers=2)
    assert tally.aside is not None
    errors = [row["error"] for row in jsonl(tally.aside)]
    assert len(errors) == len(BAD)
    for (name, _, said), error in zip(BAD, errors, strict=True):
        assert said in error, name
    assert [row["id"] for row in jsonl(tally.out)] == ["good"] * len(BAD)
    numbers = [row["row"] for path in (tally.out, tally.aside) for row in jsonl(path)]
    assert sorted(numbers) == list(range(1, 2 * len(BAD) + 1))


def test_uneven_csv_semicolons_and_old_encodings(tmp_path: Path) -> None:
    origin = tmp_path / "cards.csv"
    text = "Buns\n\n1½ cups flour\n1 tsp baking powder\n\nBake at 400 F."
    origin.write_bytes(f'id;text\n1;"{text}"\n2;"a";"b"\n3\n4;"{text}"\n'.encode("cp1252"))
    rows = list(source(origin).rows())
    assert [(row.number, row.id, bool(row.error)) for row in rows] == [
        (1, "1", False), (2, "2", True), (3, "3", True), (4, "4", False),
    ]  # fmt: skip
    assert rows[0].text == text
    assert source(origin).total == 4


def test_what_leaves_nothing_to_do_says_so(tmp_path: Path) -> None:
    table = write_csv(tmp_path / "cards.csv", ROWS)
    parquet = write_parquet(tmp_path / "cards.parquet", [{"recipe": CAKE}])
    (tmp_path / "torn.parquet").write_bytes(b"PAR1 torn")
    (tmp_path / "card.txt").write_text(CAKE)
    (tmp_path / "mine.jsonl").write_text("somebody's own")
    cases: list[tuple[Path, str, dict[str, Any], str]] = [
        (table, "out.jsonl", {"text_field": "recipe"}, 'no column "recipe"; it has id, text'),
        (parquet, "out.jsonl", {}, 'no column "text"; it has recipe'),
        (tmp_path / "torn.parquet", "out.jsonl", {}, "no Parquet that can be read"),
        (tmp_path / "card.txt", "out.jsonl", {}, "no collection"),
        (tmp_path / "nowhere", "out.jsonl", {}, "does not exist"),
        (table, "out.xlsx", {}, "no ending that says its form"),
        (table, "no/such/out.jsonl", {}, "does not exist"),
        (table, "mine.jsonl", {"afresh": True}, "no batch wrote it"),
        (tmp_path, "out.jsonl", {}, "stands apart"),
        (table, "out.jsonl", {"engine": "steam"}, "no engine"),
        (table, "out.jsonl", {"workers": 0}, "needs a worker"),
    ]
    for origin, out, more, said in cases:
        with pytest.raises(Unusable, match=said):
            run(origin, tmp_path / out, HERE, **more)
    for wrong in (Settings(), Settings("8,200 ft", guide="hearsay"), Settings("8,200 ft", style="docx")):
        with pytest.raises(Unusable):
            run(table, tmp_path / "out.jsonl", wrong)
    assert (tmp_path / "mine.jsonl").read_text() == "somebody's own"
    assert not (tmp_path / "out.jsonl").exists()


def test_answers_travel_with_their_row(tmp_path: Path) -> None:
    asked = rewriter.rewrite(ASKS, "8,200 ft").review[0]
    answers = {asked.id: asked.choices[0] if asked.choices else "0 ft"}
    rows = [{"id": "asked", "text": ASKS}, {"id": "told", "text": ASKS, "answers": answers}]
    first, second = jsonl(run(write_jsonl(tmp_path / "c.jsonl", rows), tmp_path / "o.jsonl", HERE, workers=1).out)
    assert asked.id in [query["id"] for query in first["review"]]
    assert asked.id not in [query["id"] for query in second["review"]]


def test_the_report_names_what_needs_a_look(tmp_path: Path) -> None:
    rows = [*ROWS, {"id": "cake", "text": CAKE}]
    report = run(write_jsonl(tmp_path / "c.jsonl", rows), tmp_path / "o.jsonl", HERE, workers=1).report.read_text()
    query = rewriter.rewrite(ASKS, "8,200 ft").review[0]
    assert f"`{query.id}`" in report
    assert "row 2, `bars`" in report
    assert "row 3, `letter`: no recipe is found" in report
    assert "| in all | 5 |" in report
    assert "row 5, `cake`, an id that stood before" in report


def test_run_again_does_nothing_twice_and_another_job_is_refused(tmp_path: Path) -> None:
    origin, out = write_jsonl(tmp_path / "c.jsonl", ROWS), tmp_path / "o.jsonl"
    first = run(origin, out, HERE, workers=1)
    before = {path.name: path.stat().st_mtime_ns for path in tmp_path.iterdir()}
    again = run(origin, out, HERE, workers=1)
    assert (again.recipes, again.asides, again.before) == (first.recipes, first.asides, 4)
    assert {path.name: path.stat().st_mtime_ns for path in tmp_path.iterdir()} == before
    with pytest.raises(Unusable, match="not what this run would write"):
        run(origin, out, Settings("6500 ft"), workers=1)
    write_jsonl(origin, ROWS[:2])
    with pytest.raises(Unusable, match="not what this run would write"):
        run(origin, out, HERE, workers=1)
    assert run(origin, out, HERE, workers=1, afresh=True).recipes == 2
    assert len(jsonl(out)) == 2
    assert not (tmp_path / "o.jsonl.aside.jsonl").exists()


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT])
def test_interrupted_it_goes_on_where_it_was(tmp_path: Path, how: signal.Signals) -> None:
    rows = [{"id": f"card {i}", "text": f"Card {i}\n\n{CAKE}"} for i in range(400)]
    origin, out = write_jsonl(tmp_path / "c.jsonl", rows), tmp_path / "o.jsonl"
    command = [sys.executable, "-m", "rewriter", "batch", str(origin), str(out), "-e", "8,200 ft", "--workers", "2"]
    journal = tmp_path / "o.jsonl.unfinished" / "rows.jsonl"
    # what a shell starts in the background is deaf to Ctrl-C, and hands that down
    began = subprocess.Popen(command, stderr=subprocess.DEVNULL, preexec_fn=hearing)
    until(lambda: journal.exists() and journal.stat().st_size > 100_000)
    hands = children(began.pid)
    began.send_signal(how)
    assert began.wait(30) in (-signal.SIGKILL, 130)
    assert not out.exists()
    until(lambda: not any(Path(f"/proc/{pid}").exists() for pid in hands))  # nobody is left at work
    with journal.open("ab") as file:
        file.write(b'{"row": 99999, "id": "torn')  # what a crash of the machine may leave
    done = subprocess.run(command, capture_output=True, check=True)
    assert b"of them by an earlier run" in done.stderr
    assert done.stdout == b""
    assert [(row["row"], row["id"]) for row in jsonl(out)] == [(i + 1, f"card {i}") for i in range(400)]
    assert not journal.parent.exists()


def hearing() -> None:
    """End at Ctrl-C, as a program in the foreground does."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def children(pid: int) -> list[int]:
    """Every process below one, by /proc."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            if int(stat.read_text().rpartition(")")[2].split()[1]) == pid:
                found += [int(stat.parent.name), *children(int(stat.parent.name))]
        except OSError:
            continue
    return found


def until(true: Any, seconds: float = 60) -> None:
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it never came to pass"
        time.sleep(0.02)


def test_a_journal_is_one_process_at_a_time_and_cuts_what_is_torn(tmp_path: Path) -> None:
    with Journal(tmp_path / "j") as journal:
        assert journal.begin({"a": 1}) == 0
        journal.add(b'{"row": 1}')
        journal.add(b'{"row": 2}')
        journal.add(b'{"row": 4}')
        with pytest.raises(Unusable, match="another run"), Journal(tmp_path / "j"):
            pass
    with Journal(tmp_path / "j") as journal:
        with pytest.raises(Unusable, match="another a"):
            journal.begin({"a": 2})
        assert journal.begin({"a": 1}) == 2
        assert list(journal.lines()) == [b'{"row": 1}', b'{"row": 2}']


def test_a_recipe_that_kills_or_hangs_is_set_aside_alone(tmp_path: Path) -> None:
    words = [f"w{i}" for i in range(60)]
    words[3], words[20], words[41] = "die", "die once", "hang"
    rows = [Row(i, "", word) for i, word in enumerate(words, 11)]
    found = list(crew.lines(rows, Faulty(str(tmp_path)), workers=2, seconds=2))
    expected = [word.upper() for word in words]
    expected[3], expected[41] = "the process died over this recipe", "this recipe took longer than 2 seconds"
    assert texts(found) == expected
    assert [json.loads(line)["row"] for line in found] == list(range(11, 71))


def test_a_pool_that_cannot_start_says_so() -> None:
    with pytest.raises(RuntimeError, match="no process can be started"):
        list(crew.lines([Row(1, "", "a")], Faulty("/no/such/folder", slow=0.1), workers=1))


def test_few_rows_are_in_flight(tmp_path: Path) -> None:
    taken = 0

    def endless() -> Any:
        nonlocal taken
        while True:
            taken += 1
            yield Row(taken, "", "x")

    stream = crew.lines(endless(), Faulty(str(tmp_path)), workers=1)
    for _ in range(200):
        next(stream)
    stream.close()
    assert taken <= 200 + crew.AHEAD * crew.CHUNK_ROWS + crew.CHUNK_ROWS


@given(st.text(max_size=60), st.text(max_size=200), st.lists(st.tuples(st.text(), st.text()), max_size=2))
@settings(max_examples=60, deadline=None)
def test_a_row_travels_whole_and_always_has_an_outcome(name: str, text: str, answers: list[tuple[str, str]]) -> None:
    row = Row(1, name, text, answers=tuple(answers))
    assert row_of(as_json(row)) == row
    line = Annotate(HERE)(row)
    assert b"\n" not in line
    found = json.loads(line)
    assert found["id"] == name
    assert found.get("error") or rewriter.strip(found["text"]) == rewriter.strip(text)


def test_a_fault_of_the_program_is_set_aside_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: Any, **__: Any) -> None:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr("rewriter.api.rewrite", broken)
    found = json.loads(Annotate(HERE)(Row(1, "a", CAKE)))
    assert found["error"].startswith("a fault of the program: ZeroDivisionError: by nothing")
    assert found["text"] == CAKE


def test_the_command(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    origin, out = write_jsonl(tmp_path / "c.jsonl", ROWS), tmp_path / "o.csv"
    command = ["batch", str(origin), str(out), "--elevation", "8,200 ft", "--workers", "1", "--record", "whole"]
    assert cli.main([*command, "--strict"]) == 1
    told = capfd.readouterr()
    assert told.out == ""
    assert "4 recipes: 2 with changes, 1 with questions" in told.err
    assert "1 set aside" in told.err
    with out.open(newline="", encoding="utf-8") as file:
        assert json.loads(next(csv.DictReader(file))["whole"])["recipe"]["kind"] == "shortened-cake"
    assert cli.main(command) == 0
    assert cli.main(["batch", str(origin), str(out)]) == 2
    assert "--elevation" in capfd.readouterr().err
    assert cli.main([*command, "--address", "somewhere:1"]) == 2
    assert "--engine ray" in capfd.readouterr().err


def test_ended_at_any_moment_of_the_writing_it_goes_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    origin, out = write_jsonl(tmp_path / "c.jsonl", ROWS), tmp_path / "o.jsonl"
    expected = run(origin, tmp_path / "expected.jsonl", HERE, workers=1).out.read_bytes()
    left = 0  # files that are put in place before the end
    replace = Path.replace

    def torn(self: Path, target: Path) -> Path:
        nonlocal left
        left -= 1
        if left < 0:
            raise KeyboardInterrupt
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", torn)
    for before in (0, 1, 2):
        left = before
        with pytest.raises(KeyboardInterrupt):
            run(origin, out, HERE, workers=1)
        assert not out.exists()
    left = 3
    tally = run(origin, out, HERE, workers=1)
    assert (tally.before, out.read_bytes()) == (4, expected)
    assert not (tmp_path / "o.jsonl.unfinished").exists()


def test_an_output_that_cannot_be_written_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Journal, "add", full)
    with pytest.raises(Unusable, match="No space left on device"):
        run(write_jsonl(tmp_path / "c.jsonl", ROWS), tmp_path / "o.jsonl", HERE, workers=1)


def test_a_folder_of_pages_and_documents_comes_back_as_text(tmp_path: Path) -> None:
    import docx

    box = tmp_path / "box"
    box.mkdir()
    page = "<html><body><h1>Soda Bread</h1><ul><li>2 cups flour</li><li>1 tsp baking soda</li><li>1 cup buttermilk</li>"
    (box / "bread.html").write_text(f"{page}</ul><p>Bake at 400 F for 40 minutes.</p></body></html>")
    document = docx.Document()
    for line in CAKE.splitlines():
        document.add_paragraph(line)
    document.save(str(box / "cake.docx"))
    (box / "cake.docx.txt").write_text(BISCUITS)
    (box / "torn.docx").write_bytes(b"PK\x03\x04 torn")
    tally = run(box, tmp_path / "annotated", HERE, workers=1)
    found = {path.name: path.read_text(encoding="utf-8") for path in tally.out.iterdir()}
    assert sorted(found) == ["bread.html.txt", "cake.docx (2).txt", "cake.docx.txt"]
    assert "<li>" not in found["bread.html.txt"]
    assert all("[→ " in text for text in found.values())
    assert "Soda" in found["bread.html.txt"]
    assert tally.aside is not None
    assert [row["id"] for row in jsonl(tally.aside)] == ["torn.docx"]
