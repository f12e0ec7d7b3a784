"""The watch list of a county: what is told, in what order, and what becomes of a station that cannot be read."""

from __future__ import annotations

import json
import shutil
from datetime import date, timedelta
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner, Result

from dooryard.cli.app import dooryard
from dooryard.county import folder
from dooryard.county.watch import MOST, watch
from dooryard.county.watch_report import watch_list
from dooryard.letter import page, plain
from dooryard.problem import InputError
from dooryard.season.verdicts import judge_all
from dooryard.season.windows import CLOSING, NOW, OVER, SOON
from dooryard.weather.outlook import ahead

ON = date(2031, 5, 20)
SCHEMA = Path(__file__).parents[3] / "src" / "dooryard" / "plan" / "plan.schema.json"


@pytest.fixture(scope="module")
def county(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo county, without its yards."""
    place = tmp_path_factory.mktemp("county")
    assert CliRunner().invoke(dooryard, ["demo", "--out", str(place)]).exit_code == 0
    for extra in place.iterdir():
        if extra.is_file() and extra.name not in ("county.toml", "forecast.csv"):
            extra.unlink()
    return place


def _copy(county: Path, to: Path) -> Path:
    shutil.copytree(county, to / "county-copy")
    return to / "county-copy"


def _run(*words: str) -> Result:
    return CliRunner().invoke(dooryard, ["season", "watch", *words])


def test_watch_tells_at_most_eight_things_that_open_are_open_or_close(county: Path) -> None:
    read = folder.read(county)
    assert read.name == "Quillfeather County"
    judged = {}
    for record in read.records:
        outlook = ahead(record, ON)
        judged[record.station.name] = judge_all(
            tuple(read.knowledge.organisms), read.knowledge, record.until(ON), outlook, ON
        )
    found = watch(judged, ON)
    assert 3 <= len(found.look) <= MOST
    for item in found.look:
        assert any(verdict.word in (NOW, CLOSING, SOON) for verdict in item.verdicts.values())
    assert [item.news for item in found.look] == sorted((item.news for item in found.look), reverse=True)
    for item in found.stop:
        assert {verdict.word for verdict in item.verdicts.values()} == {OVER}
    assert not {item.organism for item in found.look} & {item.organism for item in found.stop}


def test_watch_document_holds_to_the_schema_and_names_every_station(county: Path) -> None:
    plan, text = watch_list(folder.read(county), ON)
    document = plan.document()
    jsonschema.validate({**document, "bulletin": text}, json.loads(SCHEMA.read_text(encoding="utf-8")))
    names = {row[0] for row in document["walk"][-1]["table"]["rows"]}
    assert names == {"Creek Bottom", "Ridge School"}
    assert "Quillfeather County" in page.render(document)


@pytest.mark.parametrize("days", [0, 21, 60, 120, 180, 240, 300])
def test_bulletin_is_short_and_plain_at_any_time_of_year(county: Path, days: int) -> None:
    """Under 450 words and grade 8, from the same county a year earlier, when its records go on."""
    on = date(2030, 3, 1) + timedelta(days=days)
    _, text = watch_list(folder.read(county), on)
    assert len(text.split()) <= 450
    assert plain.grade(text) <= 8, plain.hardest(text, 10)


def test_bulletin_says_every_name_its_document_looks_for_first(county: Path) -> None:
    plan, text = watch_list(folder.read(county), ON)
    first = plan.walk[0]
    assert first.name in text
    assert "label" in text
    assert "[[" not in text


def test_bulletin_that_names_oil_or_soap_gives_their_limits(county: Path) -> None:
    read = folder.read(county)
    _, text = watch_list(read, ON)
    assert "oil or soap" in text
    assert read.knowledge.cautions["oil-soap-heat"].text in text


def test_station_that_cannot_be_read_stops_nothing(county: Path, tmp_path: Path) -> None:
    place = _copy(county, tmp_path)
    (place / "stations" / "broken.csv").write_text("date,tmin_F,tmax_F\n2031-13-45,a,b\n", encoding="utf-8")
    result = _run(str(place), "--on", "2031-05-20")
    assert result.exit_code == 1
    assert "cannot be read" in result.output
    assert "Creek Bottom" in result.output
    assert "Traceback" not in result.output


def test_station_that_stopped_long_ago_is_told_as_silent(county: Path, tmp_path: Path) -> None:
    place = _copy(county, tmp_path)
    path = place / "stations" / "ridge-school.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not line.startswith("2031")]
    path.write_text("\n".join(kept) + "\n", encoding="utf-8")
    plan, text = watch_list(folder.read(place), ON)
    rows = {row[0]: row for row in plan.document()["walk"][-1]["table"]["rows"]}
    assert "days behind" in rows["Ridge School"][2]
    assert rows["Ridge School"][3]
    assert rows["Creek Bottom"][3] == ""
    assert [one.what for one in plan.refusals] == ["We cannot say what matters at Ridge School."]
    assert plan.summary[-1] == "Of Ridge School nothing can be said."
    assert "no weather of these days from Ridge School" in text


@pytest.mark.parametrize(("days_behind", "silent"), [(3, False), (4, True), (123, True)])
def test_records_that_do_not_reach_the_week_never_say_that_nothing_matters(
    county: Path, days_behind: int, silent: bool
) -> None:
    """The demo's records end on 19 May: a silence of the stations is no quiet week."""
    on = date(2031, 5, 20) + timedelta(days=days_behind)
    plan, text = watch_list(folder.read(county), on)
    assert bool(plan.refusals) == silent
    assert ("no station's record reaches it" in plan.summary[0]) == silent
    assert ("no text for a newsletter" in text) == silent
    result = _run(str(county), "--on", str(on), "--bulletin")
    assert result.exit_code == (1 if silent else 0)
    assert ("no station's record reaches it" in result.output) == silent


def test_bulletin_of_a_quiet_week_says_that_it_is_quiet(county: Path) -> None:
    _, text = watch_list(folder.read(county), date(2031, 1, 20))
    assert "Nothing in our tables opens" in text


def test_sighting_shifts_its_own_station_alone(county: Path, tmp_path: Path) -> None:
    place = _copy(county, tmp_path)
    header = "date,station,organism,sign,sure\n"
    (place / "sightings.csv").write_text(
        header + "2031-05-18,Creek Bottom,bagworm,hatch,certain\n", encoding="utf-8"
    )
    before = {stop.id: stop for stop in watch_list(folder.read(county), ON)[0].walk}
    after = {stop.id: stop for stop in watch_list(folder.read(place), ON)[0].walk}
    tables = [stops["bagworm"].table for stops in (before, after)]
    assert tables[0] is not None
    assert tables[1] is not None
    old, new = ({row[0]: row[1] for row in table.rows} for table in tables if table is not None)
    assert new["Creek Bottom"] == NOW
    assert new["Ridge School"] == old["Ridge School"]


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ("2031-05-18,Crek Bottom,bagworm,,certain\n", "Creek Bottom"),
        ("18 May,Creek Bottom,bagworm,,certain\n", "not a day"),
        ("2031-05-18,Creek Bottom,bagwurm,,certain\n", "bagworm"),
        ("2031-05-18,Creek Bottom,,,certain\n", "Neither"),
        ("2031-05-18,Creek Bottom,bagworm,,maybe\n", "unsure"),
    ],
)
def test_sightings_with_a_fault_say_which_line(county: Path, tmp_path: Path, rows: str, says: str) -> None:
    place = _copy(county, tmp_path)
    (place / "sightings.csv").write_text("date,station,organism,sign,sure\n" + rows, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        folder.read(place)
    (problem,) = caught.value.problems
    assert says in f"{problem.what} {problem.instead}"
    assert (problem.file, problem.line) == ("sightings.csv", 2)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda _: None, "There is no such folder"),
        (lambda place: place.write_text("x", encoding="utf-8"), "no folder"),
        (lambda place: place.mkdir(), "No station record"),
    ],
)
def test_watch_without_records_says_what_to_do(tmp_path: Path, make: object, says: str) -> None:
    place = tmp_path / "nowhere"
    assert callable(make)
    make(place)
    result = _run(str(place))
    assert result.exit_code == 2
    assert says in result.output


def test_watch_command_writes_page_and_bulletin_and_prints_either(county: Path, tmp_path: Path) -> None:
    words = (str(county), "--on", "2031-05-20", "--forecast", str(county / "forecast.csv"))
    assert _run(*words, "--out", str(tmp_path)).exit_code == 0
    assert {"bulletin.txt", "watch.html", "watch.pdf", "watch.json"} <= {
        path.name for path in tmp_path.iterdir()
    }
    alone = _run(*words, "--bulletin").output
    assert alone == (tmp_path / "bulletin.txt").read_text(encoding="utf-8")
    assert json.loads(_run(*words, "--json").stdout)["bulletin"] == alone
