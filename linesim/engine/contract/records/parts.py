"""Parts, their sizes, and of which type the next ones are."""

# ---- part types: what comes next. Types are drawn ahead, as many as blanks may leave the infeed at one instant ----
(
    N_PART_TYPES,
    MIX_STREAM, SHARES,  # cumulative chances [1e-9] of the types; stream -1: orders say what comes
    ORDERS, N_ORDERS,  # pairs (part type, how many)
    ORDER_AT, ORDERED,  # the running order, and how many of it have been drawn
    AHEAD, MOST_AHEAD,  # ring of types drawn ahead, and its size
    N_AHEAD, AHEAD_AT,  # how many it holds, and where the next is
    MIX_SIZE,
) = range(12)  # fmt: skip

# ---- part: behind these fields stand those of each of its sizes ----
(
    PART_ID, BORN,
    PART_TYPE,  # -1: all parts are alike
    DEFECT, MADE_AT,  # number of its first defect or -1, and the step that made it
    REWORKS,
    LEAVE_BY,  # when the operation on it must have ended at a station where parts may not stay too long [us]
    LOST_AT, CHARGED_TO,  # steps, once it is scrap; LOST_AT: or a sample
    PART_SIZE,
) = range(10)  # fmt: skip

# ---- a size of a part: consecutive, from PART_SIZE on, by the number of the characteristic ----
(
    SIZE,  # [nm]
    SIZED_BY,  # the record of who made it, NONE: not made yet
    END_OF_TOOL,  # 1: of the first or the last part that a tool made
    MADE_AFTER,  # so many changes of its machine
    PAUSE,  # time since the part that its machine made before [us]
    SIZE_SIZE,
) = range(6)  # fmt: skip
