"""The cut plan: from a dial-indicator walk to the diameter at which the commutator cleans up."""
