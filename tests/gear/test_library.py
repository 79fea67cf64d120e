"""The shipped gear library: every file loads, its name is its kind's, and its figures fit one another."""

from __future__ import annotations

import itertools
import math
import re
from pathlib import Path

import pytest

from rigbook.findings.place import Source, Span
from rigbook.language.read import read_plan
from rigbook.language.record import Record
from rigbook.plan.gear import LIBRARY, Gear, build_kind
from rigbook.plan.model import Kind
from rigbook.text.yaml_reader import read
from rigbook.units.quantity import Quantity

FILES = {p.stem: p for p in sorted(LIBRARY.glob("*/*.yaml"))}
RACKABLE = ("stage box", "splitter", "processor", "amplifier", "recorder", "player", "power distribution")
LEAST = {  # what the library has to offer at the least
    "desk": 2, "stage-box": 2, "splitter": 1, "tie-line": 1, "processor": 1, "amplifier": 4, "speaker": 6,
    "powered-speaker": 4, "microphone": 8, "di": 2, "line-source": 2, "radio": 4, "player": 1, "recorder": 1,
    "feed": 1, "stand": 5, "cable": 10, "adaptor": 2, "rack": 3, "power-distribution": 2,
}  # fmt: skip
ABBREVIATIONS = {"XLR", "DI", "A", "W", "U", "kHz"}
"""Words with a capital inside, or alone, that the trade or a standard uses."""


def loaded(name: str) -> Kind:
    """One kind of the library."""
    kind = Gear({})._get(name)
    assert kind is not None
    return kind


KINDS = {name: loaded(name) for name in FILES}


def of(*families: str) -> list[Kind]:
    """Kinds of some families."""
    return [k for k in KINDS.values() if k.family in families]


def figure(kind: Kind, key: str) -> float:
    """A figure in base units."""
    got = kind.get(key)
    assert isinstance(got, Quantity), f"{kind.name} has no {key}"
    return got.value


def table(kind: Kind, key: str) -> list[tuple[float, float]]:
    """(ohm, W), the lowest impedance first."""
    return [(z.value, p.value) for z, p in kind.get(key)]


def each(*families: str) -> pytest.MarkDecorator:
    """A test for each kind of some families."""
    return pytest.mark.parametrize("kind", of(*families), ids=lambda k: k.name)


@pytest.mark.parametrize("path", FILES.values(), ids=list(FILES))
def test_a_file_loads_without_findings(path: Path) -> None:
    node, wrong = read(Source(path.name, path.read_text("utf-8")))
    record, more = read_plan(node)
    (entry,) = record.get("kinds")
    assert entry.name == path.stem
    assert isinstance(entry.value, Record)
    kind = build_kind(entry.name, entry.value, wrong)
    assert [*wrong, *more] == []
    assert kind.family.replace(" ", "-") == path.parent.name
    assert "generic" in kind.title


def test_no_name_twice_and_enough_of_each() -> None:
    assert len(FILES) == len(list(LIBRARY.glob("*/*.yaml")))
    counts = {f: len(list((LIBRARY / f).glob("*.yaml"))) for f in LEAST}
    assert {f: n for f, n in counts.items() if n < LEAST[f]} == {}


def test_only_plain_words() -> None:
    """No names of makers or models: no capitals but at the head of a sentence, no codes of letters and digits."""
    for kind in KINDS.values():
        note = kind.get("text")
        for sentence in (kind.title, *re.split(r"(?<=[.;:]) ", note.text if note else "")):
            for m in re.finditer(r"[A-Za-z0-9]+", sentence):
                word, head = m.group(), m.start() == 0
                plain = word.islower() or word.isdigit() or word in ABBREVIATIONS or (head and word.istitle())
                assert plain, f"{kind.name}: {word}"
                assert word in ("mm2", "5e") or not re.search(r"[a-zA-Z]\d|\d[a-zA-Z]", word), f"{kind.name}: {word}"


@each(*RACKABLE)
def test_what_goes_in_a_rack_has_its_measures(kind: Kind) -> None:
    assert figure(kind, "height") >= 1
    assert 0.05 <= figure(kind, "depth") <= 0.6
    assert 0.5 <= figure(kind, "weight") <= 60


