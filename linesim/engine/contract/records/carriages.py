"""Carriages of loaders, and the hands of people who load machines: carriages without a rail, one for each tour."""

from linesim.engine.contract.records.owners import OWNER_SIZE

# ---- carriage ----
IDLE, MOVING, STANDING, HANDLING, PARKING = range(5)
DOWNSTREAM_FIRST, LONGEST_WAITING, NEAREST, PRIORITY, FIXED = range(5)
PICK, EXCHANGE, PUT = range(3)
(
    MOTION,  # IDLE, MOVING, STANDING (at a stop of its tour), HANDLING, PARKING
    AT,  # number of the stop where it stands, or will after this leg
    HELD,  # part in the gripper
    LEG_TIME,  # of the running leg [us]
    GRIPPERS, EXCHANGES,
    RULE,
    N_CALLS,  # open calls for it
    SERVED, N_SERVED,  # places it takes parts from, most downstream first
    RANKS,  # for each of them, its priority (PRIORITY)
    ROUND, N_ROUND, ROUND_AT,  # steps of the fixed round, and the next one
    PLANNED,  # 0: travelling ahead in a fixed round; the tour behind the first stop is not yet known
    TOUR, N_TOUR, TOUR_AT,  # pairs (place, action), their number, the running one
    PARK_AT,  # number of a stop, -1: stays
    CALLS_OF,  # whose calls it answers: itself, or the first of its group of hands
    HAND_JOB,  # of hands: what calls their people, NONE: a carriage of a loader
    LEG_STREAM,  # that the running handling takes its time from, -1: it takes LEG_TIME
    ZONES,  # how many zones people open, and stops of machines that hold it
    HELD_BY, N_HELD_BY,  # those stops
    FIRST_ON_RAIL, N_ON_RAIL,  # carriages that share its rail, in their order on it; N_ON_RAIL 0: it has its own
    APART,  # least distance between them [um]
    POSITION_OF,  # number of a stop, or of a point where it gives way -> where it lies on the rail [um]
    LOW, HIGH,  # the stretch of rail that it holds [um]
    WANTS, WANTED_SINCE,  # the stop for whose way it waits, and since when; -1: for none
    GAVE_WAY,  # 1: it has left the stop of its tour to make room
    N_LOADER_STOPS,  # points where it gives way included
    TRAVEL,  # time from stop to stop, a square table [us]
    TIMES,  # pick, exchange, put at each stop [us]; of hands: random streams, -1: no time
    STOP_OF,  # owner number of a place -> number of its stop, -1: none
    PLACE_OF,  # number of a stop -> place
    CARRIAGE_SIZE,
) = range(OWNER_SIZE, OWNER_SIZE + 40)  # fmt: skip
