"""The shop's record: jobs, readings that are never changed, and what was decided from them."""
