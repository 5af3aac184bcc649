"""Timers, and what a decision may start."""

# ---- timer: consecutive records in the order of their ranks ----
# Those before TRIGGER_CLOCK are work.
REPAIR, STOP_JOB, OPERATION, CALL_AHEAD, LEG, STAY, BATCH_WAIT, PITCH_CLOCK, TRANSIT_CLOCK = range(9)
TRIGGER_CLOCK, ARRIVAL, WEEK = range(9, 12)
(
    TIMER_KIND, TIMED,  # what it times, and the record of that
    HOLDER,  # whose breakdowns hold it, NONE: nobody's
    IS_SET, RUNS, DUE_AT, LEFT, FULL,  # for an engine that keeps its clocks on the floor; FULL: what it was set to
    TIMER_SIZE,
) = range(9)  # fmt: skip

# ---- timers a decision starts ----
# START_LEG: or handling
START_OPERATION, START_LEG, START_DWELL, START_WAIT, START_TRANSIT, START_RESPONSE, START_STOPPAGE = range(7)
