"""Inference: from readings to located faults."""
