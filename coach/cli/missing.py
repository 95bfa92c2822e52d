"""What is said where a project is not found; most calls do without the finding."""


class NoSuchProject(Exception):
    """Neither a file nor a project that comes with the program has that name."""
