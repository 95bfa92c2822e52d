"""A project made to another size."""
