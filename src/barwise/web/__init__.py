"""The bench in a browser: screens for the shop, served from the shop's own computer."""