@each("amplifier")
def test_amplifier_figures_fit_one_another(kind: Kind) -> None:
    power, bridged = table(kind, "power"), table(kind, "bridged-power")
    for rows in (power, bridged):
        steps = list(itertools.pairwise(rows))
        assert all(low[1] >= high[1] for low, high in steps), "less power into a lower load"
        # a voltage source gives at most twice the power into half the load
        assert all(low[1] <= high[1] * high[0] / low[0] for low, high in steps)
    assert figure(kind, "minimum-load") <= power[0][0]
    assert figure(kind, "minimum-load-bridged") <= bridged[0][0]
    # each half of a bridged pair sees half the load
    assert figure(kind, "minimum-load-bridged") >= 2 * figure(kind, "minimum-load")
    assert all(watts <= 2 * dict(power)[ohm / 2] for ohm, watts in bridged)
    volts = math.sqrt(dict(power)[8] * 8)
    gain = 20 * math.log10(volts / figure(kind, "input-sensitivity"))
    assert gain == pytest.approx(figure(kind, "gain"), abs=1)


@each("amplifier")
def test_amplifier_draw_is_plausible(kind: Kind) -> None:
    """Common practice: amplifiers turn 50 to 95 % of the mains power into output at full power, less at 1/8."""
    idle, eighth, full = (figure(kind, f"draw-{k}") for k in ("idle", "eighth", "full"))
    assert idle < eighth < full
    rated = dict(table(kind, "power"))[4] * len(outs(kind))
    assert 0.5 <= rated / (full - idle) <= 0.95
    assert 0.35 <= rated / 8 / (eighth - idle) <= 0.9


def outs(kind: Kind) -> set[str]:
    """Output ports of an amplifier."""
    return {p for p in kind.ports if p.startswith("out ")}


@each("amplifier")
def test_every_mode_of_an_amplifier_joins_its_ports(kind: Kind) -> None:
    assert set(kind.modes) == {"stereo", "parallel", "bridged"}
    assert {b for _, b in kind.modes["stereo"]} == outs(kind) == {b for _, b in kind.modes["parallel"]}
    assert len(kind.modes["bridged"]) == len(outs(kind)) / 2
    for letter in (p[3:] for p in kind.ports if p.startswith("in ")):
        assert f"link {letter}" in kind.ports


@each("speaker", "powered speaker")
def test_speaker_figures_fit_one_another(kind: Kind) -> None:
    rated, peak = figure(kind, "rated-power"), figure(kind, "peak-power")
    assert rated <= peak <= 4 * rated
    low, high = kind.get("range")
    box = kind.get("box")
    assert low.value < high.value
    assert (kind.get("coverage") is None) == (box == "sub")
    if box == "sub":
        assert low.value <= 45 and 100 <= high.value <= 250
    assert {"in", "link"} <= set(kind.ports)
    size = kind.get("size")
    assert 100 < figure(kind, "weight") / (size.width * size.depth * size.height) < 500, "no weight for its size"
    if kind.family == "speaker":
        assert 4 <= figure(kind, "impedance") <= 16
        assert 85 <= figure(kind, "sensitivity") <= 110
        assert kind.ports["in"].level == kind.ports["link"].level == "speaker"
    else:
        assert 105 <= figure(kind, "peak-level") <= 140
        assert figure(kind, "draw-idle") < figure(kind, "draw-eighth") < figure(kind, "draw-full")


@each("microphone")
def test_condensers_need_phantom_power_and_others_do_not(kind: Kind) -> None:
    condenser = "condenser" in kind.title
    assert (kind.get("phantom") == "needs") == condenser
    assert ("ribbon" in kind.title) == (kind.get("phantom") == "refuses")
    # common practice: condensers give 3 mV/Pa and more, moving coils and ribbons less
    assert (figure(kind, "mic-sensitivity") > 3) == condenser


def test_active_dis_need_phantom_power() -> None:
    for kind in of("di"):
        assert (kind.get("phantom") == "needs") == ("active" in kind.name.split("-"))


