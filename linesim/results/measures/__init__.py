"""From one ledger to numbers and tables; what several replications say together is up to the rooms above."""
