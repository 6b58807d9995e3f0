"""Meters and gauges that talk: their profiles, their wires, and what they say brought to the bench."""
