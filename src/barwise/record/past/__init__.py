"""What the shop's own record shows over many jobs: how a model reads, what comes back, what fails."""
