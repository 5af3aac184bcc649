"""A line that comes to a stand ends with an error that names time, parts and places, never with numbers."""

from pathlib import Path

from tests.end_to_end.conftest import Shell

# The round asks for a second blank before the mill is emptied, so that the machine it is for never gets free.
LINE = """
name: stuck
route: [stock, turn, mill, tray]
infeed: {stock: {}}
outfeed: {tray: {}}
stations: {turn: {cycle: 30 s}, mill: {cycle: 20 s}}
loaders:
  gantry:
    stops: {stock: 0 m, turn: 2 m, mill: 4 m, tray: 6 m}
    speed: 2 m/s
    acceleration: 2 m/s2
    pick: 3 s
    place: 3 s
    exchange: 5 s
    next_call: {fixed: [stock, turn, stock, stock, mill]}
"""


def test_a_lock_up_names_time_parts_and_places_and_how_to_see_it(linesim: Shell, tmp_path: Path) -> None:
    """By hand: pick 3 s, 2 m in 2 s, load 5 s; turned at 40 s; unload 5, move 2, load 5: in the mill at 52 s; back in
    3 s; pick, move, load: the second part is in at 65 s and turned at 95 s. Then nobody can move."""
    (tmp_path / "stuck.yaml").write_text(LINE, encoding="utf-8")
    ran = linesim("run", "stuck.yaml", "hours=1", "plots=false", "seed=3", "out=stood")
    assert ran.returncode == 1
    assert ran.stdout == ""
    assert all(word in ran.stderr for word in ("t = 95.000 s", "turn.1: part 2", "mill.1: part 1"))
    assert "Traceback" not in ran.stderr
    assert not (tmp_path / "stood" / "summary.json").exists()

    way = next(line for line in ran.stderr.splitlines() if "linesim trace" in line).partition("linesim trace ")[2]
    traced = linesim("trace", *way.split())
    assert traced.returncode == 1
    assert "mill.1    ends" in traced.stdout
    assert "t = 95.000 s" in traced.stderr
