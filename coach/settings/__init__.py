"""The maker's settings: how the bench is worked, what is heard, how it looks."""
