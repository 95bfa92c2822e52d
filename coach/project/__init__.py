"""Reading a project file into a frozen model, with every problem in its place."""
