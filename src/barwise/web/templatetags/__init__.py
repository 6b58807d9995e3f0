"""What the templates of the bench say in their own words."""
