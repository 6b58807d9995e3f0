"""Run-out of a shaft: what the dial's swing means, where the shaft is bent, and by how much."""
