"""The file formats: winding TOML and readings CSV, read with errors that name the place."""
