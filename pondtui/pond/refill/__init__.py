"""The refill: procedure, guards, plan."""
