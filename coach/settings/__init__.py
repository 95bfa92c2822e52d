"""The maker's settings: keys, counting, sound, units and looks of the bench."""
