"""The part of the audit that looks at ways: every part visits, in order, the places that its type does not skip."""

from __future__ import annotations

from linesim.engine.contract.trace import Trace, What
from linesim.line.at_start import parts_at_start
from linesim.line.carriers import carriers, owner_name
from linesim.line.hands import hands
from linesim.line.model import Line


def check_routes(trace: Trace, line: Line) -> None:
    """From each place a part goes to the next of its own, or further over empty buffers, by whom the line says."""
    told = {part: value for _, what, _, part, value in trace.rows.tolist() if what == What.PART_TYPE}
    rests = [name for name in line.route if name not in line.buffers or line.buffers[name].capacity > 0]
    start, end = [] if line.infeed else [""], [] if line.outfeed else [""]
    kinds = list(line.parts) or [""]
    skips = [line.parts[kind].skips if kind else () for kind in kinds]
    own = [[*start, *(name for name in rests if name not in skip), *end] for skip in skips]
    stops = {owner_name(name): set(loader.stops) for name, loader in carriers(line).items()}
    left: dict[int, tuple[str, str]] = {}  # part -> place that it has left, and by whom
    back: dict[int, str] = {}  # rejects -> where they are sent
    at_start = sum(parts_at_start(line).values())  # the first parts: they are put where they rest
    for time_us, what, owner, part, value in trace.rows.tolist():
        if what == What.REWORK:
            back[part] = trace.owners[value].group
        elif what == What.LEAVE:
            left[part] = trace.owners[owner].group, trace.owners[value].name if value >= 0 else ""
        elif what == What.ARRIVE and at_start:
            at_start -= 1
        elif what == What.ARRIVE:
            (place, carriage), to = left.pop(part), trace.owners[owner].group
            route, where = own[told.get(part, 0)], f"part {part} at {time_us} us: from {place} to {to}"
            if trace.owners[owner].kind == "chute":
                assert line.stations[place].chute == to, f"{where}: has another chute"
                next_place = to
            elif trace.owners[owner].kind == "drawer":
                samples = line.stations[place].samples
                assert samples is not None, f"{where}: gives no samples"
                assert samples.to == to, f"{where}: has another drawer"
                next_place = to
            else:
                assert to in route, f"{where}, which it skips"
                next_place = back.pop(part, route[route.index(place) + 1])
                assert next_place in route, f"{where}: sent back to a place that it skips"
                passed = route[route.index(next_place) : len(route) - 1 if to == "" else route.index(to)]
                assert to == next_place or passed, f"{where}: the next is {next_place}"
                _check_passing(line, passed, carriage, where)
            serving = [name for name, own_stops in stops.items() if {place, next_place} <= own_stops]
            if not serving and place and to:  # where no loader does, the people of one of the two stations carry
                by = [name for name, each in hands(line).items() if {place, next_place} & each.stations.keys()]
                serving = [owner.name for owner in trace.owners if owner.kind == "carriage" and owner.group in by]
            assert (carriage in serving) if serving else carriage == "", f"{where}: carried by {carriage or 'nobody'}"


def _check_passing(line: Line, passed: list[str], carriage: str, where: str) -> None:
    for name in passed:
        assert carriage, f"{where}: passes over {name} without a loader"
        assert name in line.buffers, f"{where}: passes over {name}"
        assert line.buffers[name].dwell == 0, f"{where}: does not stay in {name}"
