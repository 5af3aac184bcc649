"""`python -m linesim.engine.compiled` compiles the engine now, so that what is started side by side later need not."""

from linesim.engine.compiled.ready import load_or_compile
from linesim.line import load_line

if __name__ == "__main__":
    load_or_compile(load_line({"route": ["turn"], "stations": {"turn": {"cycle": "1 s"}}}))
