"""One measurement in words and pictures: decided, fitted, worn, read off a scale or a meter."""
