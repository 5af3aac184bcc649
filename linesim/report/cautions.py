"""What everybody must know who takes a decision from a page or workbook."""

CAUTIONS = (
    "Results are estimates of a model with the inputs given and random variation. They help to decide; they replace "
    "no engineering judgement, supplier's guarantee or acceptance test.",
    "The line is drawn schematically, even where it is to scale. Nothing here proves reach, load, freedom from "
    "collision, safe access or escape routes.",
    "Speeds, stops and waiting of loaders serve throughput alone. Never set up a safety function or safety distance "
    "with them.",
    "Guarding, interlocks, emergency stops, lock-out, fire protection, lifting and electrical work must be planned "
    "and approved by qualified people, licensed where the law at the place of use requires it, to the standards valid "
    "there.",
    "Check assumed data before you use a result. Keep line file, version and seed with every figure you print.",
    "Nothing here is a control program. Never connect it to the control of a machine.",
)
