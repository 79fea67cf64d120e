"""Loudspeakers and amplifiers: load, power, limiters, crossovers, delays."""
