"""Steps of the route, those aside of it, and rework loops."""

# ---- step of the route: consecutive records of STEP_SIZE ----
(
    KIND, INDEX,
    FIRST_PLACE, PLACE_SIZE, N_PLACES,  # its places: consecutive records
    WAY_OUT,  # carriage that takes parts to the next step, NONE for a direct hand-over
    MOVES_DIRECTLY,  # 1: parts here can move on without a loader
    NEXT_BY_TYPE,  # where the parts of each type go to from here, by type; NONE: all go to the next step
    WAYS_PAST,  # right behind that table: the carriage to the step of each index, NONE for a direct hand-over
    PASSABLE,  # 1: a buffer without least stay, which a loader may pass over while it is empty
    REWORK_TO, REWORK_WAY,  # step that rejects go back to, and the carriage for it
    CHUTE_TO, CHUTE_WAY,  # step of the chute that its scrap goes to, and the carriage for it; NONE: it leaves at once
    DRAWER_TO, DRAWER_WAY,  # step of the drawer that samples go to, and the carriage for it; NONE: none are taken
    SAMPLED_PARTS, SAMPLED_TIME,  # of each machine one of so many parts, or one after so long [us]; 0: not by that
    SAMPLED_PAUSE,  # those ended so long after the part before [us], 0: none
    ENDS_HERE,  # 1: the route ends here without an outfeed
    SENDERS, N_SENDERS,  # steps whose parts may move here directly
    CALLERS, N_CALLERS,  # steps whose calls can change when this step changes
    VIEWERS, N_VIEWERS,  # stations whose starts or states can change when this step or its calls change
    FEEDERS, N_FEEDERS,  # steps from which a carriage may bring a part here
    BEFORE_SERVICE,  # 1: a machine starts only with room reserved for its part
    DEFECTS, N_DEFECTS, FIRST_DEFECT,  # cumulative chances [1e-9] and the line's number of the first one
    SIZED,  # 1: sizes are made here
    GAUGES, N_GAUGES,  # the sizes that are measured here
    INSPECTS, CATCHES, FALSE_ALARMS,  # chances [1e-9]
    REWORKS_AT_MOST,
    STATION_NUMBER,
    DEFECT_STREAM, GAUGE_STREAM,  # numbers of random streams, -1: none
    N_STROKES, STROKES,  # 0: work without strokes; else cumulative chances [1e-9] of needing 0, 1, ... of them
    STROKES_AT_MOST, STROKES_STREAM, STROKES_DEFECT,
    OVERSTAYS, OVERSTAY, OVERSTAY_DEFECT,  # 1: a part is spoilt by so much time beyond its operation [us]
    MAY_SPOIL,  # 1: the end of an operation may spoil its part
    ON_MOVES, ON_STALE, ON_CHANGED, ON_VIEW,  # 1: is on that list
    SCRAPPED, REWORKED, FALSE_REJECTS, SKIPPED,  # tallies; SKIPPED: samples, since the drawer was full
    STEP_SIZE,
) = range(60)  # fmt: skip

# ---- rework loop ----
(LOOP_FROM, LOOP_TO, LOOP_PLACES, LOOP_INSIDE, LOOP_SIZE) = range(5)  # indices of its first and last step
