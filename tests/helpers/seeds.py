"""The seed of every test with chance in it. Each was chosen once, before its test first ran, and is never changed.

A test that fails with its seed has found something. Replications number from 0 within a seed.
"""

EXPONENTIAL_LINES = 20_101
REVERSIBILITY = 20_102
REVERSIBILITY_WITH_BREAKDOWNS = 20_103
TWO_MACHINES_WITH_STOPS = 20_104
REPAIR_CREW_TABLE = 20_105
TAYLOR_AND_KARLIN = 20_106
CONSTANT_REPAIR = 20_107
STAGE_CAPACITY = 20_108
TWENTY_STATIONS_WITHOUT_BUFFERS = 20_109
TWENTY_STATIONS_WITH_BUFFERS = 20_110
CLOSED_LINE = 20_121
RANDOM_ARRIVALS = 20_122
REGULAR_ARRIVALS = 20_123
AGE_REPLACEMENT = 20_124
GAUGES = 20_131
EXACT = 20_201  # lines without chance: the seed must not matter
COMPARISONS = 20_111
WARM_UP = 20_131
PROPERTY = 20_301
