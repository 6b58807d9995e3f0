"""Physics of windings: connection, faults, network, exciter."""