@each("desk", "stage box")
def test_desks_and_boxes_can_join(kind: Kind) -> None:
    assert {"net A", "net B"} <= set(kind.ports)
    assert -10 <= figure(kind, "full-scale") <= 28
    mics = [p for p in kind.ports.values() if p.level == "mic or line"]
    assert mics and all(p.phantom and p.direction == "in" for p in mics)
    if kind.family == "desk":
        assert kind.get("channels") >= len(mics)


@each("splitter")
def test_splitters_say_which_way_phantom_power_passes(kind: Kind) -> None:
    direct = [p for p in kind.ports.values() if p.direction == "out" and p.phantom]
    assert direct and all(p.name.startswith("a ") for p in direct)
    assert "phantom" in kind.get("text").text
    ways = {b.split()[0] for _, b in kind.routes}
    assert len(kind.routes) == len(ways) * sum(1 for p in kind.ports if p.startswith("in "))


@each("cable")
def test_cables_go_from_one_socket_to_another(kind: Kind) -> None:
    assert len(kind.get("ends")) == 2
    lengths = [q.value for q in kind.get("lengths")]
    assert lengths == sorted(lengths)
    if kind.get("max-length"):
        assert lengths[-1] <= figure(kind, "max-length")
    if kind.get("carries") == "speaker":
        assert figure(kind, "area") >= 1.5e-6 and kind.get("cores") == 2
    if kind.get("carries") == "network":
        # ISO/IEC 11801-1: a channel of 100 m
        assert figure(kind, "max-length") == 100


def test_the_first_end_of_a_cable_fits_what_gives_and_the_second_what_takes() -> None:
    """Two-pole speaker leads, phono leads and balanced jacks are there for kinds that users describe themselves."""
    ports = [p for k in KINDS.values() for p in k.ports.values()]
    gives = {p.connector for p in ports if p.direction != "in"}
    gives |= {k.get("connector") for k in of("microphone", "di", "line source")}
    takes = {p.connector for p in ports if p.direction != "out"}
    users_own = {"speaker-2-pole", "phono", "jack-balanced"}
    for kind in of("cable"):
        start, end = kind.get("ends")
        assert start in gives | users_own, kind.name
        assert end in takes | users_own, kind.name


def test_adaptors_turn_into_a_cable() -> None:
    for kind in of("adaptor"):
        assert KINDS[kind.get("turns-into")].family == "cable"


def test_racks_hold_what_racks_hold() -> None:
    for kind in of("rack"):
        found = re.fullmatch(r"rack-(\d+)u", kind.name)
        assert found
        units = int(found[1])
        assert figure(kind, "height") == units
        assert figure(kind, "load") >= 5 * units
        # IEC 60297-3-100: a rack unit is 44.45 mm
        assert kind.get("size").height >= units * 0.04445


@each("cable")
def test_a_metre_of_cable_weighs_more_than_its_copper(kind: Kind) -> None:
    """Annealed copper: 8.89 g/cm³ at 20 °C (IEC 60028:1925). Screen, insulation and sheath come to it; figures of the
    whole cable are common practice. A cable that floats in water would be no cable: no more than 40 times its copper.
    """
    metre = figure(kind, "weight-per-metre")
    if kind.get("area") is None:
        return
    copper = 8890 * figure(kind, "area") * int(kind.get("cores")) * int(kind.get("lines") or 1)
    assert copper < metre < 40 * copper


def test_thicker_cables_are_heavier() -> None:
    """Common practice, in g/m: a microphone cable about 50, two cores of 4 mm² about 180, 24 lines about 800."""
    for thin, thick in itertools.pairwise(("xlr", "multicore-8", "multicore-16", "multicore-24")):
        assert figure(KINDS[thin], "weight-per-metre") < figure(KINDS[thick], "weight-per-metre")
    assert figure(KINDS["speaker-2.5-mm2"], "weight-per-metre") < figure(KINDS["speaker-4-mm2"], "weight-per-metre")


def test_titles_are_printed_with_the_signs_of_print() -> None:
    gear = Gear({})
    titles = [str(kind.title) for name in gear.shipped if (kind := gear.find(name, Span("", 0, 0, 0, 0)))]
    assert "speaker cable, 2 × 4 mm², 4-pole locking ends" in titles and "amplifier, 2 × 500 W at 8 Ω" in titles
    assert [t for t in titles if " x " in t or "mm2" in t or " ohm" in t] == []
