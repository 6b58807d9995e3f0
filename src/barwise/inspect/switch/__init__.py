"""The switch (solenoid): windings, the voltages at which it pulls and lets go, contacts and travel."""
