"""The contract of both engines: order at one instant, rules of who gets what, random streams, ledger and trace."""

from linesim.engine.contract.ledger import CarriageState, Fate, Ledger, MachineState, Owner
from linesim.engine.contract.lockup import LockUp
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace, What

__all__ = ["CarriageState", "Fate", "Ledger", "LockUp", "MachineState", "Owner", "Times", "Trace", "What"]
