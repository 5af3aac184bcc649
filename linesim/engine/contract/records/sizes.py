"""Sizes as machines make them and as gauges read them."""

# ---- a size as one machine makes it: consecutive records ----
NOT_KNOWN = -1  # WORN before the first operation: it follows from the ages of the stops
(
    CHARACTERISTIC,  # its number on the line
    MADE_IN,  # the machine
    LOWEST, HIGHEST,  # limits of the tolerance [nm]
    OFFSET, SHIFT,  # of the new tool, and the step after its last renewal [nm]
    DRIFT, WORN,  # [pm a part], and parts made since the tool was renewed
    CORRECTION,  # what gauges have added [pm]
    OUTLASTS,  # 1: it stays when the tool is renewed
    CHANGES,  # how often they did, or the tool was renewed and it did not stay
    SET_TO,  # size that the running operation would give without chance [nm]
    SET_AFTER,  # so many changes
    LUCK,  # what chance adds to it [nm]
    SIZE_DEFECT,  # number of the defect "out of tolerance"
    MADE_AS,  # which of the machines of its station makes it, from 0 on
    MADE_LAST_AT,  # when it made a part last [us]
    TELLS_OF_TOOL,  # 1: a gauge asks for the first and last parts of a tool
    MAKING_SIZE,
) = range(19)  # fmt: skip

# ---- a size as a station measures it: consecutive records ----
(
    GAUGED,  # number of the characteristic
    READS_FROM, READS_TO,  # readings that are accepted [nm]
    READ_ERROR,  # what the gauge adds to the size of the part at hand [nm]
    GAUGED_DEFECT,  # number of the defect "out of tolerance"
    SAMPLES,  # 0: every part is measured; else those that one of the next three calls for
    SAMPLE_PARTS, SAMPLE_TIME, SAMPLE_OF_TOOL,  # every so many parts; so long after the last [us]; first and last ones
    SAMPLE_PAUSE,  # those made so long after the one before [us]
    WATCHES,  # what it knows of each machine that makes the size
    GAIN,  # of what it corrects there [1e-6], 0: nothing
    AIMS_AT, DEAD_BAND,  # [nm]
    AVERAGES,  # so many readings together
    ONLY_NEW,  # 1: it ignores parts begun before the last correction
    GAUGE_SIZE,
) = range(17)  # fmt: skip

# ---- what a gauge knows of one machine: consecutive records ----
(
    UNMEASURED,  # parts of this machine that passed since the last one that was measured
    MEASURED_AT,  # when that was [us], -1: never
    DEVIATIONS, N_DEVIATIONS,  # sum of those that wait for a correction [nm], and their number
    WATCH_SIZE,
) = range(5)  # fmt: skip
