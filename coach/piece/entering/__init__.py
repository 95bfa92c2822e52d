"""What changes a piece beside its counts, looked at and questioned before it is kept."""
