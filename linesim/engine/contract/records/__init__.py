"""The shop floor as one row of whole numbers, and where each thing stands in it.

`floor` is a flat list of integers (an int64 array in a compiled engine). Everything on the line is a *record*: an
address in that row, from which its fields count. `floor[machine + PHASE]` is the phase of the machine whose record
starts at address `machine`; address 0 means "none". The first numbers are the header, read as `floor[NOW]`.

Flat and plain on purpose: rules that only read and write whole numbers in one row are the same rules interpreted and
compiled, can be copied to take a snapshot, and leave nothing to the memory layout of an object.
`layout/` writes the row, the rules change it, `books.py` reads the tallies.
"""

from linesim.engine.contract.records.carriages import *
from linesim.engine.contract.records.header import *
from linesim.engine.contract.records.owners import *
from linesim.engine.contract.records.parts import *
from linesim.engine.contract.records.route import *
from linesim.engine.contract.records.sizes import *
from linesim.engine.contract.records.stoppages import *
from linesim.engine.contract.records.timers import *
