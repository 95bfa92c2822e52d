"""What is heard and kept awake beside the screen: speech through a program of the system."""
