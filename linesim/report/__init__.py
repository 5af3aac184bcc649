"""Pages and workbooks for people who never open a terminal, made from results and from nothing else."""
